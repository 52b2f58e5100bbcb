package coverage

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wallWithin reports whether a wall, a fence or a building runs past the place
// within so many feet, the set-back from walls or a foot at most. It must run past, beside one of its
// pieces and not its end: a corner that only points at the head
// is not sprayed by it. Hedges may be wetted.
func (s *survey) wallWithin(at orb.Point, within float64) bool {
	return slices.ContainsFunc(s.walled.at(at), func(i int32) bool {
		a, b := s.pieces[i][0], s.pieces[i][1]
		foot := geom.NearestOnSegment(at, a, b)
		return apart(at, foot) < within && foot != a && foot != b
	})
}

// setSlack is how far within a set-back a head may stand before it is told, in
// feet: an eighth of an inch. Chosen.
const setSlack = 0.01

// closeToPaving finds heads nearer to paving than the set-back of the plan, or
// standing on it.
func closeToPaving(s *survey) []plan.Finding {
	var near, on []spot
	for _, h := range s.heads {
		switch d := s.pavingDistance(h.at); {
		case d <= 0:
			on = append(on, h)
		case d < s.rule(plan.SetBackPaving)-setSlack:
			near = append(near, h)
		}
	}
	var found []plan.Finding
	if len(on) > 0 {
		text := fmt.Sprintf("%s %s on paving.", plan.Capital(s.named(on)), plan.Choose(len(on), "stands", "stand"))
		found = append(found, plan.Found(plan.HeadCloseToPaving, text, refs(on)...).Ranked(plan.Stop).Looking(s.p.MiddleOf(refs(on))))
	}
	if len(near) > 0 {
		text := fmt.Sprintf("%s %s %s from the edge of paving, where %s is the least.",
			plan.Capital(s.named(near)), plan.Choose(len(near), "stands", "stand"), s.distances(near, s.pavingDistance), s.p.RuleLength(plan.SetBackPaving))
		f := plan.Found(plan.HeadCloseToPaving, text, refs(near)...).Looking(s.p.MiddleOf(refs(near)))
		found = append(found, s.p.ByRule(f, plan.SetBackPaving))
	}
	return found
}

// rule is what a local rule asks for in this plan, in feet.
func (s *survey) rule(id plan.RuleID) float64 {
	d, _ := s.p.LocalRule(id)
	return float64(d)
}

// pavingDistance is how far a place is from the nearest paving, in feet; 0 on
// it. Where no set-back is asked for a place on its very edge is not on it.
func (s *survey) pavingDistance(at orb.Point) float64 {
	if top := s.surfaceAt(at); top != nil && top.Kind == plan.Paving {
		if d := top.edgeDistance(at); s.rule(plan.SetBackPaving) > 0 || d > setSlack {
			return 0
		}
		return setSlack
	}
	least := math.Inf(1)
	for _, i := range s.ground.at(at) {
		l := &s.lands[i]
		if l.Kind == plan.Paving && l.bound.Pad(groundPad).Contains(at) {
			least = min(least, l.edgeDistance(at))
		}
	}
	return least
}

// distances prints the least and greatest of a distance over heads.
func (s *survey) distances(heads []spot, of func(orb.Point) float64) string {
	least, most := math.Inf(1), 0.0
	for _, h := range heads {
		d := of(h.at)
		least, most = min(least, d), max(most, d)
	}
	a, b := s.p.Show.Inches(units.Feet(least).Inches()), s.p.Show.Inches(units.Feet(most).Inches())
	if a == b {
		return a
	}
	return a + " to " + b
}
