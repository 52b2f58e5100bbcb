package proof

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// Every head that stands is walked to once, new ones in the order of their flags.
func TestWalkMeetsEveryHeadOnce(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withOwn(p)
	for i, id := range plan.SortedIDs(q.Heads) {
		h := q.Heads[id]
		switch i % 4 {
		case 1:
			h.Status = plan.Existing
		case 2:
			h.Status = plan.Remove
		}
		q.Heads[id] = h
	}
	d := designed(t, q)
	for name, s := range map[string]*stakeout.Plan{"of its own": nil, "of new heads": stakeout.Of(q, d.Digs), "empty": {}} {
		seen := map[plan.ID]int{}
		var order []plan.ID
		for _, step := range Walk(q, d, s) {
			seen[step.ID]++
			order = append(order, step.ID)
			if step.Where == "" || step.Throw == "" || step.Nozzle == "" || step.Edge == "" || step.Arc == "" {
				t.Errorf("%s: %+v lacks something", name, step)
			}
		}
		for id, h := range q.Heads {
			if want := map[bool]int{true: 1}[h.Status.Stands()]; seen[id] != want {
				t.Errorf("%s: %s is walked to %d times", name, id, seen[id])
			}
		}
		if s == nil {
			continue
		}
		last := -1
		for i := range s.Flags {
			c, id := s.Flags[i].Of.Split()
			if c != "heads" {
				continue
			}
			if at := slices.Index(order, id); at < last {
				t.Errorf("%s: %s comes out of the order of flags", name, id)
			} else {
				last = at
			}
		}
	}
}

// A head there already comes where the way grows least: the way is no longer than with it
// at any other place.
func TestOldHeadsLieOnTheWay(t *testing.T) {
	t.Parallel()
	var walk []orb.Point
	for i := range 12 {
		walk = append(walk, orb.Point{7 * float64(i), float64((i * 37) % 11)})
	}
	late := orb.Point{40, 3}
	length := func(at int) float64 {
		way, sum := slices.Insert(slices.Clone(walk), at, late), 0.0
		for i := 1; i < len(way); i++ {
			sum += math.Hypot(way[i][0]-way[i-1][0], way[i][1]-way[i-1][1])
		}
		return sum
	}
	got := length(leastDetour(walk, late))
	for i := 1; i <= len(walk); i++ {
		if other := length(i); other < got-1e-9 {
			t.Errorf("at %d the way is %g, as chosen %g", i, other, got)
		}
	}
}

// What a head was found and set as is told in words; letters come with their names.
func TestWalkTellsStateAndLandmarks(t *testing.T) {
	t.Parallel()
	p, d := demo(t)
	q := withOwn(p)
	h := q.Heads["h2-5"]
	toward := units.Degrees(270)
	h.State = &plan.HeadState{SetOn: "2026-05-01", Faults: []string{"tilted", "wrong_nozzle"}, TiltDeg: 9, TiltToward: &toward, Nozzle: "Spray 15 ft, half", Note: "by the hose"}
	q.Heads["h2-5"] = h
	steps := map[plan.ID]HeadStep{}
	for _, s := range Walk(q, d, nil) {
		steps[s.ID] = s
	}
	got := steps["h2-5"]
	if got.SetOn != "2026-05-01" || got.Note != "by the hose" || !slices.Equal(got.Faults, []string{"leans 9° to the south", "wrong nozzle: Spray 15 ft, half"}) {
		t.Errorf("%+v", got)
	}
	if got := steps["h4-9"].Edge; !strings.HasPrefix(got, "left edge along Fence by the side lawn, going north, right stop toward R (") {
		t.Error(got)
	}
	if got := steps["h1-2"].Turn; got != `turned down 19 % from 16' 0" by its screw` {
		t.Error(got)
	}
	if steps["h1-5"].Turn != "" || steps["h1-6"].Edge != "all round: no edge to turn" {
		t.Errorf("%+v %+v", steps["h1-5"], steps["h1-6"])
	}
}

func BenchmarkWalk(b *testing.B) {
	p, d := demo(b)
	for b.Loop() {
		Walk(p, d, nil)
	}
}
