package handover

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"evenfall/internal/plan"
)

// Opened is a file that was handed over, opened. Its pictures are read one at a time, by
// one goroutine.
type Opened struct {
	Plan  *plan.Plan
	Notes []string // what was passed over or is missing, in sentences

	pictures map[string]*zip.File
	kinds    map[string]string
	left     int64 // bytes that may still be unpacked
}

// Open opens a file. The error is a *Refused, or the plan's own problem, in a sentence; or
// the reader's.
func Open(r io.ReaderAt, size int64) (*Opened, error) {
	z, err := directory(r, size)
	if errors.Is(err, errDirectory) {
		return nil, refuse("The list of what is in the file is too long: there are at most %d things in one. It was not made by handing a plan over.", MaxEntries)
	}
	if err != nil {
		return nil, refuse("This is not a plan that was handed over: it is no ZIP file, or it was cut off. Choose the file that Evenfall made.")
	}
	if len(z.File) > MaxEntries {
		return nil, refuse("The file has %d things in it; the most is %d. It was not made by handing a plan over.", len(z.File), MaxEntries)
	}
	o := &Opened{pictures: map[string]*zip.File{}, kinds: map[string]string{}, left: MaxBytes}
	var doc *zip.File
	strange := 0
	for _, f := range z.File {
		switch name := f.Name; {
		case name == planName && doc != nil:
			return nil, refuse("The file has two plans in it (plan.json). It was not made by handing a plan over.")
		case name == planName:
			doc = f
		case name == readMeName, strings.HasPrefix(name, paperRoot):
		default:
			sum, kind := pictureName(name)
			if sum == "" {
				strange++
				continue
			}
			if o.pictures[sum] != nil {
				return nil, refuse("The file has the picture %s… twice. It was not made by handing a plan over.", sum[:8])
			}
			o.pictures[sum], o.kinds[sum] = f, kind
		}
	}
	if doc == nil {
		return nil, refuse("There is no plan in the file: plan.json is missing. Choose the file that Evenfall made, as it was made.")
	}
	text, err := o.unpack(doc, plan.MaxBytes, "The plan in it")
	if err != nil {
		return nil, err
	}
	if o.Plan, err = plan.Decode(text); err != nil {
		return nil, err
	}
	o.look(strange)
	return o, nil
}

// mostDirectory is how many bytes are read to know what is in a file: its end, which is
// looked for in the last 66 KB, and an entry of each thing, some 160 bytes here. Chosen,
// with room for what others write into one.
const mostDirectory = 1 << 20

var errDirectory = errors.New("the directory is too long")

// directory reads what is in an archive. The reader of the standard library keeps each
// entry, a few hundred bytes, before anybody can count them: of a file of nothing else
// they would fill the memory.
func directory(r io.ReaderAt, size int64) (*zip.Reader, error) {
	b := &bounded{ReaderAt: r, left: mostDirectory}
	z, err := zip.NewReader(b, size)
	b.left = math.MaxInt64 // what is in it has limits of its own
	return z, err
}

// bounded is a reader of so many bytes.
type bounded struct {
	io.ReaderAt
	left int64
}

func (b *bounded) ReadAt(p []byte, at int64) (int, error) {
	if b.left < int64(len(p)) {
		return 0, errDirectory
	}
	b.left -= int64(len(p))
	return b.ReaderAt.ReadAt(p, at)
}

// look notes what is missing and what is too much.
func (o *Opened) look(strange int) {
	named := map[string]bool{}
	missing := 0
	for _, sum := range o.Plan.Pictures() {
		if named[sum] = true; o.pictures[sum] == nil {
			missing++
		}
	}
	if missing > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("%s of the plan %s not in the file.", plan.Plural(missing, "picture", "pictures"), plan.Choose(missing, "is", "are")))
	}
	over := strange
	for sum := range o.pictures {
		if !named[sum] {
			delete(o.pictures, sum)
			over++
		}
	}
	if over > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("%s in the file %s nothing of the plan and was passed over.", plan.Plural(over, "thing", "things"), plan.Choose(over, "is", "are")))
	}
}

// Picture reads a picture of the plan by its checksum: ErrNoPicture where it is not in the
// file, a *Refused where it is not what its name says.
func (o *Opened) Picture(sum string) (kind string, b []byte, err error) {
	f := o.pictures[sum]
	if f == nil {
		return "", nil, ErrNoPicture
	}
	if b, err = o.unpack(f, MaxPicture, "The picture "+sum[:8]+"…"); err != nil {
		return "", nil, err
	}
	if checksum(b) != sum {
		return "", nil, refuse("The picture %s… is not the one the plan names: the file was changed or damaged. Have it handed over again.", sum[:8])
	}
	return o.kinds[sum], b, nil
}

// unpack reads an entry, at most so many bytes of it, whatever its header promises.
func (o *Opened) unpack(f *zip.File, most int64, what string) ([]byte, error) {
	if o.left < most {
		most = o.left
	}
	r, err := f.Open()
	if err != nil {
		return nil, refuse("%s cannot be unpacked (%v). Have it handed over again.", what, err)
	}
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if closed := r.Close(); err == nil {
		err = closed
	}
	switch {
	case int64(len(b)) > most:
		return nil, refuse("%s is larger than Evenfall takes. It was not made by handing a plan over.", what)
	case errors.Is(err, zip.ErrChecksum), errors.Is(err, io.ErrUnexpectedEOF):
		return nil, refuse("%s is damaged. Have it handed over again.", what)
	case err != nil:
		return nil, refuse("%s cannot be unpacked (%v). Have it handed over again.", what, err)
	}
	o.left -= int64(len(b))
	return b, nil
}

// pictureName reads the name of an entry as that of a picture; sum is "" where it is none.
func pictureName(name string) (sum, kind string) {
	base, ok := strings.CutPrefix(name, pictureRoot)
	if !ok {
		return "", ""
	}
	sum, kind = base, ""
	if rest, ok := strings.CutSuffix(base, ".png"); ok {
		sum, kind = rest, PNG
	} else if rest, ok := strings.CutSuffix(base, ".jpg"); ok {
		sum, kind = rest, JPEG
	}
	if kind == "" || len(sum) != 64 || strings.Trim(sum, "0123456789abcdef") != "" {
		return "", ""
	}
	return sum, kind
}
