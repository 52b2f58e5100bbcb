package arrange

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// openedYard is the yard of bed-end.json with the three heads on the edge of its bed set
// right, and the same with some of them opened over the bed, by steps of arcs.
func openedYard(t testing.TB, rng *rand.Rand) (right, opened *plan.Plan, heads int) {
	right, opened = loadPlan(t, "bed-end.json"), loadPlan(t, "bed-end.json")
	opened.Nozzles["stream-16-270"] = nozzleOfID(t, "stream-16-270")
	turn := func(p *plan.Plan, id plan.ID, start, sweep units.Degrees) {
		h := p.Heads[id]
		h.StartDeg, h.SweepDeg = units.Degrees(geom.NormDeg(float64(start))), sweep
		switch {
		case sweep >= 360:
			h.StartDeg, h.Nozzle = 0, "stream-16-360"
		case sweep > 210:
			h.Nozzle = "stream-16-270"
		default:
			h.Nozzle = "stream-16"
		}
		p.Heads[id] = h
	}
	for _, c := range []struct {
		id           plan.ID
		start, sweep units.Degrees
		most         int // steps that it may be opened by at either edge
		right, left  bool
	}{{"h1-4", 90, 90, 8, true, false}, {"h1-8", 90, 180, 6, true, true}, {"h1-12", 180, 90, 8, false, true}} {
		turn(right, c.id, c.start, c.sweep)
		a, b := units.Degrees(0), units.Degrees(0)
		if c.right {
			a = units.Degrees(15 * rng.IntN(c.most+1))
		}
		if c.left {
			b = units.Degrees(15 * rng.IntN(c.most+1))
		}
		sweep := c.sweep + a + b
		if sweep > 270 {
			sweep = 360
		}
		if turn(opened, c.id, c.start-a, sweep); sweep > c.sweep {
			heads++
		}
	}
	return right, opened, heads
}

// nozzleOfID is a nozzle of the catalogue.
func nozzleOfID(t testing.TB, id string) catalog.Nozzle {
	t.Helper()
	n, ok := catalog.FindNozzle(id)
	if !ok {
		t.Fatalf("no nozzle %s", id)
	}
	return n
}

// Heads opened over a bed by whole steps are turned in again: no more water of the
// lawn's zone is left on the bed than where they are set right, and the lawn is as even.
func TestWhatWasOpenedOverABedIsTurnedIn(t *testing.T) {
	t.Parallel()
	turned := 0
	for seed := range yards(3, 100) {
		right, opened, heads := openedYard(t, rand.New(rand.NewPCG(uint64(seed), 7)))
		got := keptOff(t, opened, "bed")
		turned += len(got.Changes)
		if !got.Offered {
			if others := brings(t, opened, "bed")["z1"]; others > 0.02 {
				t.Errorf("%d: %.3f in/h of the lawn stay: %s", seed, others, got.Says)
			}
			continue
		}
		if len(got.Changes) > heads {
			t.Errorf("%d: %d heads change, %d were opened", seed, len(got.Changes), heads)
		}
		after, err := plan.Preview(opened.Encode(), got.Patch)
		if err != nil {
			t.Fatal(err)
		}
		if want, is := brings(t, right, "bed")["z1"], brings(t, after, "bed")["z1"]; is > want+0.01 {
			t.Errorf("%d: %.4f in/h of the lawn come to the bed, set right %.4f", seed, is, want)
		}
		if want, is := evennessOf(t, right, "lawn"), evennessOf(t, after, "lawn"); is < want-0.01 {
			t.Errorf("%d: the lawn is %.3f even, set right %.3f", seed, is, want)
		}
	}
	if turned < 3 {
		t.Errorf("only %d heads were turned: the yards show nothing", turned)
	}
}

// bedIn puts a bed with two sprays of its own into a yard of anyLayout.
func bedIn(t testing.TB, p *plan.Plan, rng *rand.Rand) {
	b := p.Areas["lawn"].Outline.Bound()
	w, d := 5+rng.Float64()*8, 5+rng.Float64()*8
	x, y := b.Min[0]-w/2+rng.Float64()*(b.Max[0]-b.Min[0]), b.Min[1]-d/2+rng.Float64()*(b.Max[1]-b.Min[1])
	p.Areas["bed"] = plan.Area{Name: "Bed", Kind: plan.Planting, Planting: plan.Flowers, Outline: geom.Outline{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + d}, {X: x, Y: y + d}}}
	p.Zones["own"] = plan.Zone{Name: "Bed", Station: 9}
	p.Nozzles["spray-8-f"] = nozzleOfID(t, "spray-8-f")
	body, _ := bodyRow(p, "body-4-reg")
	p.Bodies["body-4-reg"] = body
	for i := range 2 {
		p.Heads[plan.ID(fmt.Sprintf("own%d", i))] = plan.Head{
			Nozzle: "spray-8-f", Body: "body-4-reg", Zone: "own", SweepDeg: 360,
			X: units.Feet(x + w*(0.3+0.4*float64(i))), Y: units.Feet(y + d/2),
		}
	}
}

