package coverage

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// thrown lists the heads of a plan as a trial takes them, by id.
func thrown(t testing.TB, p *plan.Plan) []Thrown {
	t.Helper()
	var out []Thrown
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		run, err := Running(p, id)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Thrown{
			At: orb.Point{float64(h.X), float64(h.Y)}, Start: h.StartDeg, Sweep: sweepOf(h, p.Nozzles[h.Nozzle]),
			Throw: run.Throw, Flow: run.Flow, Fall: FallOf(p.Nozzles[h.Nozzle], p.Bodies[h.Body]),
		})
	}
	return out
}

func trialOf(t testing.TB, p *plan.Plan, area plan.ID, cell units.Feet) *Trial {
	t.Helper()
	tr, err := NewTrial(p, area, cell, 60)
	if err != nil {
		t.Fatal(err)
	}
	for i, h := range thrown(t, p) {
		tr.Set(i, h)
	}
	return tr
}

// classes sums the ledger of a field by what a trial tells apart.
func classes(r *Result, p *plan.Plan, area plan.ID) Tried {
	var out Tried
	for _, h := range r.Heads {
		out.Flow += h.FlowGPM
		out.Stopped += h.Stopped
		for _, l := range h.Landed {
			switch kind := p.Areas[l.Surface].Kind; {
			case l.Surface == area:
				out.OnTarget += l.GPM
			case l.Surface == Outside && len(p.Site.Lot) > 0:
				out.Hard += l.GPM
			case l.Surface == Outside, l.Surface == Undrawn, kind == plan.Ground:
				out.Bare += l.GPM
			case kind == plan.Planting:
				out.Other += l.GPM
			default:
				out.Hard += l.GPM
			}
		}
	}
	return out
}

// On random yards, with walls, trees, strips, lips and streets, a trial reads what
// a field of the same cell reads. The bins of a trial are up to a 256th of the mean
// wide and a quarter ends in one of them, hence 1e-3 for DU; its mean and its ledger
// differ where the rim of a sector counts by its tangent (see disc): of a flat
// profile, on a bed of 30 square feet, by 1.2e-4 in/h.
func TestTrialReadsAsAField(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 5))
	worst := map[string]float64{}
	for k := range 60 {
		y := randomYard(r)
		y.lip([]float64{0, 0.3, 0.5}[k%3])
		cell := []units.Feet{0.5, 0.75, 0.2371}[k/3%3]
		y.Options.CellFt = cell
		if k%4 == 0 {
			y.Site.Lot = nil
		}
		for _, area := range []plan.ID{"lawn", "bed"} {
			if y.Areas[area].WateredBy() != plan.Overhead {
				continue
			}
			want := compute(t, y)
			i := slices.IndexFunc(want.Areas, func(a AreaReading) bool { return a.ID == area })
			a := want.Areas[i]
			by := classes(want, &y.Plan, area)
			tr := trialOf(t, &y.Plan, area, cell)
			got := tr.Read()
			check := func(what string, got, want, within float64) {
				t.Helper()
				worst[what] = max(worst[what], math.Abs(got-want))
				if !(math.Abs(got-want) <= within) {
					t.Errorf("yard %d, %s at %.4g ft: %s is %.7g, of the field %.7g", k, area, cell, what, got, want)
				}
			}
			check("DU", float64(got.DU), float64(a.DU), 1e-3)
			check("CU", float64(got.CU), float64(a.CU), 1.5e-3)
			check("driest 2 %", float64(got.Driest2), float64(a.Driest2), 1.5e-3)
			check("dry share", float64(got.DryShare), float64(a.DryShare), 2e-3)
			check("mean", float64(got.Mean), float64(a.Mean), 4e-4)
			check("flow", float64(got.Flow), float64(by.Flow), 1e-9)
			check("on target", float64(got.OnTarget), float64(by.OnTarget), 6e-4)
			check("hard", float64(got.Hard), float64(by.Hard), 6e-4)
			check("bare", float64(got.Bare), float64(by.Bare), 6e-4)
			check("other", float64(got.Other), float64(by.Other), 6e-4)
			check("stopped", float64(got.Stopped), float64(by.Stopped), 1.5e-4)
			if a.SC > 0 && a.SC < 1e6 { // else several windows are dry through and through
				d := tr.Driest()
				if off := math.Hypot(d[0]-a.Driest[0], d[1]-a.Driest[1]); off > 0.01 {
					t.Errorf("yard %d: driest at %v, of the field at %v", k, d, *a.Driest)
				}
			}
			past := map[plan.ID]units.GPM{}
			for _, o := range tr.Past() {
				past[o.Surface] += o.GPM
			}
			for _, o := range want.OffTarget {
				check("past "+string(o.Surface), float64(past[o.Surface]), float64(o.GPM), 6e-4)
			}
		}
	}
	t.Log(worst)
}

