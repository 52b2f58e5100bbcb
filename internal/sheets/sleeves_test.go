package sheets

import (
	"bytes"
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

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
	text := list.String()
	for _, unit := range []string{" ft", " in,", " in<", "' ", "&#39;", "cubic yards"} {
		if strings.Contains(text, unit) {
			t.Errorf("in metres the sheet says %q", unit)
		}
	}
	if !strings.Contains(text, "DN 65") || !strings.Contains(text, "0.3") {
		t.Errorf("no metric sizes or lengths in %.200s", text)
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
