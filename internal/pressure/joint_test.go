package pressure

import (
	"strings"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Where the plan names no joint, each head loses what the generic joint of its
// body's inlet takes: at 3 gpm 1 psi in 1/2 in, and a quarter in 3/4 in, which takes
// 1 psi at 6 gpm. A row the plan names stands under every head.
func TestRowE5_TheJointFollowsTheBodysInlet(t *testing.T) {
	for _, c := range []struct {
		inlet units.Inches
		named plan.ID
		loss  float64
		size  string
	}{{0.5, "", 1, "1/2 in"}, {0.75, "", 0.25, "3/4 in"}, {0, "", 1, "1/2 in"}, {0.75, "swing-joint-0_5", 1, "1/2 in"}} {
		y := straight(1)
		y.flat("flat", 3)
		y.Bodies["body"] = catalog.Body{Name: "Body", InletIn: c.inlet}
		y.Supply.SwingJoint = c.named
		budget := y.compute().Zones[0].Budget
		last := budget[len(budget)-1]
		if last.Code != "swing_joint" || !strings.Contains(last.Says, c.size) {
			t.Errorf("inlet %g, named %q: %+v", float64(c.inlet), c.named, last)
		}
		near(t, last.Says, float64(last.Loss), c.loss, 0.101) // of two printed pressures
	}

	// heads of both kinds in one zone, each by its own joint
	y := straight(2)
	y.flat("flat", 3)
	y.Bodies["body"], y.Bodies["rotor"] = catalog.Body{Name: "Body", InletIn: 0.5}, catalog.Body{Name: "Rotor", InletIn: 0.75}
	apart := func(body plan.ID) float64 {
		h := y.Heads["h2"]
		h.Body = body
		y.Heads["h2"] = h
		z := y.compute().Zones[0]
		return float64(z.Heads[0].Inlet - z.Heads[1].Inlet)
	}
	near(t, "the second head gains by a larger joint", apart("body")-apart("rotor"), 0.75, 0.01)
}
