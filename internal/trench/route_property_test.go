package trench

import (
	"context"
	"errors"
	"math"
	"os"
	"runtime"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/pipesize"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// routedWell holds an offer to what every one must be. It returns the plan with it.
func routedWell(t *testing.T, p *plan.Plan, found *Proposal, o Offer) *plan.Plan {
	t.Helper()
	next := p
	if o.Patch != nil {
		var err error
		if next, err = plan.Preview(p.Encode(), o.Patch); err != nil {
			t.Fatal(err)
		}
	}
	if m := o.Measures; m.Bound > m.Cost || m.Bound < 0 || math.IsNaN(m.Cost) || math.IsInf(m.Cost, 0) {
		t.Errorf("cost %g, bound %g", m.Cost, m.Bound)
	}
	reached := map[plan.Ref]bool{}
	for _, b := range found.Blocked {
		if len(b.Why) < 20 {
			t.Errorf("%s is blocked: %q", b.What, b.Why)
		}
		reached[b.What] = true
	}
	net := pipework.Of(next)
	if len(found.Blocked) == 0 {
		for _, f := range checked(next) {
			t.Errorf("%s: %+v", f.Code, f)
		}
	}
	for _, id := range plan.SortedIDs(next.Heads) {
		h := next.Heads[id]
		if _, ok := next.Zones[h.Zone]; ok && !reached[plan.RefTo("heads", id)] && len(found.Blocked) == 0 && net.HeadAt[id] == "" {
			t.Errorf("%s is on no pipe and nothing blocks it", id)
		}
	}
	for _, id := range plan.SortedIDs(next.Nodes) {
		n := next.Nodes[id]
		if v := next.Heads[n.Head]; n.Kind == "head" && (n.X != v.X || n.Y != v.Y) {
			t.Errorf("node %s does not stand at its head", id)
		}
		if z := next.Zones[n.Zone]; n.Kind == "valve" && (z.ValveAt == nil || *z.ValveAt != n.Spot()) {
			t.Errorf("node %s does not stand at its valve", id)
		}
	}
	staysOut(t, next)
	liesApart(t, next)
	if len(found.Blocked) == 0 {
		dugAsTold(t, next, net, o.Measures)
	}
	return next
}

// dugAsTold holds what is dug for a plan to what was told of it: its length, sleeves
// at every crossing, and a way for every wire that is asked for.
func dugAsTold(t *testing.T, p *plan.Plan, net *pipework.Network, m Measures) {
	t.Helper()
	digs, paved := Of(p, net), false
	for _, n := range p.Nodes {
		is, _ := newField(p).at(pointOf(n.Spot()))
		paved = paved || is == Paved // a sleeve to it ends there
	}
	for _, f := range Check(p, net, digs) {
		if f.Code == plan.SleeveMissing && !paved || f.Code == plan.SleeveShort && !paved || f.Code == plan.SleeveShared && len(p.Wires) > 0 {
			t.Errorf("%s: %+v", f.Code, f)
		}
	}
	holds := map[plan.ID]bool{}
	for _, x := range digs.Crossings {
		for _, n := range x.Needs {
			holds[n.Sleeve] = true
		}
	}
	for id, v := range p.Sleeves {
		if v.Status.IsNew() && !holds[id] && !paved {
			t.Errorf("sleeve %s for %s, from %v to %v, holds nothing", id, v.Carries, v.From, v.To)
		}
	}
	for _, w := range digs.Ways {
		if w.Missing != "" && len(p.Wires) > 0 {
			t.Errorf("%s: %s", w.To, w.Missing)
		}
	}
	if told, dug := float64(m.Trench), float64(digs.Totals.Trench); math.Abs(told-dug) > 0.05*told+2 {
		t.Errorf("told %.1f ft of trench, dug are %.1f ft", told, dug)
	}
}

// checked is what is wrong with the pipes of a plan.
func checked(p *plan.Plan) []plan.Finding { return pipework.Check(p, pipework.Of(p)) }

// lineOf is the way of a pipe.
func lineOf(p *plan.Plan, v plan.Pipe) orb.LineString {
	line := append(orb.LineString{pointOf(p.Nodes[v.From].Spot())}, v.Via.Points()...)
	return append(line, pointOf(p.Nodes[v.To].Spot()))
}

func rounds(small, thorough int) int {
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		return thorough
	}
	return small
}

