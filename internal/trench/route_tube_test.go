package trench

import (
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// A sleeve that is there is used though the way to it is longer, and none is laid
// beside it; one for wire alone is not, nor one that is so far off that a new one
// costs less.
func TestSleevesThatAreThereAreUsed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, carries string
		at            units.Feet
		status        plan.Status
		locked, used  bool
	}{
		{"there already", "", 30, plan.Existing, false, true},
		{"for pipe", "pipe", 30, plan.Existing, false, true},
		{"drawn and locked", "pipe", 30, plan.New, true, true},
		{"for wire", "wire", 30, plan.Existing, false, false},
		{"far off", "", 120, plan.Existing, false, false},
		{"to go away", "", 30, plan.Remove, false, false},
	} {
		p := drawnYard(t, yardOf(1, 1, false))
		spot := func(x, y units.Feet) *plan.Spot { return &plan.Spot{X: x, Y: y} }
		h := p.Heads["h000"]
		h.X, h.Y = 12, 30
		p.Heads = map[plan.ID]plan.Head{"h000": h}
		p.Zones = map[plan.ID]plan.Zone{"z00": {Name: "Lawn", Station: 1, ValveAt: spot(12, 4)}}
		p.Site.Lot, p.Trees = nil, nil
		p.Areas = map[plan.ID]plan.Area{"walk": {Name: "Walk", Kind: plan.Paving, Status: plan.Existing,
			Outline: geom.Outline{{X: -200, Y: 10}, {X: 200, Y: 10}, {X: 200, Y: 15}, {X: -200, Y: 15}}}}
		p.Supply.Connection, p.Supply.BackflowAt, p.Controller = spot(5, 4), nil, plan.Controller{}
		p.Sleeves = map[plan.ID]plan.Sleeve{"old": {From: *spot(c.at, 9), To: *spot(c.at, 16), NominalIn: 2, Carries: c.carries, Status: c.status, Locked: c.locked}}
		p = drawnYard(t, p)
		found := propose(t, p, Options{})
		next, err := plan.Preview(p.Encode(), found.Offers[0].Patch)
		if err != nil {
			t.Fatal(err)
		}
		through := false
		for _, v := range next.Pipes {
			d, _, _ := geom.DistanceToEdge(orb.Point{float64(c.at), 12.5}, lineOf(next, v))
			through = through || d < 0.05
		}
		if through != c.used || (len(next.Sleeves) == 1) != c.used {
			t.Errorf("%s: pipe goes through it: %v, with it there are %d sleeves", c.name, through, len(next.Sleeves))
		}
		for _, f := range Check(next, pipework.Of(next), Of(next, pipework.Of(next))) {
			t.Errorf("%s: %s %s", c.name, f.Code, f.Sentence)
		}
	}
}
