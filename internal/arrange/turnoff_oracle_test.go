package arrange

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// corneredYard is the lawn of bed-end.json with a bed in its south-east corner, sprays of
// its own in it, and every head locked but two that throw on it.
func corneredYard(t *testing.T, rng *rand.Rand) *plan.Plan {
	p := loadPlan(t, "bed-end.json")
	for _, id := range plan.SortedIDs(p.Heads) {
		if p.Heads[id].Zone == "z2" {
			delete(p.Heads, id)
		}
	}
	delete(p.Areas, "bed")
	for id, arc := range map[plan.ID][2]units.Degrees{"h1-4": {90, 90}, "h1-8": {90, 180}, "h1-12": {180, 90}} {
		h := p.Heads[id]
		h.StartDeg, h.SweepDeg, h.Nozzle = arc[0], arc[1], "stream-16"
		p.Heads[id] = h
	}
	w, d := 6+rng.Float64()*4, 6+rng.Float64()*4
	x, y := 47-w-rng.Float64()*9, 1+rng.Float64()*9
	p.Areas["bed"] = plan.Area{Name: "Bed", Kind: plan.Planting, Planting: plan.Flowers, Outline: geom.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + d}, {X: x, Y: y + d}}}
	p.Nozzles["spray-6-f"] = nozzleOfID(t, "spray-6-f")
	throw := units.Feet(4.5)
	for i := range 2 {
		p.Heads[plan.ID(fmt.Sprintf("own%d", i))] = plan.Head{
			Nozzle: "spray-6-f", Body: "body-12-reg", Zone: "z2", SweepDeg: 360, ThrowFt: &throw, X: units.Feet(x + w*(0.3+0.4*float64(i))), Y: units.Feet(y + d/2),
		}
	}
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	var on []plan.ID
	for i := range r.Heads {
		if h := &r.Heads[i]; p.Heads[h.ID].Zone == "z1" && landedOn(h, "bed") > 0 && p.Nozzles[p.Heads[h.ID].Nozzle].FlowFollowsArc {
			on = append(on, h.ID)
		}
	}
	rng.Shuffle(len(on), func(i, j int) { on[i], on[j] = on[j], on[i] })
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Zone == "z1" && (len(on) < 2 || id != on[0] && id != on[1]) {
			h.Locked = true
			p.Heads[id] = h
		}
	}
	return p
}

// Wherever two heads can be set so that half of the water is off a bed and nothing is
// harmed, found by going through all their arcs of one edge turned in with their throws as
// they are and a quarter shorter, an offer is made.
func TestWhatCanBeKeptOffIsOffered(t *testing.T) {
	t.Parallel()
	can, not := 0, 0
	for seed := range yards(3, 150) {
		p := corneredYard(t, rand.New(rand.NewPCG(11, uint64(seed))))
		best := exhausted(t, p)
		got := keptOff(t, p, "bed")
		switch {
		case best > worthShare+0.02 && !got.Offered:
			t.Errorf("%d: %.2f of the water can be kept off, and nothing is offered: %s", seed, best, got.Says)
		case got.Offered:
			can++
			spares(t, fmt.Sprint(seed), p, got)
		default:
			not++
		}
		t.Logf("%d: %.2f by going through all, offered %v: %s", seed, best, got.Offered, got.Says)
	}
	if can == 0 || not == 0 {
		t.Errorf("%d yards have an offer and %d have none: they show one side alone", can, not)
	}
}

// exhausted is the most of the water of others that two free heads can be kept off by.
func exhausted(t *testing.T, p *plan.Plan) float64 {
	t.Helper()
	ctx := context.Background()
	s := &sparer{mender: newMender(p, Usual()), bed: "bed"}
	if err := s.begin(ctx); err != nil {
		t.Fatal(err)
	}
	had, _ := s.water(s.now.result)
	settings := func(id plan.ID) []plan.Head {
		h := p.Heads[id]
		out := []plan.Head{h}
		table, _ := coverage.Running(p, id)
		for _, shorter := range []bool{false, true} {
			set := h
			if shorter {
				throw := 0.75 * table.Throw
				set.ThrowFt = &throw
				out = append(out, set)
			}
			for by := units.Degrees(15); h.SweepDeg-by >= 90; by += 15 {
				right, left := set, set
				right.StartDeg, right.SweepDeg = units.Degrees(geom.NormDeg(float64(h.StartDeg+by))), h.SweepDeg-by
				left.SweepDeg = h.SweepDeg - by
				out = append(out, right, left)
			}
		}
		return out
	}
	free := s.heads[:min(len(s.heads), 2)]
	if len(free) == 0 || !(had > 0) {
		return 0
	}
	field := coverage.NewUnseen()
	first, err := s.readOf(ctx, s.p, field, true)
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0
	var each func(k int)
	each = func(k int) {
		if k < len(free) {
			for _, h := range settings(free[k]) {
				s.p.Heads[free[k]] = h
				each(k + 1)
			}
			s.p.Heads[free[k]] = p.Heads[free[k]]
			return
		}
		now, err := s.readOf(ctx, s.p, field, false)
		if err != nil {
			t.Fatal(err)
		}
		left, _ := s.water(now.result)
		if off := 1 - left/had; off > most && !s.spoils(&first, &now) {
			if now, err = s.readOf(ctx, s.p, field, true); err != nil {
				t.Fatal(err)
			}
			if !s.harms(&first, &now) {
				most = off
			}
		}
	}
	each(0)
	return most
}