// Whatever a yard is like, what is offered can be taken, keeps half of the water off and
// more, changes only arcs, nozzles and throws of heads that may be changed and stand for
// other ground, and spoils none of that.
func TestKeepOffOnAnyYard(t *testing.T) {
	t.Parallel()
	offered, sought := 0, 0
	for seed := range yards(20, 400) {
		rng := rand.New(rand.NewPCG(10, uint64(seed)))
		p := anyLayout(rng)
		bedIn(t, p, rng)
		p, err := plan.Decode(p.Encode())
		if err != nil {
			continue // areas that cross: no plan
		}
		sought++
		got := keptOff(t, p, "bed")
		if !got.Offered {
			if got.Patch != nil || len(got.Says) < 20 {
				t.Errorf("%d: not offered with %d bytes: %q", seed, len(got.Patch), got.Says)
			}
			continue
		}
		offered++
		spares(t, fmt.Sprint(seed), p, got)
	}
	if offered == 0 || offered < sought/20 {
		t.Errorf("%d of %d yards had an offer: they show nothing", offered, sought)
	}
	t.Logf("%d of %d yards had an offer", offered, sought)
}

// spares holds an offer to what every one must do.
func spares(t *testing.T, name string, p *plan.Plan, got *TurnOff) {
	t.Helper()
	after, err := plan.Preview(p.Encode(), got.Patch)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	is, err := coverage.Compute(context.Background(), after)
	if err != nil {
		t.Fatal(err)
	}
	own := map[plan.ID]bool{}
	for _, h := range r.Heads {
		own[p.Heads[h.ID].Zone] = own[p.Heads[h.ID].Zone] || h.Area == got.Area
	}
	on := func(r *coverage.Result) (sum float64) {
		for i := range r.Heads {
			if !own[p.Heads[r.Heads[i].ID].Zone] {
				sum += landedOn(&r.Heads[i], got.Area)
			}
		}
		return sum
	}
	if own[""] {
		return // heads of no zone stand for the bed, and are its own one by one
	}
	if was, left := on(r), on(is); left > (1-worthShare)*was+1e-9 {
		t.Errorf("%s: of %.3f gpm %.3f are left", name, was, left)
	}
	if len(is.LeftOut) != len(r.LeftOut) || len(is.Heads) != len(r.Heads) {
		t.Errorf("%s: %d heads cannot run, before %d", name, len(is.LeftOut), len(r.LeftOut))
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		was, h := p.Heads[id], after.Heads[id]
		if setCost(was, h) == 0 {
			continue
		}
		if was.Locked || was.Status == plan.Existing || own[was.Zone] || was.X != h.X || was.Y != h.Y || was.Zone != h.Zone || was.Body != h.Body || was.Tag != h.Tag {
			t.Errorf("%s: head %s goes from %+v to %+v", name, id, was, h)
		}
		before, err1 := coverage.Running(p, id)
		now, err2 := coverage.Running(after, id)
		if err1 != nil || err2 != nil || float64(now.Throw) < 0.75*float64(before.Throw)-1e-6 {
			t.Errorf("%s: head %s throws %v, before %v (%v, %v)", name, id, now.Throw, before.Throw, err1, err2)
		}
	}
	for i, a := range r.Areas {
		if a.ID != got.Area && float64(is.Areas[i].DU) < float64(a.DU)-mostUneven-1e-9 {
			t.Errorf("%s: %s goes from %.3f to %.3f", name, a.ID, float64(a.DU), float64(is.Areas[i].DU))
		}
	}
	for _, v := range []float64{float64(got.Before.Others), float64(got.After.Others), float64(got.After.Own)} {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			t.Errorf("%s: %+v %+v", name, got.Before, got.After)
		}
	}
}

// FuzzKeepOff asks drawn yards, bent in one way or another, to keep water off a bed:
// there is an answer or a sentence, and what is offered holds.
func FuzzKeepOff(f *testing.F) {
	for i := range uint64(10) {
		f.Add(i, uint8(i), 0.5+float64(i))
	}
	f.Fuzz(func(t *testing.T, seed uint64, way uint8, by float64) {
		rng := rand.New(rand.NewPCG(seed, 98))
		p := anyLayout(rng)
		bedIn(t, p, rng)
		bend(p, way, by)
		p, err := plan.Decode(p.Encode())
		if err != nil {
			return
		}
		o := Usual()
		o.Effort = 500
		for _, area := range []plan.ID{"bed", "lawn", "a0"} {
			got, err := KeepOff(context.Background(), p, area, o, nil)
			if refused(t, err) || !got.Offered {
				continue
			}
			spares(t, string(area), p, got)
		}
	})
}
