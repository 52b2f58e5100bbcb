package drawing

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// readDXF is what a second reader finds in a DXF file.
type readDXF struct {
	Version     string
	InsUnits    int
	Measurement int
	Extent      [2]orb.Point
	Errors      []string
	Fixes       []string
	Kinds       map[string]int
	On          map[string]int
	Colours     map[string][3]float64
	Texts       []struct {
		Says             string
		High, X, Y, Turn float64
		Anchor           int
	}
	Box *[2]orb.Point
}

// readBack writes views as DXF and has them read by another program.
func readBack(t *testing.T, metric bool, views ...*View) []readDXF {
	t.Helper()
	args := []string{"testdata/read_dxf.py"}
	for i, v := range views {
		var b bytes.Buffer
		if err := WriteDXF(&b, v, metric); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), fmt.Sprintf("%d.dxf", i))
		if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	run := exec.Command("/usr/bin/python3", args...) // Debian's own, which has the reader
	run.Env = append(os.Environ(), "HOME="+t.TempDir())
	var says bytes.Buffer
	run.Stderr = &says
	out, err := run.Output()
	if err != nil {
		t.Fatalf("%v (go run ./cmd/dev test -only install brings the reader)\n%s", err, &says)
	}
	var found []readDXF
	if err := json.Unmarshal(out, &found); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return found
}

// chart is a view with everything a drawing file has to carry.
func chart() *View {
	pen, dashed := Pen{Ink: Black, Width: 1}, Pen{Ink: RGB(0x0000ff), Width: 1, Dash: []float64{6, 3}}
	return &View{Box: orb.Bound{Max: orb.Point{500, 500}}, Middle: orb.Point{50, 50}, PerFoot: 7.2, Items: []Item{
		&Layer{Name: "Areas", Items: []Item{
			&Area{Pen: pen, Fill: RGB(0xddffdd), Hatch: &Hatch{Pen: pen, Deg: 45, Every: 36},
				Rings: [][]orb.Point{{{0, 0}, {100.123456789, 0}, {100.123456789, 60}, {0, 60}}, {{10, 10}, {30, 10}, {30, 30}}}},
			&Layer{Name: "Areas: beds & borders, by name", Items: []Item{&Area{Fill: RGB(0x00ff00), Rings: [][]orb.Point{{{1, 1}, {2, 1}, {2, 2}}}}}},
			&Layer{Name: "areas: beds ! borders, by name", Items: []Item{&Line{Pen: pen, Points: []orb.Point{{3, 3}, {4, 4}, {5, 3}}}}},
		}},
		&Layer{Name: "Heads", Items: []Item{
			&Arc{Pen: dashed, Centre: orb.Point{90, 90}, Radius: 20, FromDeg: 350, SweepDeg: 130},
			&Arc{Pen: dashed, Centre: orb.Point{20, 20}, Radius: 5, FromDeg: 90, SweepDeg: -45},
			&Arc{Pen: pen, Fill: White, Centre: orb.Point{-10, 20}, Radius: 3.6, SweepDeg: 360, OnPaper: true},
			&Text{At: orb.Point{20, 20}, Size: 9, S: `100 %%d 50 % ^J Größe 3″ \U+00e9 {x}`, Anchor: Middle, TurnDeg: 30},
			&Text{At: orb.Point{40, 20}, Size: 9, S: "left\nnext", Anchor: Start},
			&Text{At: orb.Point{50, 25}, Size: 9, S: "right", Anchor: End, TurnDeg: -90, Ink: RGB(0xff0000)},
		}},
		&Line{Pen: dashed, Points: []orb.Point{{0, -5}, {12.3456789, -7}}},
		&Image{Box: orb.Bound{Min: orb.Point{200, 0}, Max: orb.Point{220, 10}}, Columns: 2, Rows: 1, Inks: []Ink{0, RGB(0xff0000)}, Cells: []byte{0, 1}},
	}}
}

