package web

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	_ "image/jpeg" // the two kinds of picture that are taken
	_ "image/png"
	"io"
	"mime"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/plan"
)

const (
	pngKind  = "image/png"
	jpegKind = "image/jpeg"
)

// pictureMost is how many bytes a picture may have.
const pictureMost = 20 << 20

// putPicture keeps a picture to trace over, or a photograph, and answers with the name
// it is kept by. It changes no plan: the step that lays it under one, or puts it among
// the photographs, is the page's. Nothing here makes pixels of it: the header says its
// size, and a few kilobytes that would fill the memory are refused by that.
func (s *Site) putPicture(w http.ResponseWriter, r *http.Request) {
	if _, err := s.Plans.Load(r.Context(), chi.URLParam(r, "id")); err != nil {
		s.fail(w, r, err)
		return
	}
	kind, b, err := readPicture(w, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	sum, err := s.Plans.PutBlob(r.Context(), kind, b)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusCreated, map[string]string{"sha256": sum})
}

// readPicture reads the body of a request as a picture of one of our kinds. What
// it says it is and what it is must both be a kind that is taken; what it is
// decides what it is kept and served as.
func readPicture(w http.ResponseWriter, r *http.Request) (kind string, b []byte, err error) {
	if r.ContentLength > pictureMost {
		return "", nil, errPictureLarge
	}
	b, err = io.ReadAll(http.MaxBytesReader(w, r.Body, pictureMost))
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return "", nil, errPictureLarge
	case err != nil:
		return "", nil, err
	case len(b) == 0:
		return "", nil, refuse(http.StatusUnsupportedMediaType, "This file is empty. Choose a PNG or a JPEG.")
	}
	kind = sniff(b)
	if kind != pngKind && kind != jpegKind {
		return "", nil, refuse(http.StatusUnsupportedMediaType, "%s", notTaken(kind))
	}
	said, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || !slices.Contains([]string{pngKind, jpegKind}, said) {
		return "", nil, refuse(http.StatusUnsupportedMediaType, "This address takes %s or %s, and the request says it sends %s.",
			pngKind, jpegKind, orNothing(r.Header.Get("Content-Type")))
	}
	return kind, b, checkPicture(kind, b)
}

var errPictureLarge = refuse(http.StatusRequestEntityTooLarge,
	"This picture is larger than the %d MiB a picture may have. Save it smaller, or as JPEG: 4,000 pixels across are plenty to trace over, 2,000 for a photograph.", pictureMost>>20)

// checkPicture refuses a picture that is too large to show, or not whole.
func checkPicture(kind string, b []byte) error {
	name := map[string]string{pngKind: "PNG", jpegKind: "JPEG"}[kind]
	c, _, err := image.DecodeConfig(bytes.NewReader(b))
	if err != nil || c.Width < 1 || c.Height < 1 {
		return refuse(http.StatusUnprocessableEntity,
			"This %s is damaged, or of a rare sort: its size cannot be read. Open it in another program, save it again as PNG or JPEG and choose the copy.", name)
	}
	// The sides are 32 bits each at most, so their product does not overflow.
	if max(c.Width, c.Height) > plan.MaxPictureSide || int64(c.Width)*int64(c.Height) > plan.MaxPicturePixels {
		return refuse(http.StatusUnprocessableEntity,
			"This picture has %d × %d pixels; it may have up to %d on a side and %d million in all. Save it smaller: 4,000 across are plenty to trace over, 2,000 for a photograph.",
			c.Width, c.Height, plan.MaxPictureSide, plan.MaxPicturePixels/1_000_000)
	}
	if kind == pngKind && !wholePNG(b) || kind == jpegKind && !wholeJPEG(b) {
		return refuse(http.StatusUnprocessableEntity,
			"This %s is not whole: part of the file is missing or was changed. Get a fresh copy, or open it in another program and save it again.", name)
	}
	return nil
}

// pngHead opens every PNG (ISO/IEC 15948, 5.2).
var pngHead = []byte("\x89PNG\r\n\x1a\n")

