package handover_test

import (
	"archive/zip"
	"bytes"
	"cmp"
	"compress/flate"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/handover"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// sumOf is the name a picture is kept under.
func sumOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// drawn is a plan with a picture under it and photographs, and what is kept of them.
func drawn(n int) (*plan.Plan, map[string][]byte) {
	p := plan.Empty("Corner lot", units.US)
	kept := map[string][]byte{}
	p.Photos = map[plan.ID]plan.Photo{}
	for i := range n {
		b := []byte(strings.Repeat(fmt.Sprintf("photograph %d ", i), 50))
		kept[sumOf(b)] = b
		p.Photos[plan.ID(fmt.Sprintf("f%d", i+1))] = plan.Photo{SHA256: sumOf(b), Caption: "box"}
	}
	under := []byte("a site plan")
	kept[sumOf(under)] = under
	p.Underlay = &plan.Underlay{SHA256: sumOf(under), FtPerPx: 0.1, Opacity: 1}
	return p, kept
}

func from(kept map[string][]byte) handover.Pictures {
	return func(sum string) (string, []byte, error) {
		b, ok := kept[sum]
		if !ok {
			return "", nil, handover.ErrNoPicture
		}
		if string(b) == "a site plan" {
			return handover.PNG, b, nil
		}
		return handover.JPEG, b, nil
	}
}

func written(t *testing.T, p *plan.Plan, kept map[string][]byte, papers ...handover.File) []byte {
	t.Helper()
	var b bytes.Buffer
	if _, err := handover.Write(context.Background(), &b, p, from(kept), papers); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func opened(b []byte) (*handover.Opened, error) {
	return handover.Open(bytes.NewReader(b), int64(len(b)))
}

func TestWhatIsHandedOverComesBackWhole(t *testing.T) {
	t.Parallel()
	p, kept := drawn(5)
	b := written(t, p, kept, handover.File{Name: "book.pdf", Bytes: []byte("%PDF")})
	o, err := opened(b)
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Notes) > 0 {
		t.Errorf("notes of a whole file: %q", o.Notes)
	}
	if !bytes.Equal(o.Plan.Encode(), p.Encode()) {
		t.Error("another plan came back")
	}
	for _, sum := range p.Pictures() {
		kind, got, err := o.Picture(sum)
		if want, _, _ := from(kept)(sum); err != nil || !bytes.Equal(got, kept[sum]) || kind != want {
			t.Errorf("picture %s came back as %q of kind %s, %v", sum[:8], got, kind, err)
		}
	}
	if !bytes.Equal(b, written(t, p, kept, handover.File{Name: "book.pdf", Bytes: []byte("%PDF")})) {
		t.Error("the same contents made other bytes")
	}
}

// An ordinary reader of archives finds the same, so that nobody needs Evenfall to look at
// the papers and photographs.
func TestTheFileIsAnOrdinaryArchive(t *testing.T) {
	t.Parallel()
	p, kept := drawn(2)
	b := written(t, p, kept, handover.File{Name: "book.pdf", Bytes: []byte("%PDF")})
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	said := ""
	for _, f := range z.File {
		names = append(names, f.Name)
		if f.Name == "READ ME.txt" {
			r, err := f.Open()
			if err != nil {
				t.Fatal(err)
			}
			text, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			said = string(text)
		}
	}
	for _, want := range []string{"plan.json", "READ ME.txt", "papers/book.pdf"} {
		if !slices.Contains(names, want) {
			t.Errorf("there is no %s among %q", want, names)
		}
	}
	for _, want := range []string{"Corner lot", "3 pictures", "book.pdf", "buried lines located"} {
		if !strings.Contains(said, want) {
			t.Errorf("READ ME lacks %q:\n%s", want, said)
		}
	}
}

func TestAPictureThatIsNotAtHandIsNamed(t *testing.T) {
	t.Parallel()
	p, kept := drawn(3)
	gone := p.Pictures()[1]
	delete(kept, gone)
	var b bytes.Buffer
	missing, err := handover.Write(context.Background(), &b, p, from(kept), nil)
	if err != nil || !slices.Equal(missing, []string{gone}) {
		t.Fatalf("missing %q, %v", missing, err)
	}
	o, err := opened(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Notes) != 1 || !strings.Contains(o.Notes[0], "1 picture of the plan is not in the file") {
		t.Errorf("notes %q", o.Notes)
	}
	if _, _, err := o.Picture(gone); !errors.Is(err, handover.ErrNoPicture) {
		t.Errorf("the picture that is not there: %v", err)
	}
}

func TestWritingStopsAtWhatIsWrong(t *testing.T) {
	t.Parallel()
	p, kept := drawn(1)
	fails := errors.New("disk")
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for name, try := range map[string]func() error{
		"the picture cannot be read": func() error {
			_, err := handover.Write(context.Background(), io.Discard, p, func(string) (string, []byte, error) { return "", nil, fails }, nil)
			return err
		},
		"the picture is another": func() error {
			_, err := handover.Write(context.Background(), io.Discard, p, func(string) (string, []byte, error) { return handover.PNG, []byte("x"), nil }, nil)
			return err
		},
		"the picture is of no kind": func() error {
			_, err := handover.Write(context.Background(), io.Discard, p, func(s string) (string, []byte, error) { return "image/gif", kept[s], nil }, nil)
			return err
		},
		"the paper is a path": func() error {
			_, err := handover.Write(context.Background(), io.Discard, p, from(kept), []handover.File{{Name: "../x.pdf"}})
			return err
		},
		"it was stopped": func() error {
			_, err := handover.Write(stopped, io.Discard, p, from(kept), nil)
			return err
		},
	} {
		if try() == nil {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

// entry is one thing of an archive made by hand.
type entry struct {
	name string
	body []byte
}

func archive(t testing.TB, entries ...entry) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		w, err := z.Create(e.name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(e.body); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFilesThatWereNotHandedOverAreRefused(t *testing.T) {
	t.Parallel()
	p, kept := drawn(1)
	doc := p.Encode()
	whole := written(t, p, kept)
	many := make([]entry, handover.MaxEntries+1)
	for i := range many {
		many[i] = entry{fmt.Sprintf("x%d", i), nil}
	}
	// Its directory alone would fill the memory, were there enough of it.
	endless := slices.Repeat([]entry{{"x", nil}}, 30_000)
	a := strings.Repeat("a", 64)
	for _, test := range []struct {
		name, want string
		file       []byte
	}{
		{"nothing", "no ZIP file", nil},
		{"no archive", "no ZIP file", []byte("a letter")},
		{"cut off", "no ZIP file", whole[:len(whole)/2]},
		{"no plan", "plan.json is missing", archive(t, entry{"READ ME.txt", nil})},
		{"two plans", "two plans", archive(t, entry{"plan.json", doc}, entry{"plan.json", doc})},
		{"a plan elsewhere", "plan.json is missing", archive(t, entry{"../plan.json", doc})},
		{"a bad plan", "ends too early", archive(t, entry{"plan.json", doc[:40]})},
		{"a picture twice", "twice", archive(t, entry{"plan.json", doc}, entry{"pictures/" + a + ".png", nil}, entry{"pictures/" + a + ".jpg", nil})},
		{"too many things", "the most is", archive(t, many...)},
		{"nothing but things", "too long", archive(t, append(endless, entry{"plan.json", doc})...)},
		{"a plan that unpacks without end", "larger than Evenfall takes", archive(t, entry{"plan.json", bytes.Repeat([]byte(" "), plan.MaxBytes+1)})},
	} {
		_, err := opened(test.file)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
}

func TestAPictureThatWasChangedIsRefused(t *testing.T) {
	t.Parallel()
	p, _ := drawn(2)
	sums := p.Pictures()
	o, err := opened(archive(t, entry{"plan.json", p.Encode()},
		entry{"pictures/" + sums[0] + ".jpg", []byte("another")},
		entry{"pictures/" + sums[1] + ".jpg", make([]byte, handover.MaxPicture+1)},
		entry{"pictures/" + strings.Repeat("0", 64) + ".jpg", []byte("of nobody")},
		entry{"virus.exe", nil}))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"not the one the plan names", "larger than"} {
		var no *handover.Refused
		if _, _, err := o.Picture(sums[i]); !errors.As(err, &no) || !strings.Contains(err.Error(), want) {
			t.Errorf("picture %d: %v, want %q", i, err, want)
		}
	}
	said := strings.Join(o.Notes, " ")
	for _, want := range []string{"1 picture of the plan is not", "2 things in the file are nothing of the plan"} {
		if !strings.Contains(said, want) {
			t.Errorf("notes %q lack %q", said, want)
		}
	}
}

// All pictures together unpack to no more than the limit, whatever each is.
func TestTheWholeIsLimitedToo(t *testing.T) {
	if testing.Short() {
		t.Skip("it unpacks a gigabyte")
	}
	t.Parallel()
	// One picture, pressed once and put in under many checksums: only one of them is its own,
	// and yet all are unpacked before that can be known.
	b := make([]byte, handover.MaxPicture)
	var pressed bytes.Buffer
	d, err := flate.NewWriter(&pressed, flate.BestSpeed)
	if err == nil {
		_, err = d.Write(b)
	}
	if err = cmp.Or(err, d.Close()); err != nil {
		t.Fatal(err)
	}
	p := plan.Empty("", units.US)
	p.Photos = map[plan.ID]plan.Photo{}
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for i := range handover.MaxBytes/len(b) + 2 {
		sum := sumOf(fmt.Append(nil, i))
		p.Photos[plan.ID(fmt.Sprintf("f%d", i+1))] = plan.Photo{SHA256: sum}
		w, err := z.CreateRaw(&zip.FileHeader{
			Name: "pictures/" + sum + ".png", Method: zip.Deflate, CRC32: crc32.ChecksumIEEE(b),
			CompressedSize64: uint64(pressed.Len()), UncompressedSize64: uint64(len(b)),
		})
		if err == nil {
			_, err = w.Write(pressed.Bytes())
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	w, err := z.Create("plan.json")
	if err == nil {
		_, err = w.Write(p.Encode())
	}
	if err = cmp.Or(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	o, err := opened(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	unpacked, refused := 0, 0
	for _, sum := range p.Pictures() {
		switch _, _, err := o.Picture(sum); {
		case err == nil:
			t.Fatal("a picture of another checksum is taken")
		case strings.Contains(err.Error(), "not the one the plan names"):
			unpacked++
		case strings.Contains(err.Error(), "larger than"):
			refused++
		default:
			t.Fatal(err)
		}
	}
	if unpacked == 0 || refused == 0 || unpacked*len(b) > handover.MaxBytes {
		t.Errorf("of %d pictures of %d bytes %d are unpacked, %d not", len(p.Photos), len(b), unpacked, refused)
	}
}

// A plan with all the photographs it may have, each as large as the page makes them at the
// most, can be handed over and opened again.
func TestAllPhotographsOfAPlanFit(t *testing.T) {
	t.Parallel()
	const each, papers = 2 << 20, 24 << 20
	if plan.MaxPhotos*each+papers > handover.MaxBytes || plan.MaxPhotos+50 > handover.MaxEntries {
		t.Errorf("%d photographs of %d bytes do not fit into %d", plan.MaxPhotos, each, handover.MaxBytes)
	}
}

func FuzzOpen(f *testing.F) {
	p, kept := drawn(1)
	var b bytes.Buffer
	if _, err := handover.Write(context.Background(), &b, p, from(kept), nil); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(archive(f, entry{"plan.json", p.Encode()}, entry{"pictures/x.png", nil}))
	f.Fuzz(func(t *testing.T, file []byte) {
		o, err := opened(file)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Error("refused without a word")
			}
			return
		}
		for _, sum := range o.Plan.Pictures() {
			if _, b, err := o.Picture(sum); err == nil && sumOf(b) != sum {
				t.Errorf("picture %s is another", sum)
			}
		}
	})
}

func BenchmarkWrite(b *testing.B) {
	p, kept := drawn(100)
	for b.Loop() {
		if _, err := handover.Write(context.Background(), io.Discard, p, from(kept), nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpen(b *testing.B) {
	p, kept := drawn(100)
	var file bytes.Buffer
	if _, err := handover.Write(context.Background(), &file, p, from(kept), nil); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		o, err := opened(file.Bytes())
		if err != nil {
			b.Fatal(err)
		}
		for _, sum := range p.Pictures() {
			if _, _, err := o.Picture(sum); err != nil {
				b.Fatal(err)
			}
		}
	}
}
