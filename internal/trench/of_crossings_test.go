package trench

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// underWalk has a main of 1 in going east under a walk from x 10 to 14, and a
// lateral so far north of it.
func underWalk(name string, apart float64, status plan.Status) drawing {
	d := draw()
	d.node("c", "connection", 0, 0, "")
	d.node("v1", "valve", 5, 0, "z1")
	d.node("m", "joint", 20, 0, "")
	d.node("e", "joint", 20, apart, "z1")
	d.pipe("m0", "c", "v1", "", 1)
	d.pipe("m1", "v1", "m", "", 1)
	d.pipe("l", "v1", "e", "z1", 0.75, 5, apart)
	d.area(plan.ID(name), plan.Paving, 10, -20, 14, 20)
	a := d.Areas[plan.ID(name)]
	a.Status = status
	d.Areas[plan.ID(name)] = a
	return d
}

func TestCrossingsSideBySideAreOne(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		apart float64
		want  int
	}{{0.25, 1}, {1, 1}, {2, 1}, {2.5, 2}, {8, 2}} {
		d := underWalk("Walk", c.apart, plan.Existing).dug()
		if len(d.Crossings) != c.want {
			t.Errorf("%v ft apart: %d crossings, want %d", c.apart, len(d.Crossings), c.want)
		}
		pipes := 0
		for _, x := range d.Crossings {
			pipes += len(x.Pipes)
			if x.Length != 4 || !x.New {
				t.Errorf("%v ft apart: %+v", c.apart, x)
			}
		}
		if pipes != 2 || math.Abs(float64(d.Totals.Sleeved)-4*float64(c.want)) > 1e-9 {
			t.Errorf("%v ft apart: %d pipes, %v ft sleeved", c.apart, pipes, d.Totals.Sleeved)
		}
	}
}

func TestCoverAndMethodOfACrossing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		status plan.Status
		wide   float64
		cover  units.Inches
		method string
	}{
		{"Front walk", plan.Existing, 4, 18, "water_bore"},
		{"Front walk", plan.New, 4, 18, "before_paving"},
		{"Drive", plan.Existing, 4, 24, "water_bore"},
		{"Court", plan.Existing, 4, 18, "water_bore"},
		{"Court", plan.Existing, 8, 24, "water_bore"},
		{"Patio", plan.Existing, 8, 18, "water_bore"},
		{"Drive", plan.Existing, 24, 24, "other_bore"},
	} {
		d := draw()
		d.node("c", "connection", 0, 0, "")
		d.node("e", "joint", 60, 0, "")
		d.pipe("m", "c", "e", "", 1)
		d.area("a", plan.Paving, 10, -5, 10+c.wide, 5)
		a := d.Areas["a"]
		a.Name, a.Status = c.name, c.status
		d.Areas["a"] = a
		x := d.dug().Crossings[0]
		if x.Cover != c.cover || x.Method != c.method {
			t.Errorf("%+v: cover %v, method %s", c, x.Cover, x.Method)
		}
		d.Options.Figures = map[plan.ID]plan.Figure{plan.DepthMain: {Value: 30}}
		if got := d.dug().Crossings[0].Cover; got != 30 {
			t.Errorf("%s: under a main 30 in deep the cover is %v", c.name, got)
		}
	}
}

