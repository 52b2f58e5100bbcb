package stakeout

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// The walk is shorter than one that goes to the nearest flag each time, which leaves
// flags behind and comes back for them.
func TestTheWalkIsShorterThanFromNearestToNearest(t *testing.T) {
	t.Parallel()
	walked, nearest := 0.0, 0.0
	for seed := range uint64(24) {
		p := yardOf(seed, 40)
		targets := targetsOf(p, nil, nil)
		w := &work{p: p, g: groundOf(p), s: &Plan{Tape: Reach}, lettered: map[int]int{}}
		way := func(i, k int) float64 {
			d := math.Hypot(targets[i].At[0]-targets[k].At[0], targets[i].At[1]-targets[k].At[1])
			if !w.g.walls.sees(targets[i].At, targets[k].At) {
				d += roundAbout
			}
			return d
		}
		path := w.walk(targets)
		if len(path) != len(targets) {
			t.Fatalf("yard %d: %d flags of %d are walked to", seed, len(path), len(targets))
		}
		for k := range path[1:] {
			walked += way(path[k], path[k+1])
		}
		done := map[int]bool{path[0]: true}
		for here := path[0]; len(done) < len(targets); {
			next := -1
			for i := range targets {
				if !done[i] && (next < 0 || way(here, i) < way(here, next)) {
					next = i
				}
			}
			nearest += way(here, next)
			done[next], here = true, next
		}
	}
	if walked > 0.95*nearest {
		t.Errorf("the walks are %.0f ft, from nearest to nearest %.0f ft", walked, nearest)
	}
	t.Logf("shown: walks of %.0f ft, from nearest to nearest %.0f ft", walked, nearest)
}

// A strip is said to water the side of its way that its nozzle does.
func TestStripsWaterTheSideTheyAreSaidTo(t *testing.T) {
	t.Parallel()
	p, s := stakedOut(t, demo(t))
	sides := map[string]int{}
	for id, a := range Aims(p, s) {
		n := p.Nozzles[p.Heads[id].Nozzle]
		if n.Family != catalog.Strip {
			continue
		}
		side, other := "left", "right"
		if n.Strip.Right > n.Strip.Left {
			side, other = other, side
		}
		sides[side]++
		if !strings.Contains(a.Left, "water on the "+side+" of that") || strings.Contains(a.Left, "on the "+other) {
			t.Errorf("head %s, %s: %q", p.Heads[id].Tag, plan.Capital(n.Name), a.Left)
		}
	}
	if sides["left"] == 0 || sides["right"] == 0 {
		t.Errorf("the demo has strips of both hands, found %v", sides)
	}
}
