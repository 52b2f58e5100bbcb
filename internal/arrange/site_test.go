package arrange

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// rect is a rectangle by its corners, in feet.
func rect(x0, y0, x1, y1 float64) geom.Outline {
	return geom.Outline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func yard(areas map[plan.ID]plan.Area) *plan.Plan {
	return &plan.Plan{Format: plan.Format, Areas: areas}
}

func lawn(o geom.Outline, holes ...geom.Outline) plan.Area {
	return plan.Area{Name: "the lawn", Kind: plan.Planting, Outline: o, Holes: holes}
}

// groundOn is the ground of an area of a plan.
func groundOn(t *testing.T, p *plan.Plan, area plan.ID) *ground {
	t.Helper()
	s, err := newSite(p)
	if err != nil {
		t.Fatal(err)
	}
	g, err := s.ground(area)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// noSetBacks is the reference setting.
func noSetBacks(p *plan.Plan) *plan.Plan {
	p.Options.LocalRules = map[plan.RuleID]plan.LocalRule{}
	for _, r := range plan.LocalRuleRows() {
		p.Options.LocalRules[r.ID] = plan.LocalRule{Source: "test"}
	}
	return p
}

func TestWithoutSetBacksHeadsStandOnTheOutlineItself(t *testing.T) {
	t.Parallel()
	g := groundOn(t, noSetBacks(yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 30, 20))})), "l")
	if g.refuses != "" || len(g.edges) != 1 {
		t.Fatalf("refuses %q, %d edges", g.refuses, len(g.edges))
	}
	if got := geom.Area(g.stand); got != 600 {
		t.Errorf("stand is %v sq ft, want 600", got)
	}
	if e := g.edges[0]; len(e.corners) != 4 || e.along[len(e.along)-1] != 100 {
		t.Errorf("corners %v, %v ft round", e.corners, e.along[len(e.along)-1])
	}
	for _, c := range []orb.Point{{0, 0}, {30, 20}, {15, 0}} {
		if !geom.Contains(g.stand, c) {
			t.Errorf("no head may stand at %v, on the outline", c)
		}
	}
	near(t, "widest", g.widest, 20)
	near(t, "typical", g.typical, 20)
}

func near(t *testing.T, what string, got, want units.Feet) {
	t.Helper()
	if math.Abs(float64(got-want)) > 0.02*float64(want)+0.01 {
		t.Errorf("%s is %.3f ft, want %.3f", what, got, want)
	}
}

func TestEachSurfaceHasItsSetBack(t *testing.T) {
	t.Parallel()
	// Paving south, house north, street west, fence east.
	p := yard(map[plan.ID]plan.Area{
		"l": lawn(rect(0, 0, 40, 30)),
		"w": {Kind: plan.Paving, Outline: rect(0, -5, 40, 0)},
		"h": {Kind: plan.Building, Outline: rect(0, 30, 40, 60)},
		"s": {Kind: plan.RightOfWay, Outline: rect(-20, -5, 0, 30)},
	})
	p.Barriers = map[plan.ID]plan.Barrier{"f": {Kind: plan.Fence, HeightFt: 6, Line: geom.Line{{X: 40, Y: 0}, {X: 40, Y: 30}}}}
	b := groundOn(t, p, "l").stand.Bound()
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"paving", b.Min[1], 4. / 12}, {"street", b.Min[0], 0.5}, {"house", 30 - b.Max[1], 1}, {"fence", 40 - b.Max[0], 1},
	} {
		if c.got < c.want || c.got > c.want+0.02 {
			t.Errorf("heads stand %.4f ft from the %s, want %.4f", c.got, c.what, c.want)
		}
	}
}

