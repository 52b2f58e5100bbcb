package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// behindDeg is how far round from the wide gap a head must stand to count as
// behind the head at its end. A third of a circle; chosen.
const behindDeg = 120

// edgeHead is how near the outline a head stands that waters an edge, in feet.
// Past the set-backs in use; chosen.
const edgeHead = 1.5

// cure looks for the simplest mend of a wide pair: to slide one of the two
// towards the other until it stands halfway between that one and the next head
// behind it. The head must stay on its area, and an edge head on its edge. It
// returns the head to move, the place, and the head behind; "" when neither can.
func (s *survey) cure(area plan.ID, w *wide) (moved plan.ID, to orb.Point, beyond plan.ID) {
	least := math.Inf(1)
	for _, end := range [2][2]*spot{{w.a, w.b}, {w.b, w.a}} {
		behind := s.behind(area, end[0], end[1])
		if behind == nil {
			continue
		}
		slide := (w.distance - apart(end[0].at, behind.at)) / 2
		if slide < 1 || slide >= least {
			continue
		}
		place := towards(end[0].at, end[1].at, slide)
		if s.mayStand(area, end[0].at, place) {
			least, moved, to, beyond = slide, end[0].id, place, behind.id
		}
	}
	return moved, to, beyond
}

// behind is the nearest head of the area that stands on the far side of h, seen
// from other; nil when none does.
func (s *survey) behind(area plan.ID, h, other *spot) *spot {
	var best *spot
	heads := s.arcHeads(area)
	for i := range heads {
		k := &heads[i]
		if k.id == h.id || k.id == other.id {
			continue
		}
		turn := geom.NormDeg(geom.Bearing(h.at, k.at) - geom.Bearing(h.at, other.at))
		if min(turn, 360-turn) >= behindDeg && (best == nil || apart(h.at, k.at) < apart(h.at, best.at)) {
			best = k
		}
	}
	return best
}

// towards is the place at a distance from a on the way to b.
func towards(a, b orb.Point, distance float64) orb.Point {
	share := distance / apart(a, b)
	return orb.Point{a[0] + float64((b[0]-a[0])*share), a[1] + float64((b[1]-a[1])*share)}
}

func (s *survey) mayStand(area plan.ID, from, to orb.Point) bool {
	top := s.surfaceAt(to)
	if top == nil || top.id != area {
		return false
	}
	return top.edgeDistance(from) > edgeHead || top.edgeDistance(to) <= edgeHead
}

// edgeDistance is how far a place is from the outline or a hole, in feet.
func (l *land) edgeDistance(at orb.Point) float64 {
	least := math.Inf(1)
	for _, ring := range l.shape {
		d, _, _ := geom.DistanceToEdge(at, ring)
		least = min(least, d)
	}
	return least
}

// surfaceIDAt is the surface that water lands on at a place: an area, Undrawn or
// Outside.
func (s *survey) surfaceIDAt(at orb.Point) plan.ID {
	if top := s.surfaceAt(at); top != nil {
		return top.id
	}
	if hasLot(s.p) && s.onLot(at) {
		return Undrawn
	}
	return Outside
}

// onLot reports whether a place lies within the property line.
func (s *survey) onLot(at orb.Point) bool { return geom.RingContains(s.p.Site.Lot.Ring(), at) }

// surfaceAt is the area that has the ground at a place; nil outside every area.
func (s *survey) surfaceAt(at orb.Point) *land {
	var top *land
	for _, i := range s.ground.at(at) {
		l := &s.lands[i]
		if !l.bound.Contains(at) || l.Kind.Strength() < 0 || !geom.PolygonContains(l.shape, at) {
			continue
		}
		if top == nil || l.Kind.Strength() > top.Kind.Strength() || l.Kind == top.Kind && l.size < top.size {
			top = l
		}
	}
	return top
}
