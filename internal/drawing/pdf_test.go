package drawing

import (
	"bytes"
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
}
