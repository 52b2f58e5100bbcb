package arrange

import (
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// A head throws at a trunk inside its arc, within its throw and nearer than the
// clearance of the plan.
func TestHeadsThatThrowAtATrunk(t *testing.T) {
	t.Parallel()
	p := yard(map[plan.ID]plan.Area{"l": lawn(rect(0, 0, 40, 40))})
	p.Trees = map[plan.ID]plan.Tree{"near": {X: 20, Y: 20, TrunkIn: 12}, "beyond": {X: -8, Y: 20, TrunkIn: 12}, "far": {X: -30, Y: 20, TrunkIn: 12}}
	g := groundOn(t, p, "l")
	if len(g.trunks) != 2 {
		t.Fatalf("%d trunks are near the lawn, want the one on it and the one 8 ft off", len(g.trunks))
	}
	head := func(x, y, start, sweep, throw float64) stand {
		return stand{at: orb.Point{x, y}, start: units.Degrees(start), set: &setting{sweep: units.Degrees(sweep), throw: units.Feet(throw)}}
	}
	stays := head(14, 20, 0, 360, 15)
	stays.stays = true
	for _, c := range []struct {
		what string
		h    stand
		want int
	}{
		{"a full circle beside it", head(14, 20, 0, 360, 15), 1},
		{"a half circle to it", head(14, 20, 270, 180, 15), 1},
		{"a half circle from it", head(14, 20, 90, 180, 15), 0},
		{"an arc that ends at it", head(14, 20, 0, 90, 15), 0},
		{"one that throws too short", head(14, 20, 0, 360, 5), 0},
		{"one that stands well off", head(9, 20, 270, 180, 15), 0},
		{"a strip", head(14, 20, 0, 0, 15), 0},
		{"one at the edge that throws at the tree next door", head(0, 20, 90, 180, 15), 1},
		{"one that stays", stays, 0},
	} {
		if got := g.aimed([]stand{c.h}); got != c.want {
			t.Errorf("%s: %d, want %d", c.what, got, c.want)
		}
	}
	p.Options.LocalRules = map[plan.RuleID]plan.LocalRule{plan.TrunkClear: {Feet: 5}}
	if got := groundOn(t, p, "l").aimed([]stand{head(14, 20, 0, 360, 15)}); got != 0 {
		t.Errorf("with a clearance of 5 ft: %d, want none", got)
	}
}
