package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// someDocument shows every kind of item, in a view and out of it.
func someDocument() *Document {
	black := Pen{Ink: Black, Width: 1}
	dashed := Pen{Ink: RGB(0x0050a0), Width: 0.7, Dash: []float64{6, 3}}
	inView := []Item{
		&Layer{Name: "Ground", Items: []Item{
			&Area{Pen: black, Fill: RGB(0xe8f2e0), Hatch: &Hatch{Pen: Pen{Ink: Grey, Width: 0.4}, Deg: 45, Every: 5},
				Rings: [][]orb.Point{{{0, 0}, {40, 0}, {40, 30}, {0, 30}}, {{10, 10}, {20, 10}, {20, 20}, {10, 20}}}},
		}},
		&Layer{Name: "Heads", Items: []Item{
			&Arc{Pen: dashed, Centre: orb.Point{5, 5}, Radius: 12, FromDeg: 0, SweepDeg: 90},
			&Arc{Pen: black, Fill: White, Centre: orb.Point{5, 5}, Radius: 4, SweepDeg: 360, OnPaper: true},
			&Text{At: orb.Point{5, 5}, Size: 8, Halo: true, Bold: true, S: "H1 Größe"},
		}},
		&Line{Pen: dashed, Points: []orb.Point{{-50, 15}, {90, 15}}},
	}
	return &Document{Title: "A yard", Subject: "Crew pack", Pages: []Page{
		{Name: "C1 Everything", Width: 792, Height: 612, Items: []Item{
			&Text{At: orb.Point{36, 570}, Size: 14, Bold: true, S: `Everything (once) \ & <more>`},
			&View{Box: orb.Bound{Min: orb.Point{36, 90}, Max: orb.Point{500, 550}}, Middle: orb.Point{20, 15}, PerFoot: 7.2, Items: inView},
			&Text{At: orb.Point{600, 300}, Size: 10, Anchor: Middle, TurnDeg: 90, Italic: true, S: "turned about its middle"},
			&Text{At: orb.Point{756, 60}, Size: 10, Anchor: End, S: "to the right ½ 90° ≥ 3″"},
			&Image{Box: orb.Bound{Min: orb.Point{520, 400}, Max: orb.Point{760, 540}}, Columns: 3, Rows: 2,
				Inks: []Ink{0, RGB(0xff0000), RGB(0x0000ff)}, Cells: []byte{0, 1, 2, 1, 2, 0}},
		}},
		{Name: "C2 Nothing", Width: 612, Height: 792},
	}}
}

func TestPDFRepeatsItself(t *testing.T) {
	t.Parallel()
	var first, second bytes.Buffer
	for _, w := range []*bytes.Buffer{&first, &second} {
		if err := WritePDF(w, someDocument(), "2026-05-01"); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two runs give other bytes")
	}
	if !bytes.Contains(first.Bytes(), []byte("/PrintScaling /None")) {
		t.Error("the file does not ask to be printed at its size")
	}
	// The day is the one that was asked for, and the machine's is nowhere in the file.
	for _, want := range []string{"/CreationDate (D:20260501", "/ModDate (D:20260501"} {
		if !bytes.Contains(first.Bytes(), []byte(want)) {
			t.Errorf("the file does not say %s", want)
		}
	}
}

