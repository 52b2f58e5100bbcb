package arrange

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// stripSearch is a search of strips on the area "a" of a plan.
func stripSearch(t *testing.T, p *plan.Plan) *search {
	t.Helper()
	site, err := newSite(p)
	if err != nil {
		t.Fatal(err)
	}
	g, err := site.ground("a")
	if err != nil || g.refuses != "" {
		t.Fatal(err, g.refuses)
	}
	o := Usual()
	o.Families = []catalog.Family{catalog.Strip}
	kits, why := kitsFor(p, g, o)
	if why != "" {
		t.Fatal(why)
	}
	s, err := newSearch(p, g, kits[0], o, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func stripPlan(outline geom.Outline) *plan.Plan {
	p := plan.Empty("strip", units.US)
	p.Areas = map[plan.ID]plan.Area{"a": lawn(outline)}
	return p
}

// leaning turns an outline about the origin.
func leaning(o geom.Outline, deg float64) geom.Outline {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	out := make(geom.Outline, len(o))
	for i, v := range o {
		out[i] = geom.Vertex{X: cos*v.X - sin*v.Y, Y: sin*v.X + cos*v.Y}
	}
	return out
}

// leastCost is the best of some candidates.
func leastCost(t *testing.T, all []candidate) candidate {
	t.Helper()
	if len(all) == 0 {
		t.Fatal("no layouts")
	}
	best := all[0]
	for _, c := range all {
		if c.cost < best.cost {
			best = c
		}
	}
	return best
}

// Strips as wide as a band of the stock are watered evenly, whichever way they lie,
// by about a head for each throw and one more; the sum of triangles a throw apart
// is level (by hand), and nothing lands past the edge but what set-backs leave.
func TestE10_StripsOnNarrowGround(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		long, wide, turn float64
		most             int     // heads
		least            float64 // DU
	}{
		{40, 5, 0, 4, 0.95}, {45, 6, 30, 4, 0.95}, {17, 4, 77, 2, 0.95}, {52, 5.5, 145, 5, 0.95}, {90, 4.5, 200, 8, 0.95}, {30, 4, 90, 3, 0.95},
	} {
		s := stripSearch(t, stripPlan(leaning(rect(0, 0, c.long, c.wide), c.turn)))
		got, why := s.strips(context.Background())
		if why != "" {
			t.Fatal(why)
		}
		best := leastCost(t, got)
		if n := len(best.heads); n > c.most || float64(best.tried.DU) < c.least || best.h2h < 1 {
			t.Errorf("%g by %g ft: %d heads, DU %.3f, head to head %.2f", c.long, c.wide, n, best.tried.DU, best.h2h)
		}
		if past := best.tried.Bare / best.tried.Flow; past > 0.02 {
			t.Errorf("%g by %g ft: %.3f of the water past the edge", c.long, c.wide, past)
		}
		equalAlong(t, best.heads)
	}
}

// equalAlong holds a single row to equal intervals.
func equalAlong(t *testing.T, heads []stand) {
	t.Helper()
	gap := distance(heads[0].at, heads[1].at)
	for i := 1; i+1 < len(heads); i++ {
		if d := distance(heads[i].at, heads[i+1].at); math.Abs(d-gap) > 0.1 {
			t.Errorf("intervals of %.2f and %.2f ft", gap, d)
		}
	}
}

// Round a corner each arm has its own row, and the corner is not watered twice.
func TestE10_StripsRoundACorner(t *testing.T) {
	t.Parallel()
	s := stripSearch(t, stripPlan(geom.Outline{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 5}, {X: 5, Y: 5}, {X: 5, Y: 30}, {X: 0, Y: 30}}))
	got, why := s.strips(context.Background())
	if why != "" {
		t.Fatal(why)
	}
	if best := leastCost(t, got); len(best.heads) > 8 || best.tried.DU < 0.93 {
		t.Errorf("%d heads, DU %.3f", len(best.heads), best.tried.DU)
	}
}

