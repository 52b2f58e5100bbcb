package trench

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// A foot of trench among roots costs dig_roots at the trunk's clear distance, as much
// as lawn at the zone's edge, and in between by the distance: summed up here step by
// step.
func TestRootsCostByTheDistanceFromTheTrunk(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Yard", units.US)
	p.Trees = map[plan.ID]plan.Tree{"oak": {TrunkIn: 6, RootZoneFt: 14, Status: plan.Existing}}
	f := newField(p)
	const clear, zone, lawn, roots = 6., 14., 1., 5.
	before := math.Inf(1)
	for _, off := range []float64{6, 7.5, 9, 11, 13, 13.9, 14, 20} {
		a, b := orb.Point{-18, off}, orb.Point{15, off + 0.5}
		way, ok := f.walk(a, b)
		if !ok {
			t.Fatalf("%v ft off: barred", off)
		}
		got := 0.
		for _, s := range way {
			got += s.cost
		}
		const steps = 200_000
		want := 0.
		for k := range steps {
			q := along(a, b, (float64(k)+0.5)/steps)
			rate := lawn
			if d := math.Hypot(q[0], q[1]); d < zone {
				rate += (roots - lawn) * (zone - d) / (zone - clear)
			}
			want += rate * apart(a, b) / steps
		}
		if math.Abs(got-want) > 1e-4*want {
			t.Errorf("%v ft off: %g, want %g", off, got, want)
		}
		if off < zone && got >= before || got < apart(a, b)-1e-9 {
			t.Errorf("%v ft off it costs %g, nearer to the trunk %g", off, got, before)
		}
		before = got
	}
	if _, ok := f.walk(orb.Point{-18, 5.9}, orb.Point{15, 5.9}); ok {
		t.Error("a trench nearer than a foot for each inch of the trunk is allowed")
	}
}

// Routes keep farther from a trunk where roots are dear than where they cost no more
// than lawn, and never come nearer than they may.
func TestRoutesKeepOutOfRoots(t *testing.T) {
	t.Parallel()
	p := drawnYard(t, yardOf(1, 1, false))
	spot := func(x, y units.Feet) *plan.Spot { return &plan.Spot{X: x, Y: y} }
	h := p.Heads["h000"]
	h.X, h.Y = 60, 20
	p.Heads = map[plan.ID]plan.Head{"h000": h}
	p.Zones = map[plan.ID]plan.Zone{"z00": {Name: "Lawn", Station: 1, ValveAt: spot(10, 20)}}
	p.Site.Lot, p.Areas = nil, nil
	p.Supply.Connection, p.Supply.BackflowAt, p.Controller = spot(5, 20), nil, plan.Controller{}
	p.Trees = map[plan.ID]plan.Tree{"oak": {X: 35, Y: 21, TrunkIn: 5, RootZoneFt: 12, Status: plan.Existing}}
	nearest := func(roots float64) float64 {
		p.Options.Figures = map[plan.ID]plan.Figure{plan.DigRoots: {Value: roots}}
		p := drawnYard(t, p)
		found := propose(t, p, Options{})
		next := routedWell(t, p, found, found.Offers[0])
		least := math.Inf(1)
		for _, v := range next.Pipes {
			d, _, _ := geom.DistanceToEdge(orb.Point{35, 21}, lineOf(next, v))
			least = min(least, d)
		}
		return least
	}
	cheap, dear := nearest(1), nearest(5)
	if cheap < 5-0.05 || cheap > 6 || dear < cheap+3 {
		t.Errorf("%.2f ft from the trunk where roots cost as lawn, %.2f ft where they are dear", cheap, dear)
	}
}
