package coverage

import (
	"math"
	"math/bits"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// lips is what the sums leave out along edges.
type lips struct {
	edge  float64    // feet along any outline
	wall  float64    // feet along the walls
	walls []orb.Ring // sides of buildings, lines of walls and fences
	band  float64    // feet along the pavings that no overhead water may reach
	paved []orb.Ring // sides of the pavings, where there is a band
}

// lipsOf lists the lips of a plan. A hedge is not a wall: it may be wetted, so
// heads stand close to it.
func lipsOf(p *plan.Plan, plots []plot) lips {
	l := lips{edge: float64(p.EdgeLip()), wall: float64(p.WallLip())}
	band, _ := p.LocalRule(plan.BandPaving)
	l.band = float64(band)
	for _, q := range plots {
		if q.kind == plan.Building {
			l.walls = append(l.walls, q.rings...)
		}
		if q.kind == plan.Paving && l.band > 0 {
			l.paved = append(l.paved, q.rings...)
		}
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		b := p.Barriers[id]
		if line := b.Line.Points(); b.Status.Stands() && b.Kind != plan.Hedge && len(line) >= 2 {
			l.walls = append(l.walls, orb.Ring(line))
		}
	}
	return l
}

func sameLips(a, b lips) bool {
	same := func(q, r orb.Ring) bool { return slices.Equal(q, r) }
	return a.edge == b.edge && a.wall == b.wall && a.band == b.band &&
		slices.EqualFunc(a.walls, b.walls, same) && slices.EqualFunc(a.paved, b.paved, same)
}

// bandEdge takes from a target the bands along paving that overhead water may not
// reach, and moves the edge lip along them to its lip.
func (c *canvas) bandEdge(of int32, p plot, l lips) {
	if !(l.band > 0) {
		return
	}
	near := p.bound.Pad(l.band + l.edge)
	var close []orb.Ring
	for _, r := range l.paved {
		if r.Bound().Intersects(near) {
			close = append(close, r)
		}
	}
	c.leaveOut(of, of+2, p.bound, close, l.band)
	if l.edge > 0 {
		c.leaveOut(of, of+1, p.bound, close, l.band+l.edge)
	}
}

// wallEdge moves the ground of a target within the wall lip of a wall to its lip.
func (c *canvas) wallEdge(of int32, p plot, l lips) {
	near := p.bound.Pad(l.wall)
	var close []orb.Ring
	for _, r := range l.walls {
		if r.Bound().Intersects(near) {
			close = append(close, r)
		}
	}
	c.leaveOut(of, of+1, p.bound, close, l.wall)
}

// edge moves the ground of a target within lip feet of its edge to its lip.
//
// The edge of its ground is its own outline and, where stronger areas cover it,
// theirs: the first of plots is its own, the rest are the stronger. A place of
// its ground that is near a covered piece of outline is at least as near to what
// covers it, so that the whole outlines may be used and no ground need be cut
// out.
func (c *canvas) edge(of int32, plots []plot, lip float64) {
	near := plots[0].bound.Pad(lip)
	var close []orb.Ring
	for i, p := range plots {
		if i == 0 || p.bound.Intersects(near) {
			close = append(close, p.rings...)
		}
	}
	c.leaveOut(of, of+1, plots[0].bound, close, lip)
}

// leaveOut moves the ground of a target within a number of feet of some lines to
// another surface: its lip, or its bands.
func (c *canvas) leaveOut(of, to int32, bound orb.Bound, lines []orb.Ring, within float64) {
	if within <= 0 || len(lines) == 0 {
		return
	}
	if c.near == nil {
		c.near, c.nearShare = make([]uint64, len(c.label)), make([]float32, len(c.label))
	}
	b := &band{frame: c.frame, lip: within / c.frame.Cell, bits: c.near, share: c.nearShare}
	ground := c.frame.Around(bound).Within(c.frame)
	for _, r := range lines {
		b.along(r, ground)
	}
	for _, cell := range b.cells {
		c.yield(cell, of, to, b.bits[cell], b.share[cell])
		b.bits[cell], b.share[cell] = 0, 0
	}
}

// yield gives the sampled part of a cell from a target to its lip or band; share
// is how much that is of the cell where it is known better than by samples, or 0.
func (c *canvas) yield(cell int, of, to int32, in uint64, share float32) {
	head := c.label[cell]
	if head == of {
		part := sizeOf(in)
		if share > 0 && share < 1 {
			part = int32(share * geom.Whole)
		}
		if part >= geom.Whole {
			c.label[cell] = to
			return
		}
		if part > 0 {
			rest := c.link(piece{of, geom.Whole - part, ^in}, -1)
			c.label[cell] = ^c.link(piece{to, part, in}, rest)
		}
		return
	}
	if head >= 0 {
		return
	}
	for i := ^head; i >= 0; i = c.links[i].next {
		l := &c.links[i]
		if l.of != of {
			continue
		}
		all, taken := bits.OnesCount64(l.bits), bits.OnesCount64(l.bits&in)
		switch {
		case taken == all && (all > 0 || in != 0):
			l.of = to
		case taken > 0:
			size := int32(int64(l.size) * int64(taken) / int64(all))
			p := piece{to, size, l.bits & in}
			l.size -= size
			l.bits &^= in
			k := c.link(p, c.links[i].next)
			c.links[i].next = k
		}
		return
	}
}

func sizeOf(samples uint64) int32 {
	return int32(int64(bits.OnesCount64(samples)) * geom.Whole / 64)
}

// band is the sample places within lip cells of some segments.
type band struct {
	frame geom.Frame
	lip   float64
	bits  []uint64 // by cell
	// share is the part of the cell, exact where the band ends across it in one
	// straight line; severalLines where it does not.
	share []float32
	cells []int // those of bits that are not zero, in the order they were met
}

// along adds the places near a ring, inside a rectangle of cells.
func (b *band) along(r orb.Ring, ground geom.Cells) {
	for i := 0; i+1 < len(r); i++ {
		ax, ay := b.frame.Place(r[i])
		bx, by := b.frame.Place(r[i+1])
		y0 := max(int(math.Floor(min(ay, by)-b.lip)), ground.Y0)
		y1 := min(int(math.Ceil(max(ay, by)+b.lip)), ground.Y1)
		for y := y0; y < y1; y++ {
			x0, x1 := reachInRow(ax, ay, bx, by, float64(y)-b.lip, float64(y+1)+b.lip)
			lo := max(int(math.Floor(x0-b.lip)), ground.X0)
			hi := min(int(math.Ceil(x1+b.lip)), ground.X1)
			for x := lo; x < hi; x++ {
				b.near(x, y, orb.Point{ax, ay}, orb.Point{bx, by})
			}
		}
	}
}

// reachInRow is the range of x of a segment between two heights.
func reachInRow(ax, ay, bx, by, lo, hi float64) (x0, x1 float64) {
	if ay > by {
		ax, ay, bx, by = bx, by, ax, ay
	}
	at := func(y float64) float64 {
		if by == ay {
			return ax
		}
		return ax + (bx-ax)*min(max((y-ay)/(by-ay), 0), 1)
	}
	p, q := at(lo), at(hi)
	if by == ay {
		p, q = ax, bx
	}
	return min(p, q), max(p, q)
}

const halfDiagonal = math.Sqrt2 / 2

// near adds the places of one cell within lip of the segment ab, in cells.
func (b *band) near(x, y int, p, q orb.Point) {
	ox, oy := float64(x), float64(y)
	d := apartFrom(ox+0.5, oy+0.5, p, q)
	if far := b.lip + halfDiagonal; d >= far*far {
		return
	}
	cell := y*b.frame.NX + x
	had, met := b.bits[cell], b.bits[cell] != 0 || b.share[cell] != 0
	in := uint64(math.MaxUint64)
	if close := b.lip - halfDiagonal; close < 0 || d > close*close {
		in = had
		for left := ^had; left != 0; left &= left - 1 {
			k := bits.TrailingZeros64(left)
			sx, sy := geom.Sample(k)
			if apartFrom(ox+sx, oy+sy, p, q) <= b.lip*b.lip {
				in |= 1 << k
			}
		}
		b.edgeAcross(cell, ox+0.5, oy+0.5, p, q)
	} else {
		b.share[cell] = severalLines
	}
	if !met && (in != 0 || b.share[cell] != 0) {
		b.cells = append(b.cells, cell)
	}
	b.bits[cell] = in
}

// severalLines marks a cell in which the band ends in more than one line.
const severalLines = -1

// edgeAcross notes the share of a cell in the band of one segment. It is exact
// when the band ends across the cell beside the segment, not about its end.
func (b *band) edgeAcross(cell int, x, y float64, p, q orb.Point) {
	share := bandShare(x, y, p, q, b.lip)
	if share == 0 {
		return
	}
	if b.share[cell] != 0 {
		share = severalLines
	}
	b.share[cell] = float32(share)
}

// bandShare is the share of the unit square about (x, y) that lies within lip of the
// segment pq; severalLines when its end is near or both its sides are.
func bandShare(x, y float64, p, q orb.Point, lip float64) float64 {
	dx, dy := q[0]-p[0], q[1]-p[1]
	l := math.Hypot(dx, dy)
	if l == 0 || lip < 1 {
		return severalLines
	}
	ux, uy := dx/l, dy/l
	along := float64((x-p[0])*ux) + float64((y-p[1])*uy)
	if along < halfDiagonal || along > l-halfDiagonal {
		return severalLines
	}
	off := math.Abs(float64((x-p[0])*uy) - float64((y-p[1])*ux))
	return halfPlane(math.Abs(ux), math.Abs(uy), lip-off)
}

// halfPlane is the area of the unit square about the origin where n·p is at most
// d, n a unit vector with sides a and b.
func halfPlane(a, b, d float64) float64 {
	a, b = max(a, b), min(a, b)
	t := d + (a+b)/2
	switch {
	case t <= 0:
		return 0
	case t >= a+b:
		return 1
	case t < b:
		return t * t / (2 * a * b)
	case t <= a:
		return (t - b/2) / a
	}
	return 1 - (a+b-t)*(a+b-t)/(2*a*b)
}

// apartFrom is the square of the distance from a place to the segment pq.
func apartFrom(x, y float64, p, q orb.Point) float64 {
	dx, dy := q[0]-p[0], q[1]-p[1]
	x, y = x-p[0], y-p[1]
	l2 := float64(dx*dx) + float64(dy*dy)
	if l2 > 0 {
		t := min(max((float64(x*dx)+float64(y*dy))/l2, 0), 1)
		x -= float64(t * dx)
		y -= float64(t * dy)
	}
	return float64(x*x) + float64(y*y)
}
