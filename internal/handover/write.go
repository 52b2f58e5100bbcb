package handover

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"evenfall/internal/plan"
)

// Write packs the plan, the pictures it names and the papers. Pictures that are not at
// hand are left out, named in the file's READ ME and returned. The error is the context's,
// the writer's or a picture's.
func Write(ctx context.Context, w io.Writer, p *plan.Plan, pictures Pictures, papers []File) (missing []string, err error) {
	z := zip.NewWriter(w)
	var found []string
	// The pictures go first and READ ME last: it says what there is.
	for _, sum := range p.Pictures() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		kind, b, err := pictures(sum)
		if errors.Is(err, ErrNoPicture) {
			missing = append(missing, sum)
			continue
		}
		if err != nil {
			return nil, err
		}
		if _, err := endingOf(kind); err != nil {
			return nil, err
		}
		if got := checksum(b); got != sum {
			return nil, fmt.Errorf("the picture %s was kept under another checksum: it is %s", sum[:8], got[:8])
		}
		found = append(found, sum)
		if err := put(z, pictureRoot+PictureName(sum, kind), zip.Store, b); err != nil {
			return nil, err
		}
	}
	if err := put(z, planName, zip.Deflate, p.Encode()); err != nil {
		return nil, err
	}
	papers = slices.Clone(papers)
	slices.SortFunc(papers, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	for _, f := range papers {
		if f.Name == "" || strings.ContainsAny(f.Name, `/\`) {
			return nil, fmt.Errorf("a paper is named %q, which is no plain file name", f.Name)
		}
		if err := put(z, paperRoot+f.Name, zip.Deflate, f.Bytes); err != nil {
			return nil, err
		}
	}
	if err := put(z, readMeName, zip.Deflate, []byte(readMe(p, len(found), missing, papers))); err != nil {
		return nil, err
	}
	return missing, z.Close()
}

// packed is the date every entry bears: the first that the format can write. A real one
// would make other bytes of the same plan.
var packed = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

func put(z *zip.Writer, name string, method uint16, b []byte) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: packed})
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

func checksum(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// PictureName is the plain file name of a picture. It panics on a kind that is not kept.
func PictureName(sum, kind string) string {
	ending, err := endingOf(kind)
	if err != nil {
		panic("handover: " + err.Error())
	}
	return sum + ending
}

func endingOf(kind string) (string, error) {
	switch kind {
	case PNG:
		return ".png", nil
	case JPEG:
		return ".jpg", nil
	}
	return "", fmt.Errorf("a picture is of the kind %q, and only %s and %s are kept", kind, PNG, JPEG)
}

// readMe says what is in the file to whoever opens it by hand.
func readMe(p *plan.Plan, pictures int, missing []string, papers []File) string {
	var b strings.Builder
	name := strings.TrimSpace(p.Name)
	if name == "" {
		name = "a plan without a name"
	}
	fmt.Fprintf(&b, "The sprinkler system of %s, handed over as one file.\r\n\r\n", name)
	b.WriteString("plan.json   The plan itself. Evenfall opens this whole file from its list of plans\r\n" +
		"            (\"Open a plan handed over\"); do not unpack it for that.\r\n")
	if pictures > 0 {
		fmt.Fprintf(&b, "pictures    %s, under the checksums by which the plan names them.\r\n", plan.Plural(pictures, "picture", "pictures"))
	}
	for _, f := range papers {
		fmt.Fprintf(&b, "papers      %s\r\n", f.Name)
	}
	if len(missing) > 0 {
		fmt.Fprintf(&b, "\r\nNot in the file, since they could not be found when it was made: %s.\r\n", plan.Plural(len(missing), "picture", "pictures"))
	}
	b.WriteString("\r\nBefore anybody digs: have buried lines located and marked. Backflow devices are tested\r\n" +
		"by who is licensed to. Local code decides.\r\n")
	return b.String()
}
