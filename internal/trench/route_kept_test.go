package trench

import (
	"math/rand/v2"
	"testing"

	"evenfall/internal/geom"
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