// Whatever the ground, heads stand where they may, no layout puts more on paving
// than may fall there, and the same question has the same answer.
func TestStripsKeepToTheGround(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(29, 31))
	some := 0
	for range 12 {
		long, wide := 12+60*r.Float64(), 3+4*r.Float64()
		p := stripPlan(rect(0, 0, long, wide))
		p.Areas["walk"] = plan.Area{Kind: plan.Paving, Outline: rect(-3, -4, long+3, 0)}
		p.Areas["house"] = plan.Area{Kind: plan.Ground, Outline: rect(-3, wide, long+3, wide+8)}
		site, err := newSite(p)
		if err != nil {
			t.Fatal(err)
		}
		if g, err := site.ground("a"); err != nil || g.refuses != "" {
			continue // a strip too narrow for overhead water
		}
		s, again := stripSearch(t, p), stripSearch(t, p)
		got, why := s.strips(context.Background())
		same, _ := again.strips(context.Background())
		if len(got) != len(same) || (len(got) == 0) != (why != "") {
			t.Fatalf("%d and %d layouts, %q", len(got), len(same), why)
		}
		for i, c := range got {
			some++
			if keyOf(c.heads) != keyOf(same[i].heads) {
				t.Fatal("the same question has another answer")
			}
			if c.tried.Hard > units.GPM(s.o.Hard)*c.tried.Flow {
				t.Errorf("%.3f of the water on the walk", c.tried.Hard/c.tried.Flow)
			}
			for _, h := range c.heads {
				if _, _, off := s.nearestEdge(h.at); !geom.Contains(s.ground.stand, h.at) && off > 0.01 {
					t.Errorf("a head %.2f ft off where it may stand", off)
				}
				if h.set.strip == nil || h.turn != 0 || h.start != units.Degrees(geom.NormDeg(h.base)) {
					t.Errorf("a head set otherwise than its pose: %+v", h)
				}
			}
		}
	}
	if some < 20 {
		t.Errorf("only %d layouts looked at", some)
	}
}

// Where strips do not suit a ground a sentence says why, and sprays are offered.
func TestWhyNoStrips(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		outline geom.Outline
		says    string
	}{
		{sectorOf(0, 0, 25, 30, 0, 180), "bends"},
		{rect(0, 0, 40, 12), "up to 12"},
	} {
		s := stripSearch(t, stripPlan(c.outline))
		got, why := s.strips(context.Background())
		if len(got) > 0 || !strings.Contains(why, c.says) {
			t.Errorf("%d layouts and %q, where %q was to be said", len(got), why, c.says)
		}
	}
	o := quick()
	narrow, err := Propose(context.Background(), stripPlan(rect(0, 0, 40, 1.9)), o, nil)
	if err != nil || len(narrow.Offers) > 0 || !strings.Contains(narrow.Answers[0].Why, "narrowest strip nozzle") {
		t.Errorf("%+v, %v", narrow, err)
	}
	p := stripPlan(sectorOf(0, 0, 25, 30, 0, 120))
	got, err := Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := got.Answers[0]; len(a.Layouts) == 0 || a.Layouts[0].Family != catalog.Spray {
		t.Errorf("a bent strip: %+v", a.Why)
	}
	o.Families = []catalog.Family{catalog.Strip}
	if got, err = Propose(context.Background(), p, o, nil); err != nil {
		t.Fatal(err)
	}
	if a := got.Answers[0]; len(a.Layouts) > 0 || !strings.Contains(a.Why, "bends") {
		t.Errorf("strips alone on it: %d layouts, %q", len(a.Layouts), a.Why)
	}
}

// A search called off stops at once with what it has.
func TestStripsCalledOff(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := stripSearch(t, stripPlan(rect(0, 0, 40, 5)))
	if got, _ := s.strips(ctx); len(got) > 0 || s.evaluate > 2 {
		t.Errorf("%d layouts after %d evaluations", len(got), s.evaluate)
	}
}