func TestCornersAreWhereTheEdgeTurns(t *testing.T) {
	t.Parallel()
	ell := geom.Outline{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 20}, {X: 30, Y: 20}, {X: 30, Y: 45}, {X: 0, Y: 45}}
	round := geom.Outline{{X: -10, Y: 0, Bulge: 1}, {X: 10, Y: 0, Bulge: 1}}
	for _, c := range []struct {
		name    string
		area    plan.Area
		corners []int // by edge
	}{
		{"an L", lawn(ell), []int{6}},
		{"a round lawn", lawn(round), []int{0}},
		{"a lawn with a round bed", lawn(rect(-30, -30, 30, 30), round), []int{4, 0}},
		{"a lawn with a small round bed", lawn(rect(-30, -30, 30, 30), geom.Outline{{X: -2, Y: 0, Bulge: 1}, {X: 2, Y: 0, Bulge: 1}}), []int{4, 0}},
		{"a lawn with a square bed", lawn(rect(-30, -30, 30, 30), rect(-6, -6, 6, 6)), []int{4, 4}},
	} {
		for _, back := range []bool{false, true} {
			p := yard(map[plan.ID]plan.Area{"l": c.area})
			if !back {
				noSetBacks(p)
			}
			g := groundOn(t, p, "l")
			if len(g.edges) != len(c.corners) {
				t.Errorf("%s, set-backs %v: %d edges, want %d", c.name, back, len(g.edges), len(c.corners))
				continue
			}
			for i, e := range g.edges {
				if len(e.corners) != c.corners[i] {
					t.Errorf("%s, set-backs %v: edge %d has corners %v, want %d", c.name, back, i, e.corners, c.corners[i])
				}
			}
		}
	}
}

func TestAStripTooNarrowForItsSetBacks(t *testing.T) {
	t.Parallel()
	// Six inches wide in the open: custom gives way, heads go along the middle.
	g := groundOn(t, yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 30, 0.5))}), "l")
	if g.refuses != "" || !geom.Contains(g.stand, orb.Point{15, 0.25}) {
		t.Errorf("in the open: refuses %q, stand %v", g.refuses, g.stand)
	}
	// A foot between a house and a wall: there the set-backs do not.
	p := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 30, 1.5)), "h": {Kind: plan.Building, Outline: rect(0, 1.5, 30, 20)}})
	p.Barriers = map[plan.ID]plan.Barrier{"f": {Kind: plan.Wall, HeightFt: 6, Line: geom.Line{{X: 0, Y: 0}, {X: 30, Y: 0}}}}
	g = groundOn(t, p, "l")
	if !strings.Contains(g.refuses, "no place for a head") || len(g.stand) > 0 {
		t.Errorf("between walls: refuses %q, stand %v", g.refuses, g.stand)
	}
	// Three feet between two walks: code allows no spray.
	g = groundOn(t, yard(map[plan.ID]plan.Area{
		"l": lawn(rect(0, 0, 30, 3)),
		"a": {Kind: plan.Paving, Outline: rect(0, 3, 30, 8)}, "b": {Kind: plan.Paving, Outline: rect(0, -5, 30, 0)},
	}), "l")
	if !strings.Contains(g.refuses, "narrower than") {
		t.Errorf("between walks: refuses %q", g.refuses)
	}
}

// What a click on the page is set in to (web/editor/setback.ts) is a place where a
// head may stand, give or take what the page rounds and this package spares.
func TestThePageSetsHeadsWhereTheyMayStand(t *testing.T) {
	t.Parallel()
	doc, err := os.ReadFile("../../testdata/vectors/localrules.json")
	if err != nil {
		t.Fatal(err)
	}
	type head struct{ Want orb.Point }
	var v struct {
		Plan  json.RawMessage
		Own   map[plan.RuleID]plan.LocalRule
		Usual []head `json:"usual_heads"`
		Kept  []head `json:"own_heads"`
	}
	if err := json.Unmarshal(doc, &v); err != nil {
		t.Fatal(err)
	}
	for _, own := range []bool{false, true} {
		p, err := plan.Decode(v.Plan)
		if err != nil {
			t.Fatal(err)
		}
		heads := v.Usual
		if own {
			p.Options.LocalRules, heads = v.Own, v.Kept
		}
		lawn, bed := groundOn(t, p, "lawn").stand, groundOn(t, p, "bed").stand
		for _, h := range heads {
			if d := min(awayFromAll(lawn, h.Want), awayFromAll(bed, h.Want)); d > spare+0.011 {
				t.Errorf("own rules %v: %v is %.3f ft from where a head may stand", own, h.Want, d)
			}
		}
	}
}

func awayFromAll(mp orb.MultiPolygon, at orb.Point) float64 {
	if geom.Contains(mp, at) {
		return 0
	}
	return edgeDistance(mp, at)
}
