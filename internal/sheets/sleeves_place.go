package sheets

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// cornerTurn is how far an outline turns, in degrees, at what a person calls a
// corner. Chosen.
const cornerTurn = 20.0

// corner is a corner of paving that places are measured from.
type corner struct {
	name string
	area plan.ID
	at   orb.Point
}

// measured is how far along the edge of its paving a place is from a corner.
type measured struct {
	corner   int // of corners; -1: the outline has none
	along    units.Feet
	straight bool   // along one straight edge
	edge     string // by compass: "south"
	out      orb.Point
}

// corners are those that the ends of sleeves are measured from, and where each end is.
type corners struct {
	all []corner
	of  map[[2]int]measured // by number of the sleeve and its end
}

// cornersOf finds for both edges of every sleeve the nearest corner of the paving,
// along its outline, and names the corners as they are first used:
// K1, K2, since letters are the fixed points of the stake-out.
func cornersOf(p *plan.Plan, list []sleeve) corners {
	c := corners{of: map[[2]int]measured{}}
	for k := range list {
		s := &list[k]
		for end := range s.edges {
			m, at := nearestCorner(p, s.areas[end], s.edges[end].At)
			if m.corner >= 0 {
				m.corner = c.number(s.areas[end], at)
			}
			c.of[[2]int{s.number, end}] = m
		}
	}
	return c
}

func (c *corners) number(area plan.ID, at orb.Point) int {
	for i, have := range c.all {
		if have.area == area && have.at == at {
			return i
		}
	}
	c.all = append(c.all, corner{fmt.Sprintf("K%d", len(c.all)+1), area, at})
	return len(c.all) - 1
}

// nearestCorner measures from a place on the outline of a paving to the nearest of
// its corners, along the outline.
func nearestCorner(p *plan.Plan, area plan.ID, at orb.Point) (measured, orb.Point) {
	a := p.Areas[area]
	var ring orb.Ring
	edge, off := -1, math.Inf(1)
	var vertices geom.Outline
	for _, o := range append([]geom.Outline{a.Outline}, a.Holes...) {
		r := o.Ring()
		if d, _, k := geom.DistanceToEdge(at, r); d < off {
			ring, edge, off, vertices = r, k, d, o
		}
	}
	if edge < 0 {
		return measured{corner: -1}, at
	}
	m := measured{corner: -1, straight: true}
	x, y := ring[edge], ring[edge+1]
	length := math.Hypot(y[0]-x[0], y[1]-x[1])
	nx, ny := (y[1]-x[1])/length, -(y[0]-x[0])/length
	mid := orb.Point{(x[0] + y[0]) / 2, (x[1] + y[1]) / 2}
	if geom.PolygonContains(orb.Polygon{a.Outline.Ring()}, orb.Point{mid[0] + nx*0.05, mid[1] + ny*0.05}) {
		nx, ny = -nx, -ny
	}
	m.out = orb.Point{nx, ny}
	m.edge = p.Compass(orb.Point{}, m.out)
	isCorner := cornerSet(vertices)
	n := len(ring) - 1
	best, place := math.Inf(1), at
	for _, way := range []int{1, -1} {
		sum, from := 0.0, at
		k := edge
		if way > 0 {
			k = edge + 1
		}
		steps := 0
		for ; steps <= n; steps++ {
			q := ring[(k%n+n)%n]
			sum += math.Hypot(q[0]-from[0], q[1]-from[1])
			from = q
			if isCorner[q] {
				break
			}
			k += way
		}
		if steps <= n && sum < best {
			best, place, m.straight, m.corner = sum, from, steps == 0, 0
		}
	}
	m.along = units.Feet(best)
	return m, place
}

// cornerSet are the places where an outline turns as at a corner.
func cornerSet(o geom.Outline) map[orb.Point]bool {
	out := map[orb.Point]bool{}
	turns := o.Turns()
	for i, v := range o {
		if turns[i] >= cornerTurn {
			out[geom.Snap(v.Point())] = true
		}
	}
	return out
}

// place says where a sleeve leaves its paving at one end: along the edge from a
// corner, and how far past it the sleeve goes.
func (c *corners) place(p *plan.Plan, s *sleeve, end int) string {
	if end >= len(s.edges) {
		at := s.from
		if end == 1 {
			at = s.to
		}
		return p.Whereabouts(at)
	}
	e, m := s.edges[end], c.of[[2]int{s.number, end}]
	past := fmt.Sprintf("%s past it", p.Show.Length(e.Past))
	if e.Past < 0 {
		past = fmt.Sprintf("%s short of it", p.Show.Length(-e.Past))
	}
	if m.corner < 0 {
		return fmt.Sprintf("at the %s edge, %s; %s", m.edge, p.Whereabouts(e.At), past)
	}
	k := c.all[m.corner]
	return fmt.Sprintf("%s along the %s edge from corner %s (%s), %s", p.Show.Length(m.along), m.edge, k.name, cornerName(p, k), past)
}

// cornerName says which corner it is, by compass from the middle of the box about the
// paving, taken as square: the ends of a long walk are its corners, too.
func cornerName(p *plan.Plan, k corner) string {
	b := p.Areas[k.area].Outline.Bound()
	mid := b.Center()
	wide, high := max(b.Max[0]-b.Min[0], tinyBox), max(b.Max[1]-b.Min[1], tinyBox)
	return p.Compass(orb.Point{}, orb.Point{(k.at[0] - mid[0]) / wide, (k.at[1] - mid[1]) / high}) + " of " + p.AreaName(k.area)
}

// tinyBox keeps a box without width from being divided by.
const tinyBox = 1e-6
