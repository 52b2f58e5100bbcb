package web

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"net/http"
	"runtime"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// drawn is a small picture with something on it.
func drawn(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		m.Set(x, x%h, color.RGBA{200, uint8(x), 40, 255})
	}
	return m
}

func pngOf(t *testing.T, w, h int) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, drawn(w, h)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func jpegOf(t *testing.T, w, h int) string {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, drawn(w, h), nil); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// chunk is one chunk of a PNG.
func chunk(name string, body []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(append(b, name...), body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// bomb is a PNG of one colour: some kilobytes that would be gigabytes as pixels.
func bomb(t *testing.T, w, h int) string {
	t.Helper()
	head := binary.BigEndian.AppendUint32(nil, uint32(w))
	head = binary.BigEndian.AppendUint32(head, uint32(h))
	head = append(head, 8, 2, 0, 0, 0) // 8 bits of red, green and blue
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	line := make([]byte, 1+3*w)
	for range h {
		if _, err := z.Write(line); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	b := append([]byte(nil), pngHead...)
	b = append(b, chunk("IHDR", head)...)
	b = append(b, chunk("IDAT", packed.Bytes())...)
	return string(append(b, chunk("IEND", nil)...))
}

// headOnly is a PNG of which only the header says a size.
func headOnly(w, h uint32) string {
	head := binary.BigEndian.AppendUint32(nil, w)
	head = binary.BigEndian.AppendUint32(head, h)
	head = append(head, 8, 2, 0, 0, 0)
	b := append(append([]byte(nil), pngHead...), chunk("IHDR", head)...)
	return string(append(append(b, chunk("IDAT", nil)...), chunk("IEND", nil)...))
}

const svgPicture = `<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"><script>document.title = "ran"</script></svg>`

// send sends a file as the page does.
func (f *fixture) send(kind, body string) (status int, sha, says string) {
	f.t.Helper()
	w := f.do("POST", "/api/plans/"+f.plan.ID+"/picture", body, "Content-Type: "+kind)
	var answer struct{ SHA256, Error string }
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
		f.t.Fatalf("%d %s: %v", w.Code, w.Body, err)
	}
	return w.Code, answer.SHA256, answer.Error
}

func TestRowA7_APictureComesBackAsItWasSent(t *testing.T) {
	f := newFixture(t)
	for kind, body := range map[string]string{"image/png": pngOf(t, 40, 30), "image/jpeg": jpegOf(t, 40, 30)} {
		status, sha, says := f.send(kind, body)
		if status != http.StatusCreated || sha != plan.Digest([]byte(body)) {
			t.Fatalf("%s: got %d %s %q", kind, status, sha, says)
		}
		if w := f.do("GET", "/api/pictures/"+sha, ""); w.Code != http.StatusOK || w.Body.String() != body || w.Header().Get("Content-Type") != kind {
			t.Errorf("%s came back as %d %s, %d bytes of %d", kind, w.Code, w.Header().Get("Content-Type"), w.Body.Len(), len(body))
		}
		if w := f.do("HEAD", "/api/pictures/"+sha, ""); w.Code != http.StatusOK || w.Body.Len() != 0 || w.Header().Get("Content-Length") != fmt.Sprint(len(body)) {
			t.Errorf("HEAD of %s: got %d, %d bytes, %v", kind, w.Code, w.Body.Len(), w.Header())
		}
	}
	if got := f.now().Rev; got != 1 {
		t.Errorf("sending a picture brought the plan to revision %d", got)
	}
	f.play(t, []scenario{
		{name: "under no plan", method: "POST", path: "/api/plans/none/picture", header: []string{"Content-Type: image/png"}, body: pngOf(t, 4, 4), status: 404},
		{name: "not here", method: "GET", path: "/api/pictures/" + strings.Repeat("a", 64), status: 404, has: []string{"not on this machine", "choose it again"}},
		{name: "no checksum", method: "GET", path: "/api/pictures/..%2f..%2fevenfall.db", status: 404},
		{name: "short", method: "GET", path: "/api/pictures/abc", status: 404},
		{name: "upper case", method: "GET", path: "/api/pictures/" + strings.Repeat("A", 64), status: 404},
	})
}

func TestRowB8_WhatIsNoPictureToTraceIsRefusedInASentence(t *testing.T) {
	f := newFixture(t)
	whole := pngOf(t, 400, 300)
	flipped := []byte(whole)
	flipped[len(flipped)/2] ^= 1
	photo := jpegOf(t, 400, 300)
	var moving bytes.Buffer
	if err := gif.Encode(&moving, drawn(8, 8), nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, kind, body string
		status           int
		says             string
	}{
		{"a PDF", "application/pdf", "%PDF-1.7\n1 0 obj", 415, "Export the page as PNG"},
		{"a PDF said to be a PNG", "image/png", "%PDF-1.7\n1 0 obj", 415, "Export the page as PNG"},
		{"an SVG", "image/svg+xml", svgPicture, 415, "Export it as PNG"},
		{"an SVG said to be a PNG", "image/png", svgPicture, 415, "SVG drawing"},
		{"an SVG after a comment", "image/png", "<!-- " + strings.Repeat("x", 500) + " --><SVG>", 415, "SVG drawing"},
		{"a GIF", "image/gif", moving.String(), 415, "kind GIF"},
		{"a HEIC of a phone", "application/octet-stream", "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00", 415, "kind HEIC"},
		{"a TIFF", "image/tiff", "II*\x00\x08\x00\x00\x00", 415, "kind TIFF"},
		{"a WebP", "image/webp", "RIFF\x24\x00\x00\x00WEBPVP8 ", 415, "kind WEBP"},
		{"a page", "text/html", "<!DOCTYPE html><script>alert(1)</script>", 415, "not a picture"},
		{"words", "image/png", "this is a picture", 415, "not a picture"},
		{"nothing", "image/png", "", 415, "empty"},
		{"a PNG said to be text", "text/plain", whole, 415, "text/plain"},
		{"a PNG said to be a form", "multipart/form-data; boundary=x", whole, 415, "form-data"},
		{"a PNG without its end", "image/png", whole[:len(whole)-20], 422, "not whole"},
		{"a PNG cut in its header", "image/png", whole[:20], 422, "damaged"},
		{"a PNG with a bit turned", "image/png", string(flipped), 422, "not whole"},
		{"a PNG of a chunk longer than the file", "image/png", whole[:33] + "\xff\xff\xff\xffIDAT", 422, "not whole"},
		{"a JPEG without its end", "image/jpeg", photo[:len(photo)-200], 422, "not whole"},
		{"a JPEG cut in its header", "image/jpeg", photo[:30], 422, "damaged"},
		{"a JPEG of nothing", "image/jpeg", "\xff\xd8\xff", 422, "damaged"},
		{"12,001 pixels on a side", "image/png", headOnly(12_001, 1), 422, "12001 × 1 pixels"},
		{"more than 40 million pixels", "image/png", headOnly(8_000, 5_001), 422, "40 million in all"},
		{"sides that overflow 32 bits", "image/png", headOnly(1<<31-1, 1<<31-1), 422, "damaged"},
		{"no width", "image/png", headOnly(0, 8), 422, "damaged"},
	} {
		t.Run(c.name, func(t *testing.T) {
			status, sha, says := f.send(c.kind, c.body)
			if status != c.status || sha != "" || !strings.Contains(says, c.says) {
				t.Errorf("got %d %q, want %d with %q", status, says, c.status, c.says)
			}
		})
	}
	for name, body := range map[string]string{
		"12,000 on a side": headOnly(12_000, 3_333), "40 million": headOnly(8_000, 5_000), "bytes after the end": whole + "<script>alert(1)</script>",
	} {
		if status, _, says := f.send("image/png", body); status != http.StatusCreated {
			t.Errorf("%s: got %d %q, want it taken", name, status, says)
		}
	}
}

func TestRowB8_APictureLargerThan20MiBIsRefused(t *testing.T) {
	f := newFixture(t)
	// A PNG may have a chunk of anything; this one makes it as large as is taken.
	whole := pngOf(t, 8, 8)
	filling := func(size int) string {
		end := len(whole) - 12
		return whole[:end] + string(chunk("teSt", make([]byte, size-len(whole)-12))) + whole[end:]
	}
	if status, _, says := f.send("image/png", filling(20<<20)); status != http.StatusCreated {
		t.Errorf("of 20 MiB: got %d %q, want it taken", status, says)
	}
	status, _, says := f.send("image/png", filling(20<<20+1))
	if status != http.StatusRequestEntityTooLarge || !strings.Contains(says, "20 MiB") || !strings.Contains(says, "Save it smaller") {
		t.Errorf("of a byte more: got %d %q", status, says)
	}
	// The same when the size is not said beforehand.
	r, err := http.NewRequest("POST", "http://"+testHost+"/api/plans/"+f.plan.ID+"/picture", struct{ *strings.Reader }{strings.NewReader(filling(20<<20 + 1))})
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "image/png")
	r.ContentLength = -1
	_, _, err = readPicture(nil, r)
	if err != errPictureLarge {
		t.Errorf("of a byte more, its size not said: got %v", err)
	}
}

// The bomb of editor.md row B8: 400 million pixels in some hundred kilobytes.
func TestRowB8_ABombIsRefusedByItsHeader(t *testing.T) {
	f := newFixture(t)
	b := bomb(t, 20_000, 20_000)
	if len(b) > 2<<20 {
		t.Fatalf("the bomb has %d bytes", len(b))
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	status, _, says := f.send("image/png", b)
	runtime.ReadMemStats(&after)
	if status != http.StatusUnprocessableEntity || !strings.Contains(says, "20000 × 20000") {
		t.Errorf("got %d %q", status, says)
	}
	if used := int64(after.TotalAlloc - before.TotalAlloc); used > 16<<20 {
		t.Errorf("refusing it took %d MiB of memory; its pixels would take 1,144", used>>20)
	}
}

func TestRowB7_APictureOpenedByItselfCanDoNothing(t *testing.T) {
	f := newFixture(t)
	polyglots := map[string]string{
		"a PNG with a page after it":   pngOf(t, 8, 8) + "<!DOCTYPE html><script>document.title = 'ran'</script>",
		"a PNG with a drawing in it":   pngOf(t, 8, 8) + svgPicture,
		"a PNG with a program in text": withText(t, "<svg onload=alert(1)><script>alert(1)</script>"),
		"a JPEG with a page after it":  jpegOf(t, 8, 8) + "<html><script>alert(1)</script>",
		"a JPEG with a page before":    withComment(t, "*/<html><script>alert(1)</script>"),
	}
	for name, body := range polyglots {
		t.Run(name, func(t *testing.T) {
			kind := sniff([]byte(body))
			status, sha, says := f.send("image/png", body) // whatever it is said to be
			if status != http.StatusCreated {
				t.Fatalf("got %d %q", status, says)
			}
			w := f.do("GET", "/api/pictures/"+sha, "", "Accept: text/html,image/svg+xml", "Sec-Fetch-Dest: document", "Sec-Fetch-Site: none")
			for header, want := range map[string]string{
				"Content-Type": kind, "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "default-src 'none'; sandbox",
				"Cross-Origin-Resource-Policy": "same-origin", "Cache-Control": "private, max-age=31536000, immutable",
			} {
				if got := w.Header().Get(header); got != want {
					t.Errorf("%s: got %q, want %q", header, got, want)
				}
			}
			if kind != pngKind && kind != jpegKind {
				t.Errorf("its kind is %s", kind)
			}
		})
	}
	// No other site may have it, nor ask whether it is here.
	_, sha, _ := f.send("image/png", pngOf(t, 8, 8))
	f.play(t, []scenario{
		{name: "shown by another site", method: "GET", path: "/api/pictures/" + sha, header: []string{"Sec-Fetch-Site: cross-site", "Sec-Fetch-Dest: image"}, status: 403},
		{name: "sent by another site", method: "POST", path: "/api/plans/PLAN/picture", header: []string{"Content-Type: image/png", "Sec-Fetch-Site: cross-site"}, body: pngOf(t, 4, 4), status: 403},
	})
}

// withText is a PNG with a text chunk.
func withText(t *testing.T, text string) string {
	t.Helper()
	whole := pngOf(t, 8, 8)
	const afterHeader = 8 + 25
	return whole[:afterHeader] + string(chunk("tEXt", []byte("Comment\x00"+text))) + whole[afterHeader:]
}

// withComment is a JPEG with a comment segment before everything else.
func withComment(t *testing.T, text string) string {
	t.Helper()
	whole := jpegOf(t, 8, 8)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xfe}, uint16(2+len(text)))
	return whole[:2] + string(segment) + text + whole[2:]
}