// randomThrow is a head somewhere on or about a lawn of 40 by 30 ft.
func randomThrow(r *rand.Rand, falls []*Fall) Thrown {
	h := Thrown{
		At:    orb.Point{-5 + 50*r.Float64(), -5 + 40*r.Float64()},
		Start: units.Degrees(360 * r.Float64()), Sweep: units.Degrees(20 + 340*r.Float64()),
		Throw: units.Feet(4 + 12*r.Float64()), Flow: units.GPM(0.2 + 2*r.Float64()),
		Fall: falls[r.IntN(len(falls))],
	}
	if r.IntN(3) == 0 {
		h.Sweep = 360
	}
	return h
}

func fallsOf(p *plan.Plan) []*Fall {
	var out []*Fall
	for _, id := range plan.SortedIDs(p.Nozzles) {
		out = append(out, FallOf(p.Nozzles[id], p.Bodies["pop"]))
	}
	return out
}

// Whatever was set, taken and undone, a trial holds, cell for cell, what a new one of
// the same heads holds, and reads the same to the last bit; a clone does, too, and
// goes its own way.
func TestTrialForgetsNothing(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 11))
	for range 6 {
		y := randomYard(r)
		falls := fallsOf(&y.Plan)
		tr, err := NewTrial(&y.Plan, "lawn", 0.75, 16)
		if err != nil {
			t.Fatal(err)
		}
		var heads, before []Thrown
		can := false
		for step := range 400 {
			switch k := r.IntN(10); {
			case k < 3 && len(heads) < 20 || len(heads) == 0:
				before, can = slices.Clone(heads), true
				h := randomThrow(r, falls)
				tr.Set(len(heads), h)
				heads = append(heads, h)
			case k < 7:
				before, can = slices.Clone(heads), true
				i := r.IntN(len(heads))
				heads[i] = randomThrow(r, falls)
				tr.Set(i, heads[i])
			case k < 8:
				i := r.IntN(len(heads))
				tr.Take(i)
				heads[i] = heads[len(heads)-1]
				heads, can = heads[:len(heads)-1], false
			case k < 9:
				if tr.Undo(); can {
					heads, can = before, false
				}
			default:
				tr.Astray(uint64(step), 2)
			}
			if step%20 != 19 {
				continue
			}
			fresh, _ := NewTrial(&y.Plan, "lawn", 0.75, 16)
			for i, h := range heads {
				fresh.Set(i, h)
			}
			if n := differing(tr.rates, fresh.rates); n > 0 || tr.Len() != len(heads) {
				t.Fatalf("after %d steps %d cells differ, %d heads of %d", step, n, tr.Len(), len(heads))
			}
			c := tr.Clone()
			if a, b := tr.Read(), fresh.Read(); a != b || c.Read() != a {
				t.Fatalf("after %d steps reads %v, a new one %v, a clone %v", step, a, b, c.Read())
			}
			c.Set(0, randomThrow(r, falls))
			if n := differing(tr.rates, fresh.rates); n > 0 {
				t.Fatalf("setting a head of a clone changed %d cells", n)
			}
		}
	}
}

