package arrange

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// class is what water does where it lands.
type class uint8

const (
	onBare   class = iota // outside; on bare or undrawn ground
	onTarget              // where it is wanted
	onOther               // other planting
	onHard                // paving, building, right of way, water, off the lot
)

// lie is how the ground lies around an area: what each small square of it is,
// and the walls that stand in it. Arcs are chosen by it.
type lie struct {
	frame geom.Frame
	is    []class
	walls []geom.Segment
}

// lieCell is the side of its squares, feet (reference, section 7 step 2), and
// lieCells about the most of them, so that a park's take a few megabytes.
const (
	lieCell  = 0.2
	lieCells = 1_500_000
)

// newLie looks at the ground as far as the search's throws go.
func newLie(s *search) *lie {
	b := s.ground.shape.Bound().Pad(float64(s.reach()) + 1)
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	cell := max(lieCell, math.Sqrt(w*h/lieCells))
	l := &lie{walls: s.ground.walls}
	// A shift of no whole part of a foot: edges are drawn on whole feet, and would
	// run through the middles of squares.
	l.frame = geom.Frame{Origin: orb.Point{b.Min[0] - 0.3137*cell, b.Min[1] - 0.3137*cell}, Cell: cell,
		NX: int(w/cell) + 2, NY: int(h/cell) + 2}
	l.is = make([]class, l.frame.Size())
	l.ground(s)
	for _, poly := range s.ground.wet {
		l.paint(onTarget, poly...)
	}
	return l
}

// ground paints what lies around by the plan's areas, the stronger over the weaker
// as plan.Area has it.
func (l *lie) ground(s *search) {
	if s.p == nil {
		return
	}
	if lot, err := geom.Polygon(s.p.Site.Lot, nil); err == nil && len(lot) > 0 {
		for i := range l.is {
			l.is[i] = onHard
		}
		l.paint(onBare, lot...)
	}
	kinds := []struct {
		kind plan.Kind
		is   class
	}{
		{plan.RightOfWay, onHard}, {plan.Planting, onOther}, {plan.Ground, onBare},
		{plan.Paving, onHard}, {plan.Water, onHard}, {plan.Building, onHard},
	}
	for _, k := range kinds {
		for _, id := range plan.SortedIDs(s.p.Areas) {
			a := s.p.Areas[id]
			if a.Kind != k.kind || id == s.ground.id || !a.Status.Stands() {
				continue
			}
			if poly, err := geom.Polygon(a.Outline, a.Holes); err == nil {
				l.paint(k.is, poly...)
			}
		}
	}
}

// paint marks the squares whose middles the rings hold: nearly, by area.
func (l *lie) paint(is class, rings ...orb.Ring) {
	var m geom.Mask
	l.frame.Fill(&m, rings...)
	for i := range m.Rows() {
		full, part := m.Row(i)
		row := (m.Y0 + i) * l.frame.NX
		for _, s := range full {
			for x := s.X0; x < s.X1; x++ {
				l.is[row+int(x)] = is
			}
		}
		for _, p := range part {
			if p.Share > geom.Whole/2 {
				l.is[row+int(p.X)] = is
			}
		}
	}
}

// sight is how far a ray from p goes before a wall, at most r feet.
func (l *lie) sight(p orb.Point, sin, cos, r float64) float64 {
	for i := range l.walls {
		r = min(r, hits(p, sin, cos, l.walls[i].A, l.walls[i].B))
	}
	return r
}

// hits is how far along a ray from p the segment ab is met; infinite when it is
// not. A wall at the head's own foot is behind it or beside it, and is not met.
func hits(p orb.Point, sin, cos float64, a, b orb.Point) float64 {
	ax, ay := a[0]-p[0], a[1]-p[1]
	ex, ey := b[0]-a[0], b[1]-a[1]
	den := float64(cos*ey) - float64(sin*ex)
	if math.Abs(den) < 1e-12 {
		return math.Inf(1)
	}
	t := (float64(ax*ey) - float64(ay*ex)) / den   // along the ray
	u := (float64(ax*sin) - float64(ay*cos)) / den // along the wall, in its length
	if t < 0.05 || u < 0 || u > 1 {
		return math.Inf(1)
	}
	return t
}
