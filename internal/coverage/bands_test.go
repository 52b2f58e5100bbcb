package coverage

import (
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// banded is a square lawn with a walk along its south and a band of so many feet.
func banded(side, band float64) *yard {
	y := corners(side)
	y.area("walk", plan.Paving, 0, -4, side, -4, side, 0, 0, 0)
	if band > 0 {
		y.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.BandPaving: {Feet: units.Feet(band), Source: "code {7 miles}"}}
	}
	return y
}

func TestTheBandAlongPavingIsNoGroundToBeWatered(t *testing.T) {
	t.Parallel()
	dry, with := compute(t, banded(15, 0)), compute(t, banded(15, 2))
	near(t, "ground without a band", float64(dry.Areas[0].AreaSqFt), 225, 1e-6)
	near(t, "ground less the band", float64(with.Areas[0].AreaSqFt), 15*13, 1e-6)
	var band OffTarget
	for _, o := range with.OffTarget {
		if o.Surface == Band {
			band = o
		}
	}
	// What the band takes is what the lawn no longer has.
	near(t, "water in the band", float64(band.GPM), float64(dry.OnTargetGPM-with.OnTargetGPM), 1e-9)
	if band.GPM <= 0 || band.Kind != "" || len(band.Heads) != 4 {
		t.Errorf("the band reads %+v", band)
	}
	if got := SurfaceName(&banded(15, 2).Plan, Band); got != "the band along paving" {
		t.Errorf("it is called %q", got)
	}
}

// The edge lip lies along the band as along any edge: 0.5 ft on all four sides.
func TestTheEdgeLipLiesAlongTheBand(t *testing.T) {
	t.Parallel()
	y := banded(15, 2).lip(0.5)
	near(t, "ground less band and lip", float64(compute(t, y).Areas[0].AreaSqFt), 14*12, 1e-6)
}

// A trial reads the band as a field does: as water where none may land.
func TestATrialReadsTheBand(t *testing.T) {
	t.Parallel()
	y := banded(15, 2)
	y.Options.CellFt = 0.5
	f := New()
	r, _, err := f.Update(t.Context(), &y.Plan)
	if err != nil {
		t.Fatal(err)
	}
	trial, err := NewTrial(&y.Plan, "lawn", 0.5, 15)
	if err != nil {
		t.Fatal(err)
	}
	fall := FallOf(y.Nozzles["n"], y.Bodies["none"])
	for i, id := range plan.SortedIDs(y.Heads) {
		h := y.Heads[id]
		trial.Set(i, Thrown{At: [2]float64{float64(h.X), float64(h.Y)}, Start: h.StartDeg, Sweep: h.SweepDeg, Throw: 15, Flow: r.Heads[i].FlowGPM, Fall: fall})
	}
	got := trial.Read()
	near(t, "DU", float64(got.DU), float64(r.Areas[0].DU), 2e-3)
	band := 0.0
	for _, o := range r.OffTarget {
		if o.Surface == Band {
			band = float64(o.GPM)
		}
	}
	near(t, "water in the band", float64(got.Hard), band, 1e-3)
}

// The ground beyond a walk has a band along it, too: what a head throws there is
// not water on other planting.
func TestATrialReadsTheBandBeyondAWalk(t *testing.T) {
	t.Parallel()
	y := banded(15, 2)
	y.area("beyond", plan.Planting, 0, -20, 15, -20, 15, -4, 0, -4)
	y.Options.CellFt = 0.5
	y.Heads = map[plan.ID]plan.Head{"h": {Nozzle: "n", Body: "none", X: 7.5, Y: 1, StartDeg: 180, SweepDeg: 180}}
	r := compute(t, y)
	trial, err := NewTrial(&y.Plan, "lawn", 0.5, 15)
	if err != nil {
		t.Fatal(err)
	}
	trial.Set(0, Thrown{At: [2]float64{7.5, 1}, Start: 180, Sweep: 180, Throw: 15, Flow: r.FlowGPM, Fall: FallOf(y.Nozzles["n"], y.Bodies["none"])})
	hard, other := 0.0, 0.0
	for _, o := range r.OffTarget {
		if o.Surface == Band || o.Surface == "walk" {
			hard += float64(o.GPM)
		}
	}
	for _, l := range r.Heads[0].Landed {
		if l.Surface == "beyond" {
			other = float64(l.GPM)
		}
	}
	if hard <= 0 || other <= 0 {
		t.Fatalf("the head puts %g gpm on walk and bands and %g beyond", hard, other)
	}
	got := trial.Read()
	near(t, "water on the walk and the bands", float64(got.Hard), hard, 1e-3)
	near(t, "water beyond", float64(got.Other), other, 1e-3)
}

