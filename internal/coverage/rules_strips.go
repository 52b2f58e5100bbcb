package coverage

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// stripLocal is the width, in feet, under which some places allow no spray on
// strips: 23 CCR 492.7.
const stripLocal = 10.0

// thinStrips finds areas watered overhead that are thinner than the narrowest
// strip of the plan between pavings, and those under stripLocal watered by
// anything but strip nozzles.
func thinStrips(s *survey) []plan.Finding {
	var found []plan.Finding
	least := s.rule(plan.StripLeast)
	for i := range s.lands {
		l := &s.lands[i]
		if s.means[l.id] <= 0 || s.pavedEdges(l) < 2 {
			continue
		}
		heads := s.areas[l.id]
		if len(heads) == 0 {
			continue
		}
		about := append(refs(heads), plan.RefTo("areas", l.id))
		limit := ""
		switch {
		case l.thinner(least):
			limit = s.p.RuleLength(plan.StripLeast)
		case l.thinner(stripLocal) && !allStrips(heads):
			limit = s.p.Show.Length(stripLocal)
		default:
			continue
		}
		text := fmt.Sprintf("%s is nowhere wider than %s, with paving along two sides or more, and %s %s it.",
			plan.Capital(s.p.AreaName(l.id)), limit, s.named(heads), plan.Choose(len(heads), "sprays", "spray"))
		f := plan.Found(plan.NarrowStrip, text, about...).Looking(geom.InsidePoint(l.shape))
		if l.thinner(least) {
			f = s.p.ByRule(f, plan.StripLeast)
		} else {
			f = f.Ranked(plan.Notice)
		}
		found = append(found, f)
	}
	return found
}

// thinner reports whether no circle of the given width fits into the area. One
// of twice the area over the outline's length always does, which settles most
// areas at once.
func (l *land) thinner(width float64) bool {
	around := 0.0
	for _, ring := range l.shape {
		for i := 1; i < len(ring); i++ {
			around += apart(ring[i-1], ring[i])
		}
	}
	if 2*l.size > float64(width*around) {
		return false
	}
	c := l.bound.Center()
	half := max(l.bound.Max[0]-l.bound.Min[0], l.bound.Max[1]-l.bound.Min[1]) / 2
	return !l.holdsCircle(c, half, width/2-finestStrip)
}

// finestStrip is how finely a place for a circle is looked for, in feet: a
// quarter of an inch, which a strip may be under its width.
const finestStrip = 0.02

// holdsCircle looks for the middle of a circle of a radius within the square
// around c, by quarters: no place in a square is farther from the edge than its
// middle is and half its diagonal.
func (l *land) holdsCircle(c orb.Point, half, radius float64) bool {
	d := l.edgeDistance(c)
	if !geom.PolygonContains(l.shape, c) {
		d = -d
	}
	switch {
	case d >= radius:
		return true
	case d+half*math.Sqrt2 < radius || half < finestStrip:
		return false
	}
	h := half / 2
	return l.holdsCircle(orb.Point{c[0] - h, c[1] - h}, h, radius) || l.holdsCircle(orb.Point{c[0] + h, c[1] - h}, h, radius) ||
		l.holdsCircle(orb.Point{c[0] - h, c[1] + h}, h, radius) || l.holdsCircle(orb.Point{c[0] + h, c[1] + h}, h, radius)
}

// pavedEdges counts the edges of an area that have paving along them, within a
// foot of their middle.
func (s *survey) pavedEdges(l *land) int {
	n := 0
	for _, e := range edgesOf(l.shape[0]) {
		middle := orb.Point{(e[0][0] + e[1][0]) / 2, (e[0][1] + e[1][1]) / 2}
		for _, i := range s.ground.at(middle) {
			o := &s.lands[i]
			if (o.Kind == plan.Paving || o.Kind == plan.RightOfWay) && o.bound.Pad(groundPad).Contains(middle) && o.edgeDistance(middle) <= 1 {
				n++
				break
			}
		}
	}
	return n
}

// edgesOf are the straight edges of a ring, pieces of one direction joined.
func edgesOf(r orb.Ring) [][2]orb.Point {
	var out [][2]orb.Point
	for i := 1; i < len(r); i++ {
		if k := len(out) - 1; k >= 0 && math.Abs(turnBetween(out[k], r[i])) < 1 {
			out[k][1] = r[i]
			continue
		}
		out = append(out, [2]orb.Point{r[i-1], r[i]})
	}
	return out
}

// turnBetween is how far the way to the next place turns from an edge, degrees.
func turnBetween(edge [2]orb.Point, next orb.Point) float64 {
	turn := geom.NormDeg(geom.Bearing(edge[1], next) - geom.Bearing(edge[0], edge[1]))
	if turn > 180 {
		turn -= 360
	}
	return turn
}

func allStrips(heads []spot) bool {
	for _, h := range heads {
		if h.nozzle.Family != catalog.Strip {
			return false
		}
	}
	return true
}
