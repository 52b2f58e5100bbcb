package arrange

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// Two lawns share a fence line without a fence. Each head stands for the lawn it
// throws on, wherever it stands, and one without a nozzle yet for the one it faces.
func TestHeadsOnAnEdgeStandForTheSideTheyWater(t *testing.T) {
	t.Parallel()
	p := yard(map[plan.ID]plan.Area{"west": lawn(rect(0, 0, 20, 20)), "east": lawn(rect(20, 0, 40, 20))})
	n, _ := catalog.FindNozzle("spray-15-adj")
	p.Nozzles = map[plan.ID]catalog.Nozzle{"n": n}
	b, _ := catalog.FindBody("body-4")
	p.Bodies = map[plan.ID]catalog.Body{"b": b}
	p.Heads = map[plan.ID]plan.Head{
		"a": {Nozzle: "n", Body: "b", X: 20, Y: 10, StartDeg: 90, SweepDeg: 180},                         // on the line, throws west
		"b": {Nozzle: "n", Body: "b", X: 20, Y: 10.5, StartDeg: 270, SweepDeg: 180},                      // on the line, throws east
		"c": {Nozzle: "n", Body: "b", X: 19.5, Y: 5, StartDeg: 270, SweepDeg: 180},                       // in the west, throws east
		"d": {Nozzle: "none", Body: "b", X: 20, Y: 2, StartDeg: 90, SweepDeg: 180},                       // no water; faces west
		"e": {Nozzle: "n", Body: "b", X: 30, Y: 0, SweepDeg: 180, Locked: true},                          // stays
		"f": {Nozzle: "n", Body: "b", X: 30, Y: 20, StartDeg: 180, SweepDeg: 180, Status: plan.Existing}, // stays
		"g": {Nozzle: "n", Body: "b", X: 35, Y: 20, StartDeg: 180, SweepDeg: 180, Status: plan.Remove},   // is gone
	}
	west, east := groundOn(t, p, "west"), groundOn(t, p, "east")
	for _, c := range []struct {
		what string
		got  []plan.ID
		want []plan.ID
	}{
		{"make room in the west", west.goes, []plan.ID{"a", "d"}}, {"stay in the west", west.stays, nil},
		{"make room in the east", east.goes, []plan.ID{"b", "c"}}, {"stay in the east", east.stays, []plan.ID{"e", "f"}},
	} {
		if !slices.Equal(c.got, c.want) {
			t.Errorf("heads that %s: %v, want %v", c.what, c.got, c.want)
		}
	}
}

// The ground of an area is what stronger areas and beds on it leave.
func TestAnAreaHasTheGroundOthersLeaveIt(t *testing.T) {
	t.Parallel()
	p := yard(map[plan.ID]plan.Area{
		"l":   lawn(rect(0, 0, 40, 30)),
		"bed": lawn(rect(10, 10, 20, 20)),                              // smaller: has its ground from the lawn
		"h":   {Kind: plan.Building, Outline: rect(30, 20, 60, 40)},    // takes a corner
		"s":   {Kind: plan.RightOfWay, Outline: rect(-10, -10, 50, 5)}, // yields to planting
		"old": {Kind: plan.Paving, Outline: rect(0, 0, 40, 30), Status: plan.Remove},
	})
	if got := geom.Area(groundOn(t, p, "l").shape); got != 1200-100-100 {
		t.Errorf("the lawn has %v sq ft, want 1000", got)
	}
	g := groundOn(t, p, "bed")
	if got := geom.Area(g.shape); got != 100 {
		t.Errorf("the bed has %v sq ft, want 100", got)
	}
	near(t, "the bed", g.widest, 10)
}

func TestWhereNoHeadMayStandIsSaid(t *testing.T) {
	t.Parallel()
	far := yard(map[plan.ID]plan.Area{"l": lawn(rect(100, 0, 120, 20))})
	far.Site.Lot = rect(0, 0, 90, 90)
	dug := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 20, 20)), "n": {Kind: plan.NoDig, Outline: rect(-1, -1, 21, 21)}})
	hid := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 20, 20)), "n": {Kind: plan.Paving, Outline: rect(-1, -1, 21, 21)}})
	drip := yard(map[plan.ID]plan.Area{"l": {Name: "the bed", Kind: plan.Planting, Watering: plan.PointSource, Outline: rect(0, 0, 20, 20)}})
	walk := yard(map[plan.ID]plan.Area{"l": {Name: "the walk", Kind: plan.Paving, Outline: rect(0, 0, 20, 20)}})
	gone := yard(map[plan.ID]plan.Area{"l": {Name: "the lawn", Kind: plan.Planting, Status: plan.Remove, Outline: rect(0, 0, 20, 20)}})
	band := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 20, 3)), "w": {Kind: plan.Paving, Outline: rect(0, -4, 20, 0)}})
	band.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.BandPaving: {Feet: 4, Source: "town code 7"}}
	for _, c := range []struct {
		p    *plan.Plan
		want string
	}{
		{far, "lies off the lot"}, {dug, "no place for a head"}, {hid, "no ground of its own"}, {drip, "not watered from overhead"},
		{walk, "no planting area"}, {gone, "to be removed"}, {band, "town code 7"},
	} {
		g := groundOn(t, c.p, "l")
		if !strings.Contains(g.refuses, c.want) || len(g.stand) > 0 || len(g.edges) > 0 {
			t.Errorf("it says %q and has %d parts to stand on; want a sentence with %q", g.refuses, len(g.stand), c.want)
		}
	}
	s, err := newSite(band)
	if err != nil {
		t.Fatal(err)
	}
	var refused *Refusal
	if _, err := s.ground("none"); !errors.As(err, &refused) {
		t.Errorf("an area that is not there: %v", err)
	}
}

