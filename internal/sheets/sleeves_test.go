package sheets

import (
	"bytes"
	"context"
	"encoding/xml"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// drawn is the sleeve drawing of a plan.
func drawn(t *testing.T, p *plan.Plan, d *trench.Digs) string {
	t.Helper()
	var b bytes.Buffer
	if err := SleeveDrawing(&b, p, d, ""); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// golden compares a text with its file, or writes the file with -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := "../../testdata/golden/" + name
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s differs (go test ./internal/sheets -update; -want +got):\n%s", path, diff)
	}
}

func TestSleevesAndTrenchesOfTheDemo(t *testing.T) {
	p, d := load(t, "demo.json")
	var list bytes.Buffer
	for _, table := range []Table{Trenches(p, d.Digs), Sleeves(p, d.Digs)} {
		if err := CSV(&list, table); err != nil {
			t.Fatal(err)
		}
	}
	golden(t, "demo-trenches.csv", list.String())
	golden(t, "demo-sleeves.svg", drawn(t, p, d.Digs))
}

func TestSleevesInMetres(t *testing.T) {
	p, _ := load(t, "demo.json")
	p.Show = units.Metric
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	var list bytes.Buffer
	for _, table := range []Table{Trenches(p, d.Digs), Sleeves(p, d.Digs)} {
		if err := CSV(&list, table); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range []string{list.String(), drawn(t, p, d.Digs)} {
		for _, unit := range []string{" ft", " in,", " in<", "' ", "&#39;", "cubic yards"} {
			if strings.Contains(text, unit) {
				t.Errorf("in metres the sheet says %q", unit)
			}
		}
		if !strings.Contains(text, "DN 65") || !strings.Contains(text, "0.3") {
			t.Errorf("no metric sizes or lengths in %.200s", text)
		}
	}
}

// The list of stretches is the trench: its lengths add up to the total, with those of
// the pieces too short to be dug by themselves.
func TestStretchesAddUpToTheTrench(t *testing.T) {
	for _, name := range []string{"demo.json", "demo-mended.json", "mistakes/29-wire-with-pipe-mended.json", "mistakes/45-pipe-ends-mended.json"} {
		p, d := load(t, name)
		g := DiggingOf(p, d.Digs)
		dug := float64(g.Short.Dug)
		for i := range g.Stretches {
			if g.Stretches[i].IsDug() {
				dug += float64(g.Stretches[i].Length)
			}
		}
		if want := float64(d.Digs.Totals.Trench); math.Abs(dug-want) > 1e-6 {
			t.Errorf("%s: stretches of %v ft, trench of %v", name, dug, want)
		}
	}
}

// writing is one text of a drawing.
type writing struct {
	size   float64
	at     orb.Point
	anchor string
	text   string
}

// writings reads the texts of a drawing.
func writings(t *testing.T, svg string) []writing {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(svg))
	var out []writing
	for {
		token, err := dec.Token()
		if err != nil {
			if err.Error() == "EOF" {
				return out
			}
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "text" {
			continue
		}
		w := writing{}
		for _, a := range start.Attr {
			switch a.Name.Local {
			case "x", "y", "font-size":
				v, err := strconv.ParseFloat(a.Value, 64)
				if err != nil {
					t.Fatal(err)
				}
				switch a.Name.Local {
				case "x":
					w.at[0] = v
				case "y":
					w.at[1] = v
				default:
					w.size = v
				}
			case "text-anchor":
				w.anchor = a.Value
			}
		}
		if err := dec.DecodeElement(&w.text, &start); err != nil {
			t.Fatal(err)
		}
		out = append(out, w)
	}
}

// room is what a text takes, by the widths of the letters of a plain sans-serif face
// in thousandths of its size (as printed in its metrics, rounded up).
func (w writing) room() orb.Bound {
	wide := 0.0
	for _, r := range w.text {
		switch {
		case strings.ContainsRune("ijl'.,:;|!It ()/-", r):
			wide += 0.34
		case strings.ContainsRune("mwMW", r):
			wide += 0.95
		case r >= 'A' && r <= 'Z':
			wide += 0.73
		default:
			wide += 0.56
		}
	}
	wide *= w.size
	left := w.at[0]
	switch w.anchor {
	case "middle":
		left -= wide / 2
	case "end":
		left -= wide
	}
	return orb.Bound{Min: orb.Point{left, w.at[1] - 0.72*w.size}, Max: orb.Point{left + wide, w.at[1] + 0.2*w.size}}
}

// apart holds a drawing to its promise: no two texts lie over one another, and all are
// on the sheet.
func apart(t *testing.T, name, svg string) int {
	t.Helper()
	texts := writings(t, svg)
	rooms := make([]orb.Bound, len(texts))
	for i, a := range texts {
		rooms[i] = a.room()
		if rooms[i].Min[0] < 0 || rooms[i].Max[0] > sheetWide {
			t.Errorf("%s: %q runs off the sheet", name, a.text)
		}
		for k, b := range texts[:i] {
			if meets(rooms[i], rooms[k]) {
				t.Errorf("%s: %q at %v lies over %q at %v", name, a.text, a.at, b.text, b.at)
			}
		}
	}
	return len(texts)
}

func TestLabelsOfTheSleeveDrawingLieApart(t *testing.T) {
	for _, name := range []string{"demo.json", "mistakes/28-sleeve-missing.json", "mistakes/29-no-spare-sleeve.json", "mistakes/28-bore-long.json"} {
		p, d := load(t, name)
		if n := apart(t, name, drawn(t, p, d.Digs)); n < 15 {
			t.Errorf("%s: %d texts only", name, n)
		}
	}
	for seed := range uint64(16) {
		p, d := pavedAtRandom(rand.New(rand.NewPCG(seed, 7)))
		svg := drawn(t, p, d)
		apart(t, fmt.Sprintf("seed %d", seed), svg)
		if again := drawn(t, p, d); again != svg {
			t.Fatalf("seed %d: the drawing differs the second time", seed)
		}
	}
}

// pavedAtRandom has many sleeves under walks that lie across one another.
func pavedAtRandom(rng *rand.Rand) (*plan.Plan, *trench.Digs) {
	p := &plan.Plan{
		Name: "Paved & <measured>", Show: []units.System{units.US, units.Metric}[rng.IntN(2)],
		Areas: map[plan.ID]plan.Area{}, Sleeves: map[plan.ID]plan.Sleeve{}, Pipes: map[plan.ID]plan.Pipe{},
	}
	p.Site.NorthDeg = units.Degrees(rng.IntN(360))
	d := &trench.Digs{}
	side := 20 + rng.Float64()*150
	for i := range 1 + rng.IntN(4) {
		id := plan.ID(fmt.Sprintf("a%d", i))
		x, y, w, h := rng.Float64()*side, rng.Float64()*side, 3+rng.Float64()*side/2, 3+rng.Float64()*6
		a := plan.Area{Name: "Paving number " + fmt.Sprint(i), Kind: plan.Paving, Outline: geom.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}}
		if rng.IntN(3) == 0 {
			a.Outline[1].Bulge = 0.4
		}
		p.Areas[id] = a
		for range 1 + rng.IntN(6) {
			at := x + rng.Float64()*w
			c := trench.Crossing{Area: id, From: orb.Point{at, y}, To: orb.Point{at, y + h}, Length: units.Feet(h), New: true, Cover: 18}
			for k := range 1 + rng.IntN(3) {
				n := trench.Need{Carries: []string{"pipe", "wire", "spare"}[k], Nominal: 2}
				if rng.IntN(2) == 0 {
					sleeve := plan.ID(fmt.Sprintf("s%d", len(p.Sleeves)))
					off := at + rng.Float64()
					p.Sleeves[sleeve] = plan.Sleeve{From: plan.Spot{X: units.Feet(off), Y: units.Feet(y - 1)}, To: plan.Spot{X: units.Feet(off), Y: units.Feet(y + h + rng.Float64())}, NominalIn: 2, Carries: n.Carries}
					n.Sleeve, c.Sleeves = sleeve, append(c.Sleeves, sleeve)
				}
				c.Needs = append(c.Needs, n)
			}
			d.Crossings = append(d.Crossings, c)
		}
	}
	return p, d
}

