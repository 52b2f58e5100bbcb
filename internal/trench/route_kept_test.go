package trench

import (
	"math/rand/v2"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// covered reports whether a line lies along pipes of a zone and status.
func covered(p *plan.Plan, was *plan.Plan, v plan.Pipe) bool {
	line := lineOf(was, v)
	for i := 1; i < len(line); i++ {
		for k := range 11 {
			q := along(line[i-1], line[i], float64(k)/10)
			on := false
			for _, w := range p.Pipes {
				if w.Zone == v.Zone && w.Status == v.Status && w.Locked == v.Locked && w.Class == v.Class && w.NominalIn == v.NominalIn {
					d, _, _ := geom.DistanceToEdge(q, lineOf(p, w))
					on = on || d < 0.03
				}
			}
			if !on {
				return false
			}
		}
	}
	return true
}

// Pipes that are locked or there already keep their lines, class and size, and the
// rest is joined to them.
func TestPipesThatStayAreUsed(t *testing.T) {
	t.Parallel()
	used := 0
	for seed := range uint64(rounds(10, 150)) {
		p := drawnYard(t, yardOf(3000+seed, 6+int(seed%4)*6, false))
		o := Options{Wire: seed%2 == 0, Effort: 500}
		first := propose(t, p, o)
		if len(first.Blocked) > 0 {
			continue
		}
		was, err := plan.Preview(p.Encode(), first.Offers[0].Patch)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(seed, 8))
		for _, id := range plan.SortedIDs(was.Pipes) {
			v := was.Pipes[id]
			v.NominalIn = 1
			switch r.IntN(5) {
			case 0:
				v.Locked = true
			case 1:
				v.Status = plan.Existing
			}
			was.Pipes[id] = v
		}
		// New heads far from the pipes of before.
		for _, id := range plan.SortedIDs(was.Heads) {
			if r.IntN(6) == 0 {
				h := was.Heads[id]
				was.Heads["n"+id] = plan.Head{Nozzle: h.Nozzle, Body: h.Body, X: h.X + 0.75, Y: h.Y, SweepDeg: 360, Zone: h.Zone}
			}
		}
		was = drawnYard(t, was)
		found := propose(t, was, o)
		if len(found.Blocked) > 0 {
			continue // a new head in a wall
		}
		used++
		next := was
		if found.Offers[0].Patch != nil {
			next = routedAround(t, was, found)
		}
		for _, id := range plan.SortedIDs(was.Pipes) {
			if v := was.Pipes[id]; (v.Locked || v.Status == plan.Existing) && !covered(next, was, v) {
				t.Errorf("seed %d: pipe %s was to stay", seed, id)
			}
		}
		if again := propose(t, next, o).Offers[0]; again.Patch != nil {
			t.Errorf("seed %d: asked again it changes %.300s", seed, again.Patch)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if used < 5 {
		t.Errorf("only %d yards", used)
	}
}

// Pipes that were dragged stay where all that is drawn is to be kept: with nothing
// new nothing changes, and a new head is joined to what is there.
func TestDraggedTrenchesStay(t *testing.T) {
	t.Parallel()
	moved, joined := 0, 0
	for seed := range uint64(rounds(6, 100)) {
		p := drawnYard(t, yardOf(4000+seed, 6+int(seed%4)*6, false))
		o := Options{Wire: seed%2 == 0, Effort: 500}
		first := propose(t, p, o)
		if len(first.Blocked) > 0 {
			continue
		}
		was, err := plan.Preview(p.Encode(), first.Offers[0].Patch)
		if err != nil {
			t.Fatal(err)
		}
		f := newField(was)
		for _, id := range plan.SortedIDs(was.Pipes) {
			v := was.Pipes[id]
			a, b := pointOf(was.Nodes[v.From].Spot()), pointOf(was.Nodes[v.To].Spot())
			if len(v.Via) > 0 || apart(a, b) < 4 {
				continue
			}
			mid := along(a, b, 0.5)
			off := 1.5 / apart(a, b)
			corner := geom.Vertex{X: mid[0] - off*(b[1]-a[1]), Y: mid[1] + off*(b[0]-a[0])}
			_, ok := f.walk(a, corner.Point())
			_, too := f.walk(corner.Point(), b)
			if ok && too {
				v.Via, v.NominalIn = []geom.Vertex{corner}, 1
				was.Pipes[id] = v
				moved++
			}
		}
		was = drawnYard(t, was)
		o.Keep, o.Wire = true, false // a run may have ended at what was dragged
		if a := propose(t, was, o).Offers[0]; a.Patch != nil {
			t.Errorf("seed %d: nothing is new and it changes %.300s", seed, a.Patch)
		}
		for _, id := range plan.SortedIDs(was.Heads)[:1] {
			h := was.Heads[id]
			was.Heads["new"] = plan.Head{Nozzle: h.Nozzle, Body: h.Body, X: h.X + 0.75, Y: h.Y, SweepDeg: 360, Zone: h.Zone}
		}
		was = drawnYard(t, was)
		o.Wire = seed%2 == 0
		found := propose(t, was, o)
		if len(found.Blocked) > 0 || found.Offers[0].Patch == nil {
			continue // in a wall, or on a pipe
		}
		joined++
		next := routedAround(t, was, found)
		for _, id := range plan.SortedIDs(was.Pipes) {
			if !covered(next, was, was.Pipes[id]) {
				t.Errorf("seed %d: pipe %s was to stay", seed, id)
			}
		}
		for _, id := range plan.SortedIDs(was.Wires) {
			if _, there := next.Wires[id]; !there {
				t.Errorf("seed %d: wire run %s was to stay", seed, id)
			}
		}
		if pipework.Of(next).HeadAt["new"] == "" {
			t.Errorf("seed %d: the new head is on no pipe", seed)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	if moved < 20 || joined < 3 {
		t.Errorf("only %d pipes dragged, %d heads joined", moved, joined)
	}
}

// routedAround is routedWell for a plan whose pipes that stay may be odd by
// themselves: they may end at nothing, but all that is new is joined.
func routedAround(t *testing.T, p *plan.Plan, found *Proposal) *plan.Plan {
	t.Helper()
	next, err := plan.Preview(p.Encode(), found.Offers[0].Patch)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range checked(next) {
		if f.Code != plan.PipeEnds && f.Code != plan.ZonesJoined {
			t.Errorf("%s: %+v", f.Code, f)
		}
	}
	staysOut(t, next)
	return next
}

// Zones that are not asked for keep their pipes and the main.
func TestOnlyTheZonesAskedAreRouted(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	found := propose(t, p, Options{Zones: []plan.ID{"z4"}, Effort: 1000})
	next := routedAround(t, p, found)
	liesApart(t, next)
	changed := 0
	for _, id := range plan.SortedIDs(p.Pipes) {
		v, now := p.Pipes[id], next.Pipes[id]
		same := v.From == now.From && v.To == now.To && len(v.Via) == len(now.Via)
		if v.Zone != "z4" && !same {
			t.Errorf("pipe %s of %q was changed", id, v.Zone)
		}
		if v.Zone == "z4" && !same {
			changed++
		}
	}
	if changed == 0 {
		t.Error("no pipe of the zone was changed")
	}
}
