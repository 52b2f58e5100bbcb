package coverage

import (
	"context"
	"fmt"
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yard builds plans for tests.
type yard struct{ plan.Plan }

func newYard() *yard {
	y := &yard{}
	y.Areas, y.Heads = map[plan.ID]plan.Area{}, map[plan.ID]plan.Head{}
	y.Barriers, y.Trees = map[plan.ID]plan.Barrier{}, map[plan.ID]plan.Tree{}
	y.Zones, y.Nozzles = map[plan.ID]plan.Zone{}, map[plan.ID]catalog.Nozzle{}
	y.Bodies = map[plan.ID]catalog.Body{}
	return y
}

// lip sets the edge lip and the wall lip in feet.
func (y *yard) lip(ft float64) *yard {
	l := units.Feet(ft)
	y.Options.EdgeLipFt, y.Options.WallLipFt = &l, &l
	return y
}

// area adds an area with corners x, y, x, y, …
func (y *yard) area(id plan.ID, kind plan.Kind, corners ...float64) *yard {
	y.Areas[id] = plan.Area{Name: string(id), Kind: kind, Outline: outline(corners...)}
	return y
}

func outline(corners ...float64) geom.Outline {
	var o geom.Outline
	for i := 0; i+1 < len(corners); i += 2 {
		o = append(o, geom.Vertex{X: corners[i], Y: corners[i+1]})
	}
	return o
}

// nozzle adds a nozzle whose flow follows its arc and gives the rate head to
// head at its throw.
func (y *yard) nozzle(id plan.ID, throw, rate float64, profile catalog.Profile) *yard {
	y.Nozzles[id] = catalog.Nozzle{
		Name: string(id), Family: catalog.Spray, ArcLeast: 1, ArcMost: 360, FlowFollowsArc: true,
		Trajectory: 25, Profile: profile, BestPSI: 30,
		TurnDown: catalog.TurnDown{UsualShare: 0.5, LeastShare: 0.01, FlowPower: 2},
		Rows:     []catalog.Row{{Pressure: 30, Throw: units.Feet(throw), Flow: units.GPM(rate * throw * throw / 96.25)}},
	}
	return y
}

// strip adds a strip nozzle.
func (y *yard) stripNozzle(id plan.ID, throw, flow float64, shape catalog.StripShape) *yard {
	y.Nozzles[id] = catalog.Nozzle{
		Name: string(id), Family: catalog.Strip, Strip: &shape, Trajectory: 25,
		Profile: catalog.Profile{Kind: catalog.ProfileLinear}, BestPSI: 30,
		TurnDown: catalog.TurnDown{UsualShare: 0.5, LeastShare: 0.01, FlowPower: 1},
		Rows:     []catalog.Row{{Pressure: 30, Throw: units.Feet(throw), Flow: units.GPM(flow)}},
	}
	return y
}

// head adds a head and returns its id.
func (y *yard) head(nozzle plan.ID, x, yy, start, sweep float64) plan.ID {
	id := plan.ID(fmt.Sprintf("h%03d", len(y.Heads)+1))
	y.Heads[id] = plan.Head{
		Nozzle: nozzle, X: units.Feet(x), Y: units.Feet(yy), StartDeg: units.Degrees(start), SweepDeg: units.Degrees(sweep),
	}
	return id
}

// linear is the triangular profile.
var linear = catalog.Profile{Kind: catalog.ProfileLinear}

// corners is four quarter heads in the corners of a square lawn.
func corners(side float64) *yard {
	y := newYard().lip(0).area("lawn", plan.Planting, 0, 0, side, 0, side, side, 0, side)
	y.nozzle("n", side, 1.6, linear)
	y.head("n", 0, 0, 0, 90)
	y.head("n", side, 0, 90, 90)
	y.head("n", side, side, 180, 90)
	y.head("n", 0, side, 270, 90)
	return y
}

func compute(t testing.TB, y *yard) *Result {
	t.Helper()
	r, err := Compute(context.Background(), &y.Plan)
	if err != nil {
		t.Fatalf("Compute: %v", err)
	}
	return r
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.7g, want %.7g ± %.2g", what, got, want, within)
	}
}

// Four quarter heads in the corners of a square as wide as their throw are a
// piece of the square lattice at 50 % of the diameter. DU and CU of the limit
// (midpoint samples of the lattice, n = 2,000); rates by hand: the greatest rate
// all along the edges, 4(1-√½) of it in the middle.
func TestFourCornerSquare(t *testing.T) {
	r := compute(t, corners(15))
	a := r.Areas[0]
	near(t, "DU", float64(a.DU), 0.949795, 0.001)
	near(t, "CU", float64(a.CU), 0.963577, 0.001)
	near(t, "mean", float64(a.Mean), 1.6, 0.0005)
	near(t, "most over mean", float64(a.Most/a.Mean), 1.11877, 0.001)
	near(t, "flow", float64(r.FlowGPM), 3.7403, 0.0001)
	near(t, "on target", float64(r.OnTargetGPM), 3.7403, 0.0001)
	near(t, "by flow", float64(a.FlowRate), 1.6, 0.0005)
}
