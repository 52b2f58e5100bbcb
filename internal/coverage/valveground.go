package coverage

import (
	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// ValveGround tells where a valve box stands well on a plan, by the same rules
// that the findings about valves go by, so that a place offered is never found
// fault with.
type ValveGround struct{ s *survey }

// ValveGroundOf reads the ground of a plan.
func ValveGroundOf(p *plan.Plan) *ValveGround {
	bare := *p
	bare.Heads = nil // the ground does not depend on them
	return &ValveGround{look(&bare, &Result{}, &Field{})}
}

// Bad says in words what is wrong with a place for a valve box: "on Drive", "in
// Gas line, which is not to be dug"; "" when nothing is.
func (g *ValveGround) Bad(at orb.Point) string {
	if in := g.s.noDigAt(at); len(in) > 0 {
		return "in " + g.s.p.AreaName(in[0]) + ", which is not to be dug"
	}
	why, _ := g.s.badForValve(at)
	return why
}

// Surface is the area that has the ground at a place; "" outside every area.
func (g *ValveGround) Surface(at orb.Point) plan.ID {
	if top := g.s.surfaceAt(at); top != nil {
		return top.id
	}
	return ""
}

// Low reports whether a place lies in the lowest part of its planting's fall, where
// a box fills with water.
func (g *ValveGround) Low(at orb.Point) bool {
	top := g.s.surfaceAt(at)
	return top != nil && top.Kind == plan.Planting && g.s.lowIn(top, at)
}
