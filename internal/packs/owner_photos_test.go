package packs

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
)

// jpegOf is a plain photograph of so many pixels.
func jpegOf(t testing.TB, wide, high int, k color.Color) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			m.Set(x, y, k)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Photographs that are at hand are printed in their shape, by their numbers; one that is
// missing, is none, or would lie on its side is in the list alone, which is said.
func TestPhotographsArePrintedInTheirShape(t *testing.T) {
	t.Parallel()
	in := provedYard(t)
	files := map[string][]byte{}
	p := *in.Plan
	in.Plan, p.Photos = &p, map[plan.ID]plan.Photo{}
	add := func(id plan.ID, wide, high int, file []byte) {
		sum := strings.Repeat(string(id[len(id)-1]), 64)
		p.Photos[id] = plan.Photo{SHA256: sum, WidthPx: wide, HeightPx: high, On: "2026-05-0" + string(id[len(id)-1]), Caption: "picture " + string(id)}
		if file != nil {
			files[sum] = file
		}
	}
	add("p1", 160, 120, jpegOf(t, 160, 120, color.RGBA{R: 190, G: 140, B: 90, A: 255}))
	add("p2", 90, 160, jpegOf(t, 90, 160, color.RGBA{R: 90, G: 140, B: 90, A: 255}))
	add("p3", 160, 120, nil)
	add("p4", 120, 160, jpegOf(t, 160, 120, color.Black)) // a camera's turn that nobody made
	add("p5", 20, 20, []byte("no photograph"))
	add("p6", 0, 0, jpegOf(t, 50, 50, color.RGBA{B: 120, A: 255}))
	in.Photo = func(sum string) (string, []byte, error) {
		if b, ok := files[sum]; ok {
			return "image/jpeg", b, nil
		}
		return "", nil, errors.New("gone")
	}
	pages := oneSheet(t, in, Owner, Letter, "O10")
	shoot(t, "photos", pages)
	var shapes []float64
	for _, q := range pages {
		for _, item := range q.Items {
			if m, ok := item.(*drawing.Photo); ok {
				shapes = append(shapes, (m.Box.Max[0]-m.Box.Min[0])/(m.Box.Max[1]-m.Box.Min[1]))
				if !q.room.Contains(m.Box.Min) || !q.room.Contains(m.Box.Max) {
					t.Errorf("a picture lies past its page: %v", m.Box)
				}
			}
		}
	}
	if len(shapes) != 3 || !slices.EqualFunc(shapes, []float64{4. / 3, 9. / 16, 1}, func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }) {
		t.Errorf("pictures of the shapes %v are printed", shapes)
	}
	text := writtenOn(pages)
	for _, s := range []string{"No. 1", "No. 2", "No. 6", "picture p4", "3 pictures are not printed here"} {
		if !strings.Contains(text, s) {
			t.Errorf("%q is not said:\n%s", s, text)
		}
	}
	if strings.Contains(text, "No. 4") {
		t.Error("a picture that lies on its side is printed")
	}
}