func TestNeedsOfACrossing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		status plan.Status
		draw   func(drawing)
		want   string
		isNew  bool
	}{
		{"nothing drawn", plan.Existing, nil, "[pipe 2.5 ]", true}, // 2 · √(1² + 0.75²) = 2.5
		{"to be laid", plan.New, nil, "[pipe 2.5  spare 2.5 ]", true},
		{"one for all", plan.Existing, func(d drawing) { d.sleeve("s", "", 3, 9, 0, 15, 0) }, "[pipe 2.5 s]", true},
		{"each its own", plan.Existing, func(d drawing) {
			d.sleeve("s", "pipe", 2, 9, 0, 15, 0)
			d.sleeve("r", "pipe", 2, 9, 1, 15, 1)
		}, "[pipe 1.5 r pipe 2 s]", true},
		{"two side by side off both pipes", plan.Existing, func(d drawing) {
			d.sleeve("s", "pipe", 2, 9, -0.5, 15, -0.5)
			d.sleeve("r", "pipe", 2, 9, -0.25, 15, -0.25)
		}, "[pipe 1.5 r pipe 2 s]", true},
		{"there already", plan.Existing, func(d drawing) {
			d.sleeve("s", "", 3, 9, 0, 15, 0)
			s := d.Sleeves["s"]
			s.Status = plan.Existing
			d.Sleeves["s"] = s
		}, "[pipe 2.5 s]", false},
		{"too far off", plan.Existing, func(d drawing) { d.sleeve("s", "", 3, 9, 3, 15, 3) }, "[pipe 2.5 ]", true},
		{"across", plan.Existing, func(d drawing) { d.sleeve("s", "", 3, 12, -3, 12, 3) }, "[pipe 2.5 ]", true},
		{"with wire", plan.Existing, wireAlong, "[pipe 2.5  wire 1 ]", true},
		{"wire in one for all", plan.Existing, func(d drawing) { wireAlong(d); d.sleeve("s", "", 3, 9, 0, 15, 0) }, "[pipe 2.5 s wire 1 ]", true},
		{"wire in its own", plan.Existing, func(d drawing) {
			wireAlong(d)
			d.sleeve("s", "", 3, 9, 0, 15, 0)
			d.sleeve("w", "wire", 1, 9, 0.5, 15, 0.5)
		}, "[pipe 2.5 s wire 1 w]", true},
		{"two for all, the larger for pipe", plan.Existing, func(d drawing) {
			wireAlong(d)
			d.sleeve("a", "", 1, 9, 0.5, 15, 0.5)
			d.sleeve("b", "", 3, 9, 0, 15, 0)
		}, "[pipe 2.5 b wire 1 a]", true},
		{"not sized", plan.Existing, func(d drawing) { d.pipe("l", "v1", "e", "z1", 0, 5, 1) }, "[pipe 0 ]", true},
	} {
		d := underWalk("Walk", 1, c.status)
		if c.draw != nil {
			c.draw(d)
		}
		x := d.dug().Crossings[0]
		got := "["
		for i, n := range x.Needs {
			if i > 0 {
				got += " "
			}
			got += fmt.Sprintf("%s %v %s", n.Carries, float64(n.Nominal), n.Sleeve)
			if n.Why == "" {
				t.Errorf("%s: no reason for %+v", c.name, n)
			}
		}
		if got += "]"; got != c.want || x.New != c.isNew {
			t.Errorf("%s: needs %s, new %v; want %s, %v", c.name, got, x.New, c.want, c.isNew)
		}
	}
}

// wireAlong leads wire under the walk with the main, from a controller east of it.
func wireAlong(d drawing) {
	d.Controller = plan.Controller{At: &plan.Spot{X: 20.5, Y: 0}}
}

// A sleeve that goes under two pavings that touch serves both.
func TestOneSleeveServesPavingsThatTouch(t *testing.T) {
	t.Parallel()
	d := underWalk("Walk", 0, plan.Existing)
	d.area("apron", plan.Paving, 14, -20, 17, 20)
	d.sleeve("s", "", 3, 9, 0, 18, 0)
	got := d.dug().Crossings
	if len(got) != 2 || !slices.Equal(got[0].Sleeves, []plan.ID{"s"}) || !slices.Equal(got[1].Sleeves, []plan.ID{"s"}) {
		t.Errorf("%+v", got)
	}
}

func TestSizeOfASleeve(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		times float64
		pipes []units.Inches
		want  units.Inches
	}{
		{2, []units.Inches{1}, 2}, {2, []units.Inches{0.75}, 1.5}, {2, []units.Inches{1.25}, 2.5}, {2, []units.Inches{1.5}, 3},
		{2, []units.Inches{1, 1}, 3}, {2, []units.Inches{1.25, 0.75}, 3}, {1.5, []units.Inches{1}, 1.5}, {2, []units.Inches{1, 0}, 0}, {2, []units.Inches{8}, 16},
	} {
		if got := SleeveFor(c.times, c.pipes...); got != c.want {
			t.Errorf("%v times %v: %v, want %v", c.times, c.pipes, got, c.want)
		}
	}
	for n, want := range map[int]units.Inches{2: 1, 12: 1, 13: 1.5, 30: 1.5, 31: 2, 60: 2} {
		if got := WireSleeve(n); got != want {
			t.Errorf("%d conductors: %v, want %v", n, got, want)
		}
	}
}
