package drawing

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// taken is a photograph of so many pixels, red at the left and blue at the right, darker
// below.
func taken(t testing.TB, wide, high int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			k := color.RGBA{R: 255, A: 255}
			if x >= wide/2 {
				k = color.RGBA{B: 255, A: 255}
			}
			if y >= high/2 {
				k.R, k.B = k.R/2, k.B/2
			}
			m.Set(x, y, k)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A photograph fills its box, the right way up, and its file stands in PDF and SVG as it
// was taken.
func TestPhotographsAreDrawnAsTheirFilesHaveThem(t *testing.T) {
	t.Parallel()
	file := taken(t, 80, 64)
	if w, h, err := PhotoSize(file); w != 80 || h != 64 || err != nil {
		t.Errorf("it has %d × %d pixels, %v", w, h, err)
	}
	page := Page{Width: 200, Height: 150, Items: []Item{&Photo{Box: orb.Bound{Min: orb.Point{20, 30}, Max: orb.Point{180, 110}}, JPEG: file}}}
	m := shown(t, &Document{Pages: []Page{page}})
	for _, c := range []struct {
		what    string
		x, y    int // y up
		r, g, b float64
	}{
		{"upper left", 40, 100, 255, 0, 0}, {"upper right", 160, 100, 0, 0, 255}, {"lower left", 40, 40, 127, 0, 0}, {"lower right", 160, 40, 0, 0, 127},
		{"past its box", 10, 70, 255, 255, 255}, {"above it", 100, 120, 255, 255, 255},
	} {
		r, g, b, _ := m.At(c.x, 149-c.y).RGBA()
		if far := math.Abs(float64(r>>8)-c.r) + math.Abs(float64(g>>8)-c.g) + math.Abs(float64(b>>8)-c.b); far > 24 {
			t.Errorf("%s is %d %d %d", c.what, r>>8, g>>8, b>>8)
		}
	}
	var pdf, svg bytes.Buffer
	if err := WritePDF(&pdf, &Document{Pages: []Page{page}}, ""); err != nil || !bytes.Contains(pdf.Bytes(), file) {
		t.Errorf("the file does not stand in the PDF: %v", err)
	}
	if err := WriteSVG(&svg, &page); err != nil || !strings.Contains(svg.String(), "data:image/jpeg;base64,"+base64.StdEncoding.EncodeToString(file)) {
		t.Errorf("the file does not stand in the SVG: %v", err)
	}
}

// What is no photograph is refused in words before anything is written.
func TestWhatIsNoPhotographIsRefused(t *testing.T) {
	t.Parallel()
	var other bytes.Buffer
	if err := png.Encode(&other, image.NewGray(image.Rect(0, 0, 3, 3))); err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for _, c := range []struct {
		photo *Photo
		says  string
	}{
		{&Photo{}, "no photograph"}, {&Photo{JPEG: []byte("GIF89a")}, "no photograph"}, {&Photo{JPEG: other.Bytes()}, "no photograph"}, {&Photo{JPEG: taken(t, 8, 8)[:40]}, "no photograph"},
		{&Photo{JPEG: taken(t, 8, 8), Box: orb.Bound{Max: orb.Point{nan, 1}}}, "a photograph has a place"},
	} {
		var b bytes.Buffer
		err := WritePDF(&b, &Document{Pages: []Page{{Width: 9, Height: 9, Items: []Item{c.photo}}}}, "")
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.20q: %v, want %q", c.photo.JPEG, err, c.says)
		}
	}
}

// FuzzPhoto: whatever is taken for a photograph goes into a PDF that is whole.
func FuzzPhoto(f *testing.F) {
	f.Add(taken(f, 8, 6))
	f.Add(taken(f, 1, 1)[:60])
	f.Add([]byte("\xff\xd8\xff\xc0\x00\x11\x08\x00\x01\x00\x01\x03\x01\x11\x00\x02\x11\x00\x03\x11\x00"))
	f.Fuzz(func(t *testing.T, file []byte) {
		if _, _, err := PhotoSize(file); err != nil {
			return
		}
		var b bytes.Buffer
		d := &Document{Pages: []Page{{Width: 90, Height: 90, Items: []Item{&Photo{Box: orb.Bound{Max: orb.Point{9, 9}}, JPEG: file}}}}}
		if err := WritePDF(&b, d, ""); err != nil {
			t.Fatalf("taken for a photograph, and %v", err)
		}
	})
}