// A band without spray along paving: heads stand at its edge, not in it.
func TestHeadsStandOutsideTheBandAlongPaving(t *testing.T) {
	t.Parallel()
	p := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 30, 20)), "w": {Kind: plan.Paving, Outline: rect(0, -4, 30, 0)}})
	p.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.BandPaving: {Feet: 2}}
	g := groundOn(t, p, "l")
	if got := geom.Area(g.wet); got < 30*(18-2*spare) || got > 30*18 {
		t.Errorf("%v sq ft are to be wet, want 540 or a little less", got)
	}
	if b := g.stand.Bound(); b.Min[1] < 2 || b.Min[1] > 2+2*spare {
		t.Errorf("heads stand from %v ft of the paving on, want 2", b.Min[1])
	}
}

// What lies in the midst of a lawn keeps heads off and is no edge to stand along;
// root zones keep nobody off.
func TestThingsInTheMidstAreNoEdges(t *testing.T) {
	t.Parallel()
	p := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 40, 40)), "n": {Kind: plan.NoDig, Outline: rect(25, 25, 30, 30)}})
	p.Trees = map[plan.ID]plan.Tree{"t": {X: 10, Y: 10, TrunkIn: 12, RootZoneFt: 15}}
	p.KeepDry = map[plan.ID]plan.KeepDry{"k": {X: 30, Y: 10, RadiusFt: 2}}
	g := groundOn(t, p, "l")
	if len(g.edges) != 1 || len(g.edges[0].corners) != 4 {
		t.Errorf("%d edges, the first with corners %v; want the outline alone", len(g.edges), g.edges[0].corners)
	}
	for at, want := range map[orb.Point]bool{
		{10, 10}: false, {12.4, 10}: false, {12.6, 10}: true, {27, 27}: false, {25, 27}: false, {24, 27}: true, {30, 10}: false, {28.1, 10}: false, {27.9, 10}: true,
	} {
		if got := geom.Contains(g.stand, at); got != want {
			t.Errorf("a head may stand at %v: %v, want %v", at, got, want)
		}
	}
	if len(g.trunks) != 1 || g.trunks[0].radius != 0.5 {
		t.Errorf("trunks %v", g.trunks)
	}
}

// Outlines at the edge of what is an outline at all: none panics, and each has
// somewhere to stand or a sentence.
func TestOddOutlines(t *testing.T) {
	t.Parallel()
	for name, a := range map[string]plan.Area{
		"a hair":               lawn(rect(0, 0, 100, 0.01)),
		"a needle":             lawn(geom.Outline{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 1}}),
		"a hole at the edge":   lawn(rect(0, 0, 20, 20), geom.Outline{{X: 0, Y: 10}, {X: 5, Y: 5}, {X: 5, Y: 15}}),
		"a waist that touches": lawn(geom.Outline{{X: 0, Y: 0}, {X: 10, Y: 10}, {X: 20, Y: 0}, {X: 20, Y: 20}, {X: 10, Y: 10}, {X: 0, Y: 20}}),
		"two round ends":       lawn(geom.Outline{{X: 0, Y: 0}, {X: 40, Y: 0, Bulge: 1}, {X: 40, Y: 5}, {X: 0, Y: 5, Bulge: 1}}),
		"a ring":               lawn(geom.Outline{{X: -20, Y: 0, Bulge: 1}, {X: 20, Y: 0, Bulge: 1}}, geom.Outline{{X: -19, Y: 0, Bulge: 1}, {X: 19, Y: 0, Bulge: 1}}),
	} {
		g := groundOn(t, yard(map[plan.ID]plan.Area{"l": a}), "l")
		if (len(g.stand) == 0) != (g.refuses != "") {
			t.Errorf("%s: %d parts to stand on, and it says %q", name, len(g.stand), g.refuses)
		}
		for _, e := range g.edges {
			if len(e.ring) < 4 || e.ring[0] != e.ring[len(e.ring)-1] || len(e.along) != len(e.ring) {
				t.Errorf("%s: an edge of %d places", name, len(e.ring))
			}
		}
	}
}
