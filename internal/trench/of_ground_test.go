package trench

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// winding counts how often a ring goes round a place: a way to tell inside from
// outside that shares nothing with the ray of geom.
func winding(r []geom.Vertex, at orb.Point) bool {
	sum := 0.0
	for i := range r {
		a, b := r[i], r[(i+1)%len(r)]
		x0, y0, x1, y1 := a.X-at[0], a.Y-at[1], b.X-at[0], b.Y-at[1]
		sum += math.Atan2(x0*y1-x1*y0, x0*x1+y0*y1)
	}
	return math.Abs(sum) > math.Pi
}

// groundBySample is the ground of a place by looking at every area, and whether it
// is far enough from all edges to be told by the middle of a stretch.
func groundBySample(p *plan.Plan, at orb.Point) (Ground, bool) {
	clear := true
	near := func(r []geom.Vertex) {
		for i := range r {
			q := geom.NearestOnSegment(at, r[i].Point(), r[(i+1)%len(r)].Point())
			if math.Hypot(q[0]-at[0], q[1]-at[1]) < 0.1 {
				clear = false
			}
		}
	}
	order := map[plan.Kind]int{plan.Building: 1, plan.Water: 2, plan.Paving: 3, plan.Ground: 4, plan.Planting: 5, plan.RightOfWay: 6}
	var best *plan.Area
	noDig := false
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		near(a.Outline)
		size := func(a *plan.Area) float64 {
			s := a.Outline.Area()
			for _, h := range a.Holes {
				s -= h.Area()
			}
			return s
		}
		in := winding(a.Outline, at)
		for _, h := range a.Holes {
			near(h)
			in = in && !winding(h, at)
		}
		switch {
		case !in:
		case a.Kind == plan.NoDig:
			noDig = true
		case best == nil || order[a.Kind] < order[best.Kind] || a.Kind == best.Kind && size(&a) < size(best):
			best = &a
		}
	}
	near(p.Site.Lot)
	g := Undrawn
	switch {
	case best == nil && !winding(p.Site.Lot, at):
		g = OffLot
	case best != nil:
		g = map[plan.Kind]Ground{plan.Building: Indoors, plan.Water: Wet, plan.Paving: Paved, plan.Ground: Loose, plan.Planting: Lawn, plan.RightOfWay: Street}[best.Kind]
		if g == Lawn && best.Planting != plan.Turf && best.Planting != "" {
			g = Bed
		}
	}
	if noDig && g != Indoors {
		return NotToDig, clear
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		t := p.Trees[id]
		radius := float64(t.RootZoneFt)
		if radius == 0 {
			radius = float64(t.TrunkIn)
		}
		d := math.Hypot(float64(t.X)-at[0], float64(t.Y)-at[1])
		if math.Abs(d-radius) < 0.1 {
			clear = false
		}
		if d < radius && (g == Lawn || g == Bed || g == Loose || g == Undrawn || g == Street) {
			return Roots, clear
		}
	}
	return g, clear
}

// The ground of each stretch is what the plan says at any place along it.
func TestGroundOfStretchesIsThatOfThePlan(t *testing.T) {
	t.Parallel()
	seen := map[Ground]int{}
	for seed := range uint64(80) {
		d := yardAtRandom(rand.New(rand.NewPCG(seed, 2)), 6+int(seed)%20)
		for _, s := range d.dug().Segments {
			for k := range 5 {
				f := (float64(k) + 0.5) / 5
				at := orb.Point{s.From[0] + f*(s.To[0]-s.From[0]), s.From[1] + f*(s.To[1]-s.From[1])}
				want, clear := groundBySample(d.Plan, at)
				if !clear {
					continue
				}
				seen[want]++
				if s.Ground != want {
					t.Fatalf("seed %d: the stretch from %v to %v lies in %s (%s), at %v is %s", seed, s.From, s.To, s.Ground, s.Area, at, want)
				}
			}
		}
	}
	for _, g := range []Ground{Lawn, Bed, Loose, Roots, Street, Paved, Indoors, NotToDig, Wet, OffLot} {
		if seen[g] < 20 {
			t.Errorf("looked at %d places in %s", seen[g], g)
		}
	}
}