// A second reader finds in the file what the draw list holds: units, layers with
// their colours, letters, and the same extent.
func TestDXFIsReadByAnotherProgram(t *testing.T) {
	t.Parallel()
	empty := &View{Box: orb.Bound{Max: orb.Point{1, 1}}, PerFoot: 1}
	for _, metric := range []bool{false, true} {
		found := readBack(t, metric, chart(), empty)
		unit, ins, measure := 1.0, 2, 0
		if metric {
			unit, ins, measure = 0.3048, 6, 1
		}
		for _, f := range found {
			if f.Version != "AC1009" || f.InsUnits != ins || f.Measurement != measure {
				t.Errorf("version %s, units %d, measurement %d; want %d and %d", f.Version, f.InsUnits, f.Measurement, ins, measure)
			}
			if len(f.Errors)+len(f.Fixes) > 0 {
				t.Errorf("the reader mended the file: %v %v", f.Errors, f.Fixes)
			}
		}
		f := found[0]
		// The head's arc from 350° over 130° reaches 110 ft at 0° and at 90°; its mark is
		// half a foot on paper at 7.2 points to a foot; a picture has no place in the file.
		want := [2]orb.Point{{-10.5 * unit, -7 * unit}, {110 * unit, 110 * unit}}
		for i := range want {
			for k := range 2 {
				if math.Abs(f.Box[i][k]-want[i][k]) > 1e-6 {
					t.Errorf("the box is %v, want %v", *f.Box, want)
				}
			}
		}
		if f.Extent[0][0] > want[0][0] || f.Extent[0][1] > want[0][1] || math.Abs(f.Extent[1][0]-want[1][0]) > 1e-6 {
			t.Errorf("the header says %v, drawn is %v", f.Extent, want)
		}
		for name, n := range map[string]int{"0": 1, "AREAS__BEDS___BORDERS__BY_NAME": 1, "AREAS__BEDS___BORDERS__BY__2": 1, "HEADS": 6} {
			if f.On[name] != n {
				t.Errorf("%d things on layer %s, want %d: %v", f.On[name], name, n, f.On)
			}
		}
		if c := f.Colours["HEADS"]; c != [3]float64{0, 0, 255} {
			t.Errorf("heads have the colour %v", c)
		}
		says := []string{}
		for _, x := range f.Texts {
			says = append(says, x.Says)
		}
		if got := strings.Join(says, "|"); got != `100 % %d 50 % ^J Größe 3″ \U+00e9 {x}|left next|right` {
			t.Errorf("the letters read %q", got)
		}
		if x := f.Texts[0]; math.Abs(x.High-9*capital/7.2*unit) > 1e-6 || x.Turn != 30 || x.Anchor != 1 {
			t.Errorf("%+v", x)
		}
		if found[1].Box != nil {
			t.Errorf("an empty drawing has the box %v", *found[1].Box)
		}
	}
}

// The numbered colours are those of the release where a second reader has them.
func TestDXFColoursAreNearOurs(t *testing.T) {
	t.Parallel()
	var inks []Ink
	v := &View{Box: orb.Bound{Max: orb.Point{1, 1}}, PerFoot: 1}
	for i := range 60 {
		k := RGB(uint32(i * 279_607 % 0xffffff))
		inks = append(inks, k)
		v.Items = append(v.Items, &Layer{Name: fmt.Sprintf("L%d", i), Items: []Item{&Line{Pen: Pen{Ink: k, Width: 1}, Points: []orb.Point{{0, 0}, {1, float64(i)}}}}})
	}
	worst, at := 0.0, 0
	found := readBack(t, false, v)[0]
	for i, k := range inks {
		r, g, b, _ := k.Parts()
		c := found.Colours[fmt.Sprintf("L%d", i)]
		if c == [3]float64{255, 255, 255} && int(r)+int(g)+int(b) < 200 {
			continue // number 7 is black on paper
		}
		if d := math.Hypot(math.Hypot(float64(r)-c[0], float64(g)-c[1]), float64(b)-c[2]); d > worst {
			worst, at = d, i
		}
	}
	// Half the way between steps of the table, at worst between bright and half bright.
	if worst > 150 {
		t.Errorf("ink %06x is shown as %v", inks[at]&0xffffff, found.Colours[fmt.Sprintf("L%d", at)])
	}
	t.Logf("shown: 60 inks, the worst %.0f of 441 off", worst)
}
