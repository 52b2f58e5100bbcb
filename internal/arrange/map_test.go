package arrange

import (
	"context"
	"errors"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

func square(x, y, side float64) geom.Outline {
	return geom.Outline{{X: x, Y: y}, {X: x + side, Y: y}, {X: x + side, Y: y + side}, {X: x, Y: y + side}}
}

// The small map shows the water of the layout alone, whatever else the plan has
// and however far that reaches.
func TestTheMapOfALayoutIsOfItsWaterAlone(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Map", "us")
	p.Areas = map[plan.ID]plan.Area{
		"a1": {Name: "Lawn", Kind: plan.Planting, Outline: square(0, 0, 30)},
		"a2": {Name: "Lot", Kind: plan.Paving, Outline: geom.Outline{{X: -2000, Y: 30}, {X: 2000, Y: 30}, {X: 2000, Y: 900}, {X: -2000, Y: 900}}},
		"a3": {Name: "House", Kind: plan.Building, Outline: square(10, 10, 6)},
		"a4": {Name: "Far", Kind: plan.Planting, Outline: square(500, -400, 30)},
	}
	p.Heads = map[plan.ID]plan.Head{"h1": {Nozzle: "spray-15-adj", Body: "body-4", X: 25, Y: 25, SweepDeg: 360}}
	y := Layout{Area: "a1", Heads: []Placed{{ID: "h2", At: orb.Point{0, 0}, Sweep: 90, Throw: 15, Nozzle: "spray-15-adj", Body: "body-4"}}}
	g, cells, err := y.Map(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	if g.NX > mapMost || g.NY > mapMost || g.NX < 40 || len(cells) != g.NX*g.NY {
		t.Fatalf("%d by %d cells of %g ft", g.NX, g.NY, g.Cell)
	}
	at := func(x, y float64) byte {
		i, j, inside := g.CellOf(orb.Point{x, y})
		if !inside {
			t.Fatalf("%g, %g is not on the map", x, y)
		}
		return cells[j*g.NX+i]
	}
	if near, far := at(5, 5), at(25, 25); near < 2 || near > 200 || far != 1 {
		t.Errorf("by the head the map has %d, under the other head %d", near, far)
	}
	if wall, behind := at(12, 12), at(28, 34); wall > 0 && wall <= 200 || behind != 0 {
		t.Errorf("in the house %d, on the lot %d", wall, behind)
	}
	if len(p.Areas) != 4 || p.Options.CellFt != 0 {
		t.Error("the plan is not as it was")
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, _, err := y.Map(ctx, p); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
	}
}
