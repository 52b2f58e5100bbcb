// Package handover packs a plan with its pictures and papers into one file for the next
// person, and opens such a file. The file is an ordinary ZIP archive (ISO/IEC 21320-1), so
// that whoever has no Evenfall can still look at the papers and photographs:
//
//	READ ME.txt
//	plan.json            the plan, evenfall-plan/1
//	pictures/SHA256.jpg  each picture the plan names, by its checksum; .png likewise
//	papers/NAME          what else was put in, as the owner's book
//
// The same contents make the same bytes.
package handover

import (
	"errors"
	"fmt"
)

// The limits of a file, so that a small hostile one cannot fill memory or disk. Chosen:
// room for every photograph a plan may have (plan.MaxPhotos) at 2 MiB each, to which the
// page scales down what is hardest to press, foliage.
const (
	MaxEntries = 700
	MaxBytes   = 1 << 30  // of all that is in it, unpacked
	MaxPicture = 20 << 20 // of one picture
)

// The places in the archive.
const (
	planName    = "plan.json"
	readMeName  = "READ ME.txt"
	pictureRoot = "pictures/"
	paperRoot   = "papers/"
)

// The kinds of picture, as media types.
const (
	PNG  = "image/png"
	JPEG = "image/jpeg"
)

// File is a paper put in beside the plan.
type File struct {
	Name  string // a plain file name
	Bytes []byte
}

// Pictures answers with a picture by its checksum, ErrNoPicture where there is none.
type Pictures func(sha256 string) (kind string, bytes []byte, err error)

// ErrNoPicture says that a picture is not at hand.
var ErrNoPicture = errors.New("the picture is not at hand")

// Refused says why a file is not one that was handed over, in a sentence.
type Refused struct{ Sentence string }

func (e *Refused) Error() string { return e.Sentence }

func refuse(format string, args ...any) error {
	return &Refused{fmt.Sprintf(format, args...)}
}
