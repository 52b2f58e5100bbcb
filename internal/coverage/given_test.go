package coverage

import (
	"bytes"
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func computeAt(t testing.TB, y *yard, given Given) *Result {
	t.Helper()
	r, err := ComputeAt(context.Background(), &y.Plan, given)
	if err != nil {
		t.Fatalf("ComputeAt: %v", err)
	}
	return r
}

// After any edits of plan and pressures the field is the fresh one, cell for cell,
// and its Result the same byte for byte; without pressures it is the drawing's.
func TestGivenPressuresIncrementalEqualsFresh(t *testing.T) {
	edits := 120
	if thorough() {
		edits = 400
	}
	if testing.Short() {
		edits = 80
	}
	r := rand.New(rand.NewPCG(29, 31))
	y := randomYard(r)
	kept := New()
	for i := range edits {
		y.edit(r)
		given := Given{}
		for id := range maps.Keys(y.Heads) {
			if r.IntN(4) > 0 {
				given[id] = units.PSI(math.Round(20*60*r.Float64()) / 20) // from none to twice the plan
			}
		}
		if i%40 == 0 {
			given = nil
		}
		got, _, err := kept.UpdateAt(context.Background(), &y.Plan, given)
		if err != nil {
			t.Fatal(err)
		}
		fresh := New()
		want, _, err := fresh.UpdateAt(context.Background(), &y.Plan, given)
		if err != nil {
			t.Fatal(err)
		}
		if n := differing(kept.grid.rate, fresh.grid.rate) + differing(kept.grid.reach, fresh.grid.reach) + differing(kept.grid.amend, fresh.grid.amend); n > 0 {
			t.Fatalf("after %d edits %d cells differ", i, n)
		}
		if a, b := asJSON(t, got), asJSON(t, want); !bytes.Equal(a, b) {
			t.Fatalf("after %d edits the results differ:\n%s\n%s", i, a, b)
		}
		if given == nil {
			if a, b := asJSON(t, got), asJSON(t, compute(t, y)); !bytes.Equal(a, b) {
				t.Fatal("without pressures it is not the drawing's result")
			}
		}
	}
}

// The pressures that are planned, given, change nothing.
func TestPlannedPressuresGivenChangeNothing(t *testing.T) {
	y := randomYard(rand.New(rand.NewPCG(5, 7)))
	given := Given{}
	for id := range y.Heads {
		if run, err := Running(&y.Plan, id); err == nil {
			given[id] = run.Pressure
		}
	}
	a, b := compute(t, y), computeAt(t, y, given)
	for i := range a.Heads {
		near(t, "flow of "+string(a.Heads[i].ID), float64(b.Heads[i].FlowGPM), float64(a.Heads[i].FlowGPM), 1e-9)
		near(t, "throw", float64(b.Heads[i].Throw), float64(a.Heads[i].Throw), 1e-9)
	}
	for i := range a.Areas {
		near(t, "DU of "+string(a.Areas[i].ID), float64(b.Areas[i].DU), float64(a.Areas[i].DU), 1e-9)
	}
}

// pressed is one full-circle head in the middle of a lawn, with a table of two
// rows: 20 psi 8 ft, 40 psi 12 ft.
func pressed(low *catalog.LowPressure) *yard {
	y := newYard().lip(0).area("lawn", plan.Planting, 0, 0, 30, 0, 30, 30, 0, 30)
	y.nozzle("n", 12, 1.6, linear)
	n := y.Nozzles["n"]
	n.BestPSI, n.Low = 40, low
	n.Rows = []catalog.Row{{Pressure: 20, Throw: 8, Flow: 1}, {Pressure: 40, Throw: 12, Flow: 1.5}}
	y.Nozzles["n"] = n
	y.head("n", 15, 15, 0, 360)
	return y
}

// Under the table the throw goes on by the table's own power, here log₂ 1.5, and
// the flow by the root: at a quarter of the least row's pressure 8/1.5² ft and
// half the flow. Worked out by hand.
func TestUnderTheTableThrowAndFlowGoOn(t *testing.T) {
	y := pressed(nil)
	h := computeAt(t, y, Given{"h001": 5}).Heads[0]
	near(t, "throw", float64(h.Throw), 8/2.25, 1e-9)
	near(t, "flow", float64(h.FlowGPM), 0.5, 1e-9)
	over := computeAt(t, y, Given{"h001": 160}).Heads[0]
	near(t, "throw over the table", float64(over.Throw), 12, 1e-9)
	near(t, "flow over the table", float64(over.FlowGPM), 3, 1e-9)
	none := computeAt(t, y, Given{"h001": 0})
	if len(none.Heads) != 0 || len(none.LeftOut) != 1 || !strings.Contains(none.LeftOut[0].Sentence, "gets 0 psi") {
		t.Errorf("a head without pressure: %+v", none.LeftOut)
	}
}

// A turned-down throw keeps its share: 9 of 12 ft at the planned 40 psi is 6 of 8
// at 20.
func TestTurnedDownThrowKeepsItsShare(t *testing.T) {
	y := pressed(nil)
	h := y.Heads["h001"]
	set := units.Feet(9)
	h.ThrowFt = &set
	y.Heads["h001"] = h
	r := computeAt(t, y, Given{"h001": 20}).Heads[0]
	near(t, "throw", float64(r.Throw), 6, 1e-9)
	near(t, "flow", float64(r.FlowGPM), 0.75*0.75, 1e-9) // flow power 2
}

// Low pressure changes the profile as the row says: with a ring far out the water
// leaves the middle; rows that name none have the generic ring. A throw of 7.99 ft
// with a ring in its last quarter (shares 0 0 0 0 1) gives, at half the throw,
// nothing, and all its water is there: the mean stays the flow's.
func TestLowPressureChangesTheProfileAsItsRowSays(t *testing.T) {
	ring := &catalog.LowPressure{Profile: catalog.Profile{Kind: catalog.ProfileTable, Shares: []float64{0, 0, 0, 0, 1}}}
	at := func(y *yard, psi units.PSI, x float64) float64 {
		f := New()
		if _, _, err := f.UpdateAt(context.Background(), &y.Plan, Given{"h001": psi}); err != nil {
			t.Fatal(err)
		}
		here, ok := f.RateAt([2]float64{x, 15})
		if !ok {
			t.Fatal("outside the map")
		}
		return float64(here.Rate)
	}
	y := pressed(ring)
	if in, out := at(y, 20, 15+4), at(y, 20, 15+7.5); !(in > 5*out) {
		t.Errorf("at the least row the middle has %.3g and the edge %.3g in/h; it should fall off", in, out)
	}
	if in, out := at(y, 19.95, 15+4), at(y, 19.95, 15+7.5); in != 0 || !(out > 0.3) {
		t.Errorf("under the table the middle has %.3g and the ring %.3g in/h", in, out)
	}
	usual := pressed(nil)
	if in, out := at(usual, 19.95, 15.5), at(usual, 19.95, 15+5); !(out > in) {
		t.Errorf("the generic ring has %.3g in/h at the head and %.3g out where it stands", in, out)
	}
	for _, y := range []*yard{y, usual} {
		r := computeAt(t, y, Given{"h001": 19.95})
		near(t, "water by the map over the flow", float64(r.Areas[0].Mean)/float64(r.Areas[0].FlowRate), 1, 0.003)
	}
}

// Heads under and over their tables are told, those that are gone are not.
func TestUnderAndOverTheTable(t *testing.T) {
	y := pressed(nil)
	for range 3 {
		y.head("n", 15, 15, 0, 360)
	}
	gone := y.Heads["h004"]
	gone.Status = plan.Remove
	y.Heads["h004"] = gone
	g := Given{"h001": 19.9, "h002": 20, "h003": 40.05, "h004": 1, "h999": 1}
	if got := g.Under(&y.Plan); !slices.Equal(got, []plan.ID{"h001"}) {
		t.Errorf("under: %v", got)
	}
	if got := g.Over(&y.Plan); !slices.Equal(got, []plan.ID{"h003"}) {
		t.Errorf("over: %v", got)
	}
}
