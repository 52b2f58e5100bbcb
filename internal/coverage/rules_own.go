package coverage

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// inBands finds water thrown on the bands along paving that no overhead water may
// reach, zone by zone as on paving.
func inBands(s *survey) []plan.Finding {
	found := s.thrownOn(plan.BandWetted, func(o OffTarget) bool { return o.Surface == Band })
	for i := range found {
		found[i] = s.p.ByRule(found[i], plan.BandPaving)
	}
	return found
}

// ownSetBack is a set-back that is looked for only where the plan has a figure of
// its own: by custom alone a head a hair within it is no mistake.
type ownSetBack struct {
	rule     plan.RuleID
	what     string
	distance func(*survey, spot) float64 // feet; infinite where there is nothing
}

// ownSetBacks finds heads nearer to something than the plan's own rules allow.
// Paving and walls have checks of their own.
func ownSetBacks(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, own := range []ownSetBack{
		{plan.SetBackStreet, "the street or right of way", (*survey).streetDistance},
		{plan.SetBackLot, "the property line", (*survey).lotDistance},
		{plan.SetBackTrunk, "a trunk", (*survey).trunkDistance},
		{plan.SetBackOther, "the edge of what it waters", (*survey).otherDistance},
	} {
		if !s.p.HasOwnRule(own.rule) || s.rule(own.rule) <= 0 {
			continue
		}
		var near []spot
		for _, h := range s.heads {
			if own.distance(s, h) < s.rule(own.rule)-setSlack {
				near = append(near, h)
			}
		}
		if len(near) == 0 {
			continue
		}
		text := fmt.Sprintf("%s %s nearer to %s than %s.",
			plan.Capital(s.named(near)), plan.Choose(len(near), "stands", "stand"), own.what, s.p.RuleLength(own.rule))
		f := plan.Found(plan.SetBackLocal, text, refs(near)...).Looking(s.p.MiddleOf(refs(near)))
		found = append(found, s.p.ByRule(f, own.rule))
	}
	return found
}

// streetDistance is how far a head is from the nearest right of way, from what of it
// nothing drawn over it has the ground; 0 on it.
func (s *survey) streetDistance(h spot) float64 {
	if s.streets == nil {
		s.streets = s.openStreets()
	}
	least := math.Inf(1)
	within := s.rule(plan.SetBackStreet)
	for i := range s.streets {
		l := &s.streets[i]
		if !l.bound.Pad(within).Contains(h.at) {
			continue
		}
		if geom.PolygonContains(l.shape, h.at) {
			return 0
		}
		least = min(least, l.edgeDistance(h.at))
	}
	return least
}

// openStreets are the rights of way less what lies over them: every other kind that
// takes ground has it from them. One that geometry cannot do that for stays as drawn.
func (s *survey) openStreets() []land {
	out := []land{}
	for _, street := range s.lands {
		if street.Kind != plan.RightOfWay {
			continue
		}
		left := orb.MultiPolygon{street.shape}
		var over []orb.MultiPolygon
		for i := range s.lands {
			if l := &s.lands[i]; l.Kind.Strength() > street.Kind.Strength() && l.bound.Intersects(street.bound) {
				over = append(over, orb.MultiPolygon{l.shape})
			}
		}
		if all, err := geom.Union(over...); err == nil && len(all) > 0 {
			if less, err := geom.Difference(left, all); err == nil {
				left = less
			}
		}
		for _, shape := range left {
			out = append(out, land{Area: street.Area, id: street.id, shape: shape, bound: shape.Bound()})
		}
	}
	return out
}

// lotDistance is how far a head is within the property line; 0 beyond it.
func (s *survey) lotDistance(h spot) float64 {
	if !hasLot(s.p) {
		return math.Inf(1)
	}
	ring := s.p.Site.Lot.Ring()
	if !geom.RingContains(ring, h.at) {
		return 0
	}
	d, _, _ := geom.DistanceToEdge(h.at, ring)
	return d
}

// trunkDistance is how far a head is from the bark of the nearest trunk.
func (s *survey) trunkDistance(h spot) float64 {
	least := math.Inf(1)
	for _, t := range s.p.Trees {
		if t.Status.Stands() {
			least = min(least, apart(h.at, orb.Point{float64(t.X), float64(t.Y)})-float64(t.TrunkIn)/24)
		}
	}
	return max(least, 0)
}

// otherDistance is how far a head is from the edge of the area it stands for where
// neither paving, nor a street, a wall or the property line runs along it; those
// have rules of their own.
func (s *survey) otherDistance(h spot) float64 {
	i, ok := s.landOf[h.reading.Area]
	if !ok {
		return math.Inf(1)
	}
	l := &s.lands[i]
	least := math.Inf(1)
	for _, ring := range l.shape {
		for k := 0; k+1 < len(ring); k++ {
			foot := geom.NearestOnSegment(h.at, ring[k], ring[k+1])
			if d := apart(h.at, foot); d < least && !s.keptByOther(foot) {
				least = d
			}
		}
	}
	return least
}

// keptByOther reports whether a place on an edge lies along something that has a
// set-back of its own.
func (s *survey) keptByOther(foot orb.Point) bool {
	const along = 0.1 // feet: what a drawing leaves between two outlines
	for _, i := range s.ground.at(foot) {
		o := &s.lands[i]
		switch o.Kind {
		case plan.Paving, plan.Building, plan.RightOfWay:
			if o.edgeDistance(foot) <= along {
				return true
			}
		}
	}
	for _, i := range s.walled.at(foot) {
		if apart(foot, geom.NearestOnSegment(foot, s.pieces[i][0], s.pieces[i][1])) <= along {
			return true
		}
	}
	if hasLot(s.p) {
		d, _, _ := geom.DistanceToEdge(foot, s.p.Site.Lot.Ring())
		return d <= along
	}
	return false
}