// A rule of the user's own is told in the user's words, braces and all.
func TestFindingsNameTheUsersOwnSource(t *testing.T) {
	t.Parallel()
	y := banded(15, 2)
	f := New()
	r, _, err := f.Update(t.Context(), &y.Plan)
	if err != nil {
		t.Fatal(err)
	}
	found := Check(&y.Plan, r, f)
	plan.InUnits(units.Metric, found)
	for _, o := range found {
		if o.Code == plan.BandWetted {
			if !strings.Contains(o.Source, "code (7 miles)") {
				t.Errorf("its source is %q", o.Source)
			}
			return
		}
	}
	t.Errorf("no finding of %s", plan.BandWetted)
}

// Each set-back of the plan's own is looked for, and only then.
func TestOwnSetBacksAreLookedFor(t *testing.T) {
	t.Parallel()
	y := corners(30)
	y.Site.Lot = outline(-1, -1, 31, -1, 31, 31, -1, 31)
	y.area("street", plan.RightOfWay, -20, -1, -1, -1, -1, 31, -20, 31)
	y.Trees["t"] = plan.Tree{X: 2, Y: 2, TrunkIn: 24}
	told := func(id plan.RuleID, feet units.Feet) (n int) {
		y.Options.LocalRules = map[plan.RuleID]plan.LocalRule{id: {Feet: feet, Source: "test"}}
		f := New()
		r, _, err := f.Update(t.Context(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range Check(&y.Plan, r, f) {
			if o.Code == plan.SetBackLocal {
				n += len(o.About)
			}
		}
		return n
	}
	for _, c := range []struct {
		id   plan.RuleID
		feet units.Feet
		want int
	}{
		{plan.SetBackStreet, 0.9, 0}, {plan.SetBackStreet, 1.5, 2}, // the two in the west, 1 ft off
		{plan.SetBackLot, 0.9, 0}, {plan.SetBackLot, 1.5, 4},
		{plan.SetBackTrunk, 1.8, 0}, {plan.SetBackTrunk, 1.9, 1}, // 2.83 ft from the middle, 1.83 from the bark
		{plan.SetBackOther, 0, 0}, {plan.SetBackOther, 0.1, 4}, // all stand on their edge
	} {
		if got := told(c.id, c.feet); got != c.want {
			t.Errorf("%s of %v ft: %d heads told of, want %d", c.id, c.feet, got, c.want)
		}
	}
}

// Where planting lies over a right of way the street begins beyond it: heads at the
// edge of what is drawn of it, but far from what is left, are not told of.
func TestStreetSetBackIsFromWhatIsLeftOfTheStreet(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name        string
		east, verge float64 // edge of the street as drawn, the lawn's being at 0; width of the bed between
		want        int     // heads told of, 1.5 ft kept
	}{
		{"street beside the lawn", -1, 0, 2},
		{"street drawn under the lawn", 5, 0, 2},
		{"street drawn under the lawn and a bed", 5, 3, 0},
	} {
		y := corners(30)
		y.area("street", plan.RightOfWay, -20, 0, c.east, 0, c.east, 30, -20, 30)
		if c.verge > 0 {
			y.area("verge", plan.Planting, -c.verge, -2, 0, -2, 0, 32, -c.verge, 32)
		}
		y.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.SetBackStreet: {Feet: 1.5, Source: "test"}}
		f := New()
		r, _, err := f.Update(t.Context(), &y.Plan)
		if err != nil {
			t.Fatal(err)
		}
		got := 0
		for _, o := range Check(&y.Plan, r, f) {
			if o.Code == plan.SetBackLocal {
				got += len(o.About)
			}
		}
		if got != c.want {
			t.Errorf("%s: %d heads told of, want %d", c.name, got, c.want)
		}
	}
}
