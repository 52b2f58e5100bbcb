package arrange

import (
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Where a fence begins beside a lawn, heads stand farther in from there on: the edge
// goes on as it came, and is divided as one side.
func TestAJogOfTheSetBackIsNoCorner(t *testing.T) {
	t.Parallel()
	p := plan.Empty("jog", units.US)
	square := func(x0, y0, x1, y1 float64) geom.Outline {
		return geom.Outline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	p.Areas = map[plan.ID]plan.Area{"lawn": {Name: "Lawn", Kind: plan.Planting, Outline: square(0, 0, 50, 58)}}
	corners := func() int {
		t.Helper()
		s, err := newSite(p)
		if err != nil {
			t.Fatal(err)
		}
		g, err := s.ground("lawn")
		if err != nil {
			t.Fatal(err)
		}
		if len(g.edges) != 1 {
			t.Fatalf("%d edges", len(g.edges))
		}
		return len(g.edges[0].corners)
	}
	if n := corners(); n != 4 {
		t.Fatalf("%d corners without a fence", n)
	}
	p.Barriers = map[plan.ID]plan.Barrier{"fence": {Name: "Fence", Kind: plan.Fence, HeightFt: 6, Line: geom.Line{{X: 50, Y: 25}, {X: 50, Y: 58}}}}
	if n := corners(); n != 4 {
		t.Errorf("%d corners beside a fence that begins halfway", n)
	}
	// A notch deeper than a jog keeps its corners.
	delete(p.Barriers, "fence")
	p.Areas["lawn"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: geom.Outline{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 25}, {X: 46, Y: 25}, {X: 46, Y: 58}, {X: 0, Y: 58}}}
	if n := corners(); n != 6 {
		t.Errorf("%d corners where the side steps back 4 ft", n)
	}
}