// shown is what another program makes of a page, a pixel a point.
func shown(t *testing.T, d *Document) image.Image {
	t.Helper()
	dir := t.TempDir()
	var b bytes.Buffer
	if err := WritePDF(&b, d, ""); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "a.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftoppm", "-r", "72", "-png", "-singlefile", file, filepath.Join(dir, "a")).CombinedOutput()
	if err != nil || len(out) > 0 {
		t.Fatalf("%v: %s (go run ./cmd/dev test -only install brings it)", err, out)
	}
	f, err := os.Open(filepath.Join(dir, "a.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Another program paints what the list says: inside a view and not past its box, holes
// left open, pictures without smoothing, what draws nothing not at all.
func TestPDFIsPaintedAsDrawn(t *testing.T) {
	t.Parallel()
	wide := Pen{Ink: RGB(0x0000ff), Width: 6}
	m := shown(t, &Document{Pages: []Page{{Width: 300, Height: 200, Items: []Item{
		&View{Box: orb.Bound{Min: orb.Point{10, 10}, Max: orb.Point{110, 110}}, Middle: orb.Point{1000, 2000}, PerFoot: 5, Items: []Item{
			&Line{Pen: wide, Points: []orb.Point{{900, 2000}, {1100, 2000}}},
			&Line{Pen: wide, Points: []orb.Point{{1011, 1900}, {1011, 2100}}}, // past the box
			&Area{Fill: RGB(0xff0000), Rings: [][]orb.Point{{{992, 2002}, {1000, 2002}, {1000, 2009}, {992, 2009}}, {{994, 2004}, {998, 2004}, {998, 2007}, {994, 2007}}}},
		}},
		&Image{Box: orb.Bound{Min: orb.Point{150, 100}, Max: orb.Point{210, 160}}, Columns: 3, Rows: 2, Inks: []Ink{0, RGB(0xff0000), RGB(0x00ff00)}, Cells: []byte{0, 1, 2, 2, 1, 0}},
		&Arc{Fill: RGB(0xff00ff), Centre: orb.Point{250, 50}, Radius: 20, SweepDeg: 360},
		&Arc{Pen: wide, Fill: RGB(0xff00ff), Centre: orb.Point{180, 50}, Radius: 20, FromDeg: 0, SweepDeg: 90},
		&Layer{Name: "A", Items: []Item{&Layer{Name: "B", Items: []Item{&Line{Pen: Pen{Ink: RGB(0x00ff00), Width: 4}, Points: []orb.Point{{150, 180}, {290, 180}}}}}}},
		&Line{Pen: Pen{Width: 9}, Points: []orb.Point{{0, 190}, {300, 190}}},
	}}}})
	for _, c := range []struct {
		what string
		x, y int // y up
		want uint32
	}{
		{"a line in a view", 60, 60, 0x0000ff}, {"the same past the box", 130, 60, 0xffffff}, {"left of the box", 5, 60, 0xffffff},
		{"a line past the box", 115, 80, 0xffffff}, {"an area", 23, 73, 0xff0000}, {"its hole", 40, 87, 0xffffff},
		{"an empty cell", 160, 145, 0xffffff}, {"the next", 180, 145, 0xff0000}, {"the last above", 200, 145, 0x00ff00}, {"the first below", 160, 110, 0x00ff00}, {"the last below", 200, 110, 0xffffff},
		{"right at a cell's edge", 171, 131, 0xff0000},
		{"a whole circle", 250, 50, 0xff00ff}, {"the arc's middle", 180 + 14, 50 + 14, 0x0000ff}, {"where it does not go", 180 - 14, 50 + 14, 0xffffff}, {"in its corner", 184, 54, 0xffffff},
		{"layers in layers", 200, 180, 0x00ff00}, {"a pen of no ink", 100, 190, 0xffffff},
	} {
		r, g, b, _ := m.At(c.x, 199-c.y).RGBA()
		got := color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255}
		want := color.RGBA{uint8(c.want >> 16), uint8(c.want >> 8), uint8(c.want), 255}
		if got != want {
			t.Errorf("%s (%d, %d) is %v, want %v", c.what, c.x, c.y, got, want)
		}
	}
}

// What cannot be drawn is refused by every writer, by the page and what it is.
func TestWritersSayWhatCannotBeDrawn(t *testing.T) {
	t.Parallel()
	nan, pen := math.NaN(), Pen{Ink: Black, Width: 1}
	view := func(items ...Item) *View {
		return &View{Box: orb.Bound{Max: orb.Point{9, 9}}, PerFoot: 1, Items: items}
	}
	for _, c := range []struct {
		it   Item
		want string
	}{
		{&Line{Pen: pen, Points: []orb.Point{{0, 0}, {nan, 1}}}, "a line has a place"},
		{&Line{Pen: Pen{Ink: Black, Width: math.Inf(1)}, Points: []orb.Point{{0, 0}, {1, 1}}}, "a line has the size"},
		{&Line{Pen: Pen{Ink: Black, Width: 1, Dash: []float64{3, -1}}, Points: []orb.Point{{0, 0}, {1, 1}}}, "a dash of -1"},
		{&Line{Pen: Pen{Ink: Black, Width: 1, Dash: []float64{0, 0}}, Points: []orb.Point{{0, 0}, {1, 1}}}, "dashes of no length"},
		{&Area{Pen: pen, Rings: [][]orb.Point{{{0, 0}, {1, 1}}, {{nan, 0}}}}, "an area has a place"},
		{&Area{Hatch: &Hatch{Pen: pen, Deg: nan, Every: 1}}, "a hatch has a place"},
		{&Arc{Pen: pen, Radius: -1}, "an arc has the radius -1"},
		{&Text{At: orb.Point{0, math.Inf(-1)}, Size: 9, S: "Tag 7"}, `the text "Tag 7"`},
		{&Image{Columns: 2, Rows: 2, Inks: []Ink{Black}, Cells: []byte{0}}, "2 × 2 has 1 cells"},
		{&Image{Columns: 1, Rows: 1, Inks: []Ink{Black}, Cells: []byte{1}}, "its ink 2 of 1"},
		{&Image{Inks: make([]Ink, 257)}, "257 inks"},
		{&View{PerFoot: 0}, "shows a foot as 0 points"},
		{view(view()), "a view lies in a view"},
		{view(&Layer{Items: []Item{&Text{Size: nan, S: "deep"}}}), `the text "deep"`},
	} {
		q := Page{Name: "C9 Odd", Width: 100, Height: 100, Items: []Item{c.it}}
		for name, err := range map[string]error{
			"pdf": WritePDF(io.Discard, &Document{Pages: []Page{q}}, ""), "svg": WriteSVG(io.Discard, &q), "dump": Dump(io.Discard, &q),
		} {
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), `page "C9 Odd"`) {
				t.Errorf("%s: %v, want %q and the page", name, err, c.want)
			}
		}
		if _, is := c.it.(*View); !is {
			if err := WriteDXF(io.Discard, view(c.it), false); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("dxf: %v, want %q", err, c.want)
			}
		}
	}
	for want, err := range map[string]error{
		"is not a date":     WritePDF(io.Discard, someDocument(), "May 1"),
		"of no pages":       WritePDF(io.Discard, &Document{}, ""),
		"it is 0 by 10 poi": WritePDF(io.Discard, &Document{Pages: []Page{{Height: 10}}}, ""),
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// sheetsOfHeads are pages of 100 heads each, with labels, arcs and a hatched lawn.
func sheetsOfHeads(pages int) *Document {
	d := &Document{Title: "Heads"}
	for range pages {
		v := &View{Box: orb.Bound{Min: orb.Point{30, 30}, Max: orb.Point{760, 580}}, Middle: orb.Point{50, 50}, PerFoot: 5}
		v.Items = append(v.Items, &Area{Pen: Pen{Ink: Black, Width: 1}, Fill: RGB(0xeeffee), Hatch: &Hatch{Pen: Pen{Ink: Grey, Width: 0.3}, Deg: 45, Every: 4},
			Rings: [][]orb.Point{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}}})
		for i := range 100 {
			at := orb.Point{float64(i%10)*10 + 5, float64(i/10)*10 + 5}
			v.Items = append(v.Items,
				&Arc{Pen: Pen{Ink: Grey, Width: 0.5, Dash: []float64{4, 3}}, Centre: at, Radius: 10, SweepDeg: 270},
				&Arc{Pen: Pen{Ink: Black, Width: 1}, Fill: White, Centre: at, Radius: 4, SweepDeg: 360, OnPaper: true},
				&Text{At: at, Size: 7, Halo: true, S: fmt.Sprintf("%d-%d", i/10+1, i%10+1)})
		}
		d.Pages = append(d.Pages, Page{Name: "Heads", Width: 792, Height: 612, Items: []Item{v}})
	}
	return d
}

func BenchmarkWritePDF20Pages(b *testing.B) {
	d := sheetsOfHeads(20)
	for b.Loop() {
		if err := WritePDF(io.Discard, d, ""); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteSVG(b *testing.B) {
	d := sheetsOfHeads(1)
	for b.Loop() {
		if err := WriteSVG(io.Discard, &d.Pages[0]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteDXF(b *testing.B) {
	v := sheetsOfHeads(1).Pages[0].Items[0].(*View)
	for b.Loop() {
		if err := WriteDXF(io.Discard, v, false); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDump(b *testing.B) {
	d := sheetsOfHeads(1)
	for b.Loop() {
		if err := Dump(io.Discard, &d.Pages[0]); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHatch(b *testing.B) {
	ring := make([]orb.Point, 400)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 400)
		ring[i] = orb.Point{200 + 180*cos, 200 + 180*sin}
	}
	for b.Loop() {
		hatch([][]orb.Point{ring}, 45, 4, orb.MultiPoint(ring).Bound())
	}
}
