package arrange

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// anyLayout draws a yard with heads set at random: on and off their ground, of any
// nozzle in any body, locked, existing or to be removed, in a zone or in none.
func anyLayout(rng *rand.Rand) *plan.Plan {
	p := plan.Empty("Yard", []units.System{units.US, units.Metric}[rng.IntN(2)])
	w, d := float64(12+rng.IntN(40)), float64(10+rng.IntN(30))
	lawn := geom.Outline{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: d}, {X: 0, Y: d}}
	if rng.IntN(3) == 0 {
		lawn = geom.Outline{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: d / 2}, {X: w / 2, Y: d / 2}, {X: w / 2, Y: d}, {X: 0, Y: d}}
	}
	p.Areas = map[plan.ID]plan.Area{"lawn": {Name: "Lawn", Kind: plan.Planting, Outline: lawn}}
	kinds := []plan.Kind{plan.Paving, plan.Building, plan.Ground, plan.Planting, plan.NoDig, plan.Water}
	for i := range rng.IntN(4) {
		x, y := rng.Float64()*w-8, rng.Float64()*d-8
		p.Areas[plan.ID(fmt.Sprintf("a%d", i))] = plan.Area{Kind: kinds[rng.IntN(len(kinds))], Outline: geom.Outline{
			{X: x, Y: y}, {X: x + 4 + rng.Float64()*12, Y: y}, {X: x + 4 + rng.Float64()*4, Y: y + 6 + rng.Float64()*8}, {X: x, Y: y + 6},
		}}
	}
	if rng.IntN(2) == 0 {
		p.Site.Lot = geom.Outline{{X: -6, Y: -4}, {X: w + 2, Y: -4}, {X: w + 2, Y: d + 3}, {X: -6, Y: d + 3}}
	}
	if rng.IntN(2) == 0 {
		p.Trees = map[plan.ID]plan.Tree{"t1": {X: units.Feet(rng.Float64() * w), Y: units.Feet(rng.Float64() * d), TrunkIn: 10}}
	}
	p.Zones = map[plan.ID]plan.Zone{"z1": {Name: "Lawn", Station: 1}, "z2": {Name: "Rest", Pressure: 40}}
	p.Nozzles, p.Bodies, p.Heads = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}, map[plan.ID]plan.Head{}
	nozzles, bodies := catalog.Nozzles(), catalog.Bodies()
	for i := range 1 + rng.IntN(9) {
		n, b := nozzles[rng.IntN(len(nozzles))], bodies[rng.IntN(len(bodies))]
		p.Nozzles[plan.ID(n.ID)], p.Bodies[plan.ID(b.ID)] = n.Nozzle, b.Body
		h := plan.Head{
			Nozzle: plan.ID(n.ID), Body: plan.ID(b.ID), X: units.Feet(rng.Float64()*(w+4) - 2), Y: units.Feet(rng.Float64()*(d+4) - 2),
			Zone: []plan.ID{"", "z1", "z1", "z2"}[rng.IntN(4)], Locked: rng.IntN(6) == 0,
			Status: []plan.Status{plan.New, plan.New, plan.New, plan.Existing, plan.Remove}[rng.IntN(5)],
		}
		if rng.IntN(2) == 0 {
			h.Tag = fmt.Sprintf("1-%d", i+1)
		}
		if n.Family != catalog.Strip {
			h.StartDeg = units.Degrees(rng.IntN(360))
			h.SweepDeg = []units.Degrees{n.ArcMost, n.ArcLeast, 90, 180, 360}[rng.IntN(5)]
		} else {
			h.StartDeg = units.Degrees(90 * rng.IntN(4))
		}
		if rng.IntN(3) == 0 {
			throw := units.Feet(5 + rng.IntN(20))
			h.ThrowFt = &throw
		}
		p.Heads[plan.ID(fmt.Sprintf("h%d", i+1))] = h
	}
	return p
}

// Whatever a yard is like, mends can be taken, never raise the trouble, bring no
// stop that was not there, and leave alone what is to stay.
func TestImproveOnAnyLayout(t *testing.T) {
	t.Parallel()
	yards := 8
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		yards = 400
	}
	mends := make(chan int, yards)
	t.Run("yards", func(t *testing.T) {
		for i := range yards {
			t.Run(fmt.Sprint(i), func(t *testing.T) {
				t.Parallel()
				p, err := plan.Decode(anyLayout(rand.New(rand.NewPCG(5, uint64(i)))).Encode())
				if err != nil {
					mends <- 0
					return // areas that cross: no plan
				}
				o := Usual()
				o.Effort = 1500
				got := improved(t, p, o)
				holds(t, p, got)
				mends <- len(got.Mends)
			})
		}
	})
	close(mends)
	sum, drawn := 0, len(mends)
	for n := range mends {
		sum += n
	}
	if sum < drawn/2 {
		t.Errorf("only %d mends on %d yards: the yards show nothing", sum, drawn)
	}
}
