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

// pavedEdges counts the sides of an area that have paving along them.
func (s *survey) pavedEdges(l *land) int {
	var paved []orb.Polygon
	for _, i := range s.ground.touching(l.bound) {
		if o := &s.lands[i]; o.Kind == plan.Paving || o.Kind == plan.RightOfWay {
			paved = append(paved, o.shape)
		}
	}
	return PavedSides(l.shape[0], paved)
}

// besidePaving is how near to the middle of a side paving lies along it, in feet.
// Chosen.
const besidePaving = 1.0

// PavedSides counts the sides of a closed outline that have one of the pavings
// along them, within a foot of their middle. A side runs to the next corner, which
// turns more than 30°, or until it has bent by 90° in all: a bend in a walk makes no
// second side of it.
func PavedSides(outline orb.Ring, paved []orb.Polygon) int {
	n := 0
	for _, side := range sidesOf(outline) {
		middle := middleOf(side)
		for _, poly := range paved {
			if poly.Bound().Pad(besidePaving).Contains(middle) && besideRings(middle, poly) {
				n++
				break
			}
		}
	}
	return n
}

func besideRings(at orb.Point, poly orb.Polygon) bool {
	for _, ring := range poly {
		if d, _, _ := geom.DistanceToEdge(at, ring); d <= besidePaving {
			return true
		}
	}
	return false
}

// sidesOf cuts a closed ring into its sides, from its first corner on.
func sidesOf(r orb.Ring) []orb.LineString {
	n := len(r) - 1
	if n < 2 {
		return nil
	}
	turn := func(i int) float64 {
		return math.Remainder(geom.Bearing(r[i%n], r[(i+1)%n])-geom.Bearing(r[(i+n-1)%n], r[i%n]), 360)
	}
	first := 0
	for i := range n {
		if math.Abs(turn(i)) > cornerTurn {
			first = i
			break
		}
	}
	var out []orb.LineString
	side, bent := orb.LineString{r[first]}, 0.0
	for k := 1; k <= n; k++ {
		side = append(side, r[(first+k)%n])
		t := turn(first + k)
		if bent += math.Abs(t); math.Abs(t) > cornerTurn || bent > 90 || k == n {
			out = append(out, side)
			side, bent = orb.LineString{r[(first+k)%n]}, 0
		}
	}
	return out
}

// middleOf is the place half way along a line.
func middleOf(line orb.LineString) orb.Point {
	whole := 0.0
	for i := 1; i < len(line); i++ {
		whole += apart(line[i-1], line[i])
	}
	left := whole / 2
	for i := 1; i < len(line); i++ {
		d := apart(line[i-1], line[i])
		if d > 0 && d >= left {
			return towards(line[i-1], line[i], left)
		}
		left -= d
	}
	return line[0]
}

func allStrips(heads []spot) bool {
	for _, h := range heads {
		if h.nozzle.Family != catalog.Strip {
			return false
		}
	}
	return true
}