// propose is Propose where something can be routed.
func propose(t *testing.T, p *plan.Plan, o Options) *Proposal {
	t.Helper()
	found, err := Propose(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestRoutesOfYardsDrawnByChance(t *testing.T) {
	t.Parallel()
	for seed := range uint64(rounds(10, 250)) {
		p := drawnYard(t, yardOf(seed, 4+int(seed%5)*5, seed%3 == 2))
		o := Options{Wire: seed%2 == 0, Valves: []Placing{AsPlaced, Weighed}[seed/2%2], Effort: 1500}
		found, err := Propose(context.Background(), p, o, nil)
		var no *Refusal
		if errors.As(err, &no) {
			t.Logf("seed %d: %s", seed, no.Sentence)
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		for i, offer := range found.Offers {
			if i > 0 && len(found.Blocked) > 0 {
				break // told of the first
			}
			next := routedWell(t, p, found, offer)
			if t.Failed() {
				t.Fatalf("seed %d, offer %d", seed, i)
			}
			if i > 0 {
				continue
			}
			again := propose(t, next, o)
			if a := again.Offers[0]; a.Patch != nil {
				t.Errorf("seed %d: asked again it changes %.300s", seed, a.Patch)
			}
		}
	}
}

// Sizes put in afterwards change no way, and routes that are asked for again change
// neither: one pass settles.
func TestSizesMoveNoTrench(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	o := Options{Wire: true, Effort: 3000}
	routed := routedWell(t, p, propose(t, p, o), propose(t, p, o).Offers[0])
	sized, err := pipesize.Propose(context.Background(), routed, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	next, err := plan.Preview(routed.Encode(), sized.Patch)
	if err != nil {
		t.Fatal(err)
	}
	if a := propose(t, next, o).Offers[0]; a.Patch != nil {
		t.Errorf("with sizes it changes %s", a.Patch)
	}
}

func TestOneCoreOrMany(t *testing.T) {
	p := drawnYard(t, yardOf(3, 20, false))
	o := Options{Wire: true, Valves: Weighed, Effort: 1000}
	many := propose(t, p, o)
	was := runtime.GOMAXPROCS(1)
	one := propose(t, p, o)
	runtime.GOMAXPROCS(was)
	if !slices.EqualFunc(many.Offers, one.Offers, func(a, b Offer) bool { return string(a.Patch) == string(b.Patch) && a.Says == b.Says }) {
		t.Error("the answer differs")
	}
}

func TestStoppedAtOnce(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	last := -1
	_, err := Propose(ctx, demoYard(t), Options{Wire: true}, func(done, total int) {
		if done < last || done > total {
			t.Errorf("progress went from %d to %d of %d", last, done, total)
		}
		if last = done; done > 100 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func FuzzRoutes(f *testing.F) {
	f.Add(uint64(1), uint8(8), true, true)
	f.Add(uint64(7), uint8(20), false, true)
	f.Add(uint64(12), uint8(3), true, false)
	f.Fuzz(func(t *testing.T, seed uint64, heads uint8, harsh, weighed bool) {
		p, err := plan.Decode(yardOf(seed, 1+int(heads%24), harsh).Encode())
		if err != nil {
			return // drawn in a way no plan allows
		}
		o := Options{Wire: seed%2 == 0, Effort: 300}
		if weighed {
			o.Valves = Weighed
		}
		found, err := Propose(context.Background(), p, o, nil)
		var no *Refusal
		if errors.As(err, &no) && len(no.Sentence) > 20 {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		routedWell(t, p, found, found.Offers[0])
	})
}