// wholePNG reports whether the chunks of a PNG are all there, each with its
// checksum right (ISO/IEC 15948, 5.3), up to the one that ends it.
func wholePNG(b []byte) bool {
	b = b[len(pngHead):]
	for len(b) >= 12 {
		n := uint64(binary.BigEndian.Uint32(b))
		if n+12 > uint64(len(b)) {
			return false
		}
		body, sum := b[4:8+n], binary.BigEndian.Uint32(b[8+n:])
		if crc32.ChecksumIEEE(body) != sum {
			return false
		}
		if string(body[:4]) == "IEND" {
			return true
		}
		b = b[12+n:]
	}
	return false
}

// wholeJPEG reports whether a JPEG has the segments up to its pixels, and an end
// after them (ITU-T T.81, B.1). A thumbnail in one of the segments has an end of
// its own, which does not count.
func wholeJPEG(b []byte) bool {
	b = b[2:]
	for len(b) >= 4 && b[0] == 0xff {
		marker := b[1]
		if marker == 0xff { // filling
			b = b[1:]
			continue
		}
		n := 2 + int(binary.BigEndian.Uint16(b[2:]))
		if n > len(b) {
			return false
		}
		if marker == 0xda { // the pixels begin
			return bytes.Contains(b[n:], []byte{0xff, 0xd9})
		}
		b = b[n:]
	}
	return false
}

// sniff returns the media type that the bytes show, whatever they are said to be.
func sniff(b []byte) string {
	switch {
	case bytes.HasPrefix(b, pngHead):
		return pngKind
	case bytes.HasPrefix(b, []byte{0xff, 0xd8, 0xff}):
		return jpegKind
	case len(b) >= 12 && string(b[4:8]) == "ftyp" && slices.Contains([]string{"heic", "heix", "hevc", "mif1", "msf1"}, string(b[8:12])):
		return "image/heic"
	case len(b) >= 12 && string(b[4:8]) == "ftyp" && string(b[8:12]) == "avif":
		return "image/avif"
	case bytes.HasPrefix(b, []byte("II*\x00")), bytes.HasPrefix(b, []byte("MM\x00*")):
		return "image/tiff"
	case bytes.Contains(bytes.ToLower(b[:min(len(b), 4096)]), []byte("<svg")):
		return "image/svg+xml"
	}
	kind, _, _ := strings.Cut(http.DetectContentType(b), ";")
	return kind
}

// notTaken says why a file of a kind is not taken, and what to do instead.
func notTaken(kind string) string {
	switch kind {
	case "application/pdf":
		return "This is a PDF. Export the page as PNG, some 4,000 pixels across, and choose that."
	case "image/svg+xml":
		return "This is an SVG drawing, which may have a program in it, and is not taken. Export it as PNG and choose that."
	}
	if name, ok := strings.CutPrefix(kind, "image/"); ok {
		return "This is a picture of the kind " + strings.ToUpper(name) + ", which is not taken. Save it as PNG or JPEG and choose that."
	}
	return "This is not a picture. Choose a PNG or a JPEG: a photograph, or a page exported as PNG."
}

var digest = regexp.MustCompile(`^[0-9a-f]{64}$`)

// picture hands out a picture. Its type is what its bytes were found to be when
// it was kept, no browser may guess another, and opened by itself it can do
// nothing. Its name is its checksum, so it never changes.
func (s *Site) picture(w http.ResponseWriter, r *http.Request) {
	sum := chi.URLParam(r, "sha")
	if !digest.MatchString(sum) {
		s.fail(w, r, errNoPage)
		return
	}
	kind, b, err := s.Plans.Blob(r.Context(), sum)
	switch {
	case errors.Is(err, plan.ErrNoPicture):
		err = refuse(http.StatusNotFound, "%s", sentence(plan.ErrNoPicture.Error()))
	case errors.Is(err, plan.ErrPictureDamaged):
		err = refuse(http.StatusGone, "%s", sentence(plan.ErrPictureDamaged.Error()))
	case err == nil && kind != pngKind && kind != jpegKind:
		err = errNoPage // kept by another version for another purpose
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Security-Policy", filePolicy)
	h.Set("Cache-Control", "private, max-age=31536000, immutable")
	h.Set("ETag", `"`+sum+`"`)
	h.Set("Content-Length", strconv.Itoa(len(b)))
	s.write(w, r, b)
}