// All water is told of once: what landed, by class and by surface, and what was
// stopped is the flow of every head and of all, and the mean is what landed on the
// ground that is read.
func TestTrialKeepsAllWater(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(13, 17))
	for range 10 {
		y := randomYard(r).lip(0)
		tr, err := NewTrial(&y.Plan, "lawn", 0.5, 16)
		if err != nil {
			t.Fatal(err)
		}
		falls := fallsOf(&y.Plan)
		for i := range 12 {
			h := randomThrow(r, falls)
			tr.Set(i, h)
			l := tr.Landed(i)
			near(t, "a head's flow", float64(l.OnTarget+l.Hard+l.Bare+l.Other+l.Stopped), float64(h.Flow), 1e-9)
		}
		a := tr.Read()
		near(t, "flow", float64(a.OnTarget+a.Hard+a.Bare+a.Other+a.Stopped), float64(a.Flow), 1e-9)
		past := units.GPM(0)
		for _, o := range tr.Past() {
			past += o.GPM
		}
		near(t, "past the edge", float64(past), float64(a.Hard+a.Bare+a.Other), 1e-6)
		ground := float64(tr.land.total) / weightOne * tr.land.frame.CellArea()
		near(t, "on target by the mean", float64(a.Mean)*ground/96.25, float64(a.OnTarget), 0.003*float64(a.OnTarget)+1e-4)
	}
}

// An estimate drawn on a trial is the field estimate of its plan: the same errors
// from the same seed, on the same cells.
func TestTrialAstrayIsTheFieldEstimate(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(19, 23))
	for range 3 {
		y := randomYard(r)
		y.Options.CellFt = 0.5
		all, err := FieldEstimate(context.Background(), &y.Plan, 4, 12, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := all[slices.IndexFunc(all, func(e Estimate) bool { return e.ID == "lawn" })]
		tr := trialOf(t, &y.Plan, "lawn", 0.5)
		was := tr.Read()
		mean, p10 := tr.Astray(4, 12)
		near(t, "mean", float64(mean), float64(want.Mean), 1e-3)
		near(t, "tenth percentile", float64(p10), float64(want.P10), 1e-3)
		if got := tr.Read(); got != was {
			t.Errorf("after an estimate the heads read %v, before it %v", got, was)
		}
	}
}

// Where the ground ends in half a cell, a head that stands there is not credited
// with a whole one: the mean does not depend on how the raster lies.
func TestTrialIsNotCheatedByItsRaster(t *testing.T) {
	t.Parallel()
	for _, off := range []float64{0, 0.1, 0.25, 0.3, 0.4999} {
		y := newYard().lip(0).area("lawn", plan.Planting, off, off, off+20, off, off+20, off+7, off, off+7)
		y.nozzle("n", 10, 1.6, linear)
		tr, err := NewTrial(&y.Plan, "lawn", 0.5, 10)
		if err != nil {
			t.Fatal(err)
		}
		fall := FallOf(y.Nozzles["n"], y.Bodies[""])
		tr.Set(0, Thrown{At: orb.Point{off + 10, off}, Sweep: 180, Throw: 10, Flow: 0.83, Fall: fall})
		got := tr.Read()
		near(t, "mean", float64(got.Mean), float64(got.OnTarget)*96.25/140, 0.002)
		near(t, "past the edge", float64(got.Bare), 0.05431, 0.0005) // by fine summing of the half circle
	}
}