// A plan without paving to cross gives a sheet that says so.
func TestDrawingWithoutSleevesSaysSo(t *testing.T) {
	p, d := load(t, "mistakes/45-pipe-ends-mended.json")
	svg := drawn(t, p, d.Digs)
	if !strings.Contains(svg, "No pipe or wire goes under paving") || !strings.Contains(svg, "Have buried lines located") {
		t.Error(svg)
	}
	apart(t, "none", svg)
}

// A place is measured to the nearest corner, along straight edges and bent ones.
func TestPlacesAlongTheEdge(t *testing.T) {
	outline := geom.Outline{{X: 0, Y: 0}, {X: 20, Y: 0, Bulge: 0.41421356237}, {X: 40, Y: 20}, {X: 0, Y: 20}}
	p := &plan.Plan{Show: units.US, Areas: map[plan.ID]plan.Area{"a": {Name: "Drive", Kind: plan.Paving, Outline: outline}}}
	for _, c := range []struct {
		at       orb.Point
		along    float64
		corner   orb.Point
		edge     string
		straight bool
	}{
		{orb.Point{3, 0}, 3, orb.Point{0, 0}, "south", true},
		{orb.Point{18, 0}, 18, orb.Point{0, 0}, "south", true}, // the outline runs on evenly at 20, 0
		{orb.Point{0, 18}, 2, orb.Point{0, 20}, "west", true},
		{orb.Point{39, 20}, 1, orb.Point{40, 20}, "north", true},
	} {
		m, corner := nearestCorner(p, "a", c.at)
		if m.corner < 0 || corner != c.corner || m.edge != c.edge || m.straight != c.straight || float64(m.along) < c.along-0.01 || float64(m.along) > c.along+0.01 {
			t.Errorf("%v: %+v from %v, want %v from %v along the %s edge", c.at, m, corner, c.along, c.corner, c.edge)
		}
	}
	circle := geom.Outline{{X: 0, Y: 0, Bulge: 1}, {X: 10, Y: 0, Bulge: 1}}
	p.Areas["a"] = plan.Area{Name: "Round patio", Kind: plan.Paving, Outline: circle}
	if m, _ := nearestCorner(p, "a", orb.Point{5, 5}); m.corner >= 0 {
		t.Errorf("a circle has a corner: %+v", m)
	}
}
