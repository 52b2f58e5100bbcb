package arrange

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// yards is how many yards a test draws: few in every run, many when asked for.
func yards(few, many int) int {
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		return many
	}
	return few
}

// Wherever a ground lets a head stand, no rule is broken by a measuring tape; and
// where a tape finds a free place with room about it, the ground lets heads stand.
func TestHeadsStandWhereATapeAllows(t *testing.T) {
	t.Parallel()
	for seed := range yards(16, 1000) {
		p := anyYard(uint64(seed))
		s, err := newSite(p)
		if err != nil {
			t.Fatal(err)
		}
		measure := newTape(p)
		for _, id := range measure.ids {
			if p.Areas[id].Kind == plan.Planting {
				t.Run(fmt.Sprintf("%d/%s", seed, id), func(t *testing.T) { checkStand(t, s, measure, id) })
			}
		}
	}
}

func checkStand(t *testing.T, s *site, measure *tape, id plan.ID) {
	g, err := s.ground(id)
	if err != nil {
		t.Fatal(err)
	}
	if (len(g.stand) == 0) != (g.refuses != "") {
		t.Fatalf("%d parts to stand on, and it refuses %q", len(g.stand), g.refuses)
	}
	loose := 0.005 // feet: the snapping of places, and chords where nothing is set back
	for _, at := range placesIn(g) {
		if why := measure.never(id, at, loose); why != "" {
			t.Errorf("a head may stand at %.3f: %s", at, why)
			return
		}
	}
	if g.refuses != "" && len(g.wet) > 0 {
		return // narrow between pavings, or nothing left: the sentence says it
	}
	// The other way round, with room about the place: in the middle of it every rule
	// is kept by this much and more. A part that is all but a point is left out.
	const room = 0.35
	b := g.shape.Bound()
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		at := orb.Point{b.Min[0] + r.Float64()*(b.Max[0]-b.Min[0]), b.Min[1] + r.Float64()*(b.Max[1]-b.Min[1])}
		if !geom.Contains(g.shape, at) || edgeDistance(g.shape, at) < 0.7 || measure.never(id, at, -room) != "" || nearHedge(s, at) || nearDry(s, at, room) {
			continue
		}
		if !geom.Contains(g.stand, at) {
			t.Errorf("a head may not stand at %.3f, though nothing is near", at)
			return
		}
	}
}

func nearHedge(s *site, at orb.Point) bool {
	for _, b := range s.lines {
		if d, _, _ := geom.DistanceToEdge(at, b.line); d < 1.5 {
			return true
		}
	}
	return false
}

func nearDry(s *site, at orb.Point, room float64) bool {
	for _, k := range s.dry {
		if apart(at, k.at) < k.radius+room {
			return true
		}
	}
	for _, poly := range s.noDig {
		if awayFrom(poly, at) < 4./12+room {
			return true
		}
	}
	return false
}

// placesIn are places of a stand: at random within it, its corners, and along the
// edges that heads stand on.
func placesIn(g *ground) []orb.Point {
	var out []orb.Point
	r := rand.New(rand.NewPCG(3, 4))
	for _, poly := range g.stand {
		b := poly.Bound()
		for range 60 {
			at := orb.Point{b.Min[0] + r.Float64()*(b.Max[0]-b.Min[0]), b.Min[1] + r.Float64()*(b.Max[1]-b.Min[1])}
			if geom.PolygonContains(poly, at) {
				out = append(out, at)
			}
		}
		for _, ring := range poly {
			out = append(out, ring...)
		}
	}
	for _, e := range g.edges {
		for range 40 {
			k := r.IntN(len(e.ring) - 1)
			f := r.Float64()
			out = append(out, orb.Point{
				e.ring[k][0] + f*(e.ring[k+1][0]-e.ring[k][0]), e.ring[k][1] + f*(e.ring[k+1][1]-e.ring[k][1]),
			})
		}
	}
	return out
}

// No layout that is offered breaks a rule, whatever the yard: no new head stands
// where a tape forbids it, and of its water, read again by a whole field at a cell
// that no head lines up with, no more than was allowed comes down on paving,
// buildings or off the lot. An area without layouts is told why.
func TestNoLayoutBreaksARule(t *testing.T) {
	t.Parallel()
	for seed := range yards(3, 100) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			t.Parallel()
			checkOffered(t, anyYard(uint64(1000+seed)))
		})
	}
}

func checkOffered(t *testing.T, p *plan.Plan) {
	o := Usual()
	o.Effort = 300
	got, err := Propose(context.Background(), p, o, nil)
	var refused *Refusal
	if errors.As(err, &refused) && refused.Sentence != "" {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	doc, measure := p.Encode(), newTape(p)
	for _, a := range got.Answers {
		if len(a.Layouts) == 0 && a.Why == "" {
			t.Errorf("%s: no layout, and no word why", a.Area)
		}
		for _, l := range a.Layouts {
			after, err := plan.Preview(doc, l.Patch)
			if err != nil {
				t.Errorf("%s: %v", a.Area, err)
				continue
			}
			for _, h := range l.Heads {
				if why := measure.never(a.Area, h.At, 0.005); !h.Stays && why != "" {
					t.Errorf("%s, head at %.3f: %s", a.Area, h.At, why)
				}
			}
			if hard := hardShare(t, after, l); hard > float64(o.Hard)+0.001 {
				t.Errorf("%s: %.1f %% of the water of %q lands where none may", a.Area, 100*hard, l.Says)
			}
		}
	}
}

// hardShare is the part of a layout's water that a field reads on paving, buildings,
// a right of way, water or off the lot.
func hardShare(t *testing.T, p *plan.Plan, l Layout) float64 {
	t.Helper()
	p.Options.CellFt = 0.2917
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	flow, hard := 0.0, 0.0
	for _, h := range r.Heads {
		if !slices.ContainsFunc(l.Heads, func(q Placed) bool { return q.ID == h.ID }) {
			continue
		}
		flow += float64(h.FlowGPM)
		for _, d := range h.Landed {
			if isHardSurface(p, d.Surface) {
				hard += float64(d.GPM)
			}
		}
	}
	return hard / max(flow, 1e-9)
}

func isHardSurface(p *plan.Plan, id plan.ID) bool {
	switch id {
	case coverage.Band:
		return true
	case coverage.Outside:
		return len(p.Site.Lot) > 2
	}
	switch p.Areas[id].Kind {
	case plan.Paving, plan.Building, plan.RightOfWay, plan.Water:
		return true
	}
	return false
}