// A trial of ground that is not there is refused in a sentence, and heads that
// cannot be are none.
func TestTrialOfBadGroundAndHeads(t *testing.T) {
	t.Parallel()
	y := newYard().lip(0).area("lawn", plan.Planting, 0, 0, 20, 0, 20, 20, 0, 20)
	y.area("slab", plan.Paving, -1, -1, 21, -1, 21, 21, -1, 21)
	for _, c := range []struct {
		area        plan.ID
		cell, reach units.Feet
	}{
		{"lawn", 0.5, 10}, {"none", 0.5, 10}, {"slab", 0, 10}, {"slab", units.Feet(math.NaN()), 10},
		{"slab", 0.5, -1}, {"slab", 0.5, units.Feet(math.Inf(1))},
	} {
		if _, err := NewTrial(&y.Plan, c.area, c.cell, c.reach); err == nil {
			t.Errorf("a trial of %+v was made", c)
		}
	}
	delete(y.Areas, "slab")
	y.nozzle("n", 10, 1.6, linear)
	fall := FallOf(y.Nozzles["n"], y.Bodies[""])
	tr, err := NewTrial(&y.Plan, "lawn", 0.5, 10)
	if err != nil {
		t.Fatal(err)
	}
	nan, inf := math.NaN(), math.Inf(1)
	good := Thrown{At: orb.Point{10, 10}, Sweep: 360, Throw: 10, Flow: 1.6, Fall: fall}
	for i, change := range []func(*Thrown){
		func(h *Thrown) { h.At = orb.Point{nan, 0} }, func(h *Thrown) { h.At = orb.Point{0, inf} },
		func(h *Thrown) { h.Throw = 0 }, func(h *Thrown) { h.Throw = units.Feet(inf) },
		func(h *Thrown) { h.Flow = units.GPM(nan) }, func(h *Thrown) { h.Sweep = 0 },
		func(h *Thrown) { h.Start = units.Degrees(nan) }, func(h *Thrown) { h.Fall = nil },
	} {
		h := good
		change(&h)
		tr.Set(i, h)
	}
	if got := tr.Read(); got.Mean != 0 || got.DU != 0 {
		t.Errorf("heads that cannot be give %+v", got)
	}
	tr.Driest()
	tr.Astray(1, 2)
}

// A dry place is on the ground and drier than most of it, and the same generator
// gives the same one.
func TestTrialDryPlaces(t *testing.T) {
	t.Parallel()
	y := corners(20)
	tr := trialOf(t, &y.Plan, "lawn", 0.5)
	tr.Take(0)
	a, b := rand.New(rand.NewPCG(1, 2)), rand.New(rand.NewPCG(1, 2))
	sum := 0.0
	for range 200 {
		p := tr.Dry(a)
		if q := tr.Dry(b); p != q {
			t.Fatalf("the same generator gave %v and %v", p, q)
		}
		rate, on := tr.At(p)
		if !on || !(geom.Frame{Cell: 20, NX: 1, NY: 1}).Bound().Contains(p) {
			t.Fatalf("%v is not on the lawn", p)
		}
		sum += float64(rate)
	}
	if mean := float64(tr.Read().Mean); sum/200 > 0.6*mean {
		t.Errorf("dry places get %.3g in/h on average, the lawn %.3g", sum/200, mean)
	}
	if _, on := tr.At(orb.Point{-3, 4}); on {
		t.Error("a place off the lawn counts as on it")
	}
}

// Ground of one rate throughout is wholly even: that rate is not smeared over the
// bin it is counted in.
func TestTrialOfLevelGround(t *testing.T) {
	t.Parallel()
	for _, rate := range []float64{0.31, 0.5, 1.37, 1.6, 2.2} {
		y := newYard().lip(0).area("lawn", plan.Planting, 4, 4, 14, 4, 14, 10, 4, 10)
		y.nozzle("n", 20, rate, catalog.Profile{Kind: catalog.ProfileFlat})
		y.head("n", 8, 7, 0, 360)
		tr := trialOf(t, &y.Plan, "lawn", 0.5)
		got := tr.Read()
		for what, v := range map[string]units.Ratio{"DU": got.DU, "CU": got.CU, "driest 2 %": got.Driest2} {
			near(t, what, float64(v), 1, 1e-5)
		}
		// The same of longer ground that is wet in part.
		y.area("lawn", plan.Planting, 8, 4, 40, 4, 40, 10, 8, 10)
		y.Options.CellFt = 0.5
		want := compute(t, y).Areas[0]
		got = trialOf(t, &y.Plan, "lawn", 0.5).Read()
		near(t, "DU", float64(got.DU), float64(want.DU), 1e-4)
		near(t, "CU", float64(got.CU), float64(want.CU), 1e-3)
		near(t, "dry", float64(got.DryShare), float64(want.DryShare), 1e-3)
	}
}
