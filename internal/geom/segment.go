package geom

import "github.com/paulmach/orb"

// SegmentIntersection returns where the segments ab and cd meet. When they run
// along one another it returns the first shared place from a. Near-parallel
// segments are judged after rounding to the lattice.
func SegmentIntersection(a, b, c, d orb.Point) (at orb.Point, meet bool) {
	p, q, r, s := spotOf(a), spotOf(b), spotOf(c), spotOf(d)
	switch contactOf(p, q, r, s) {
	case apart:
		return orb.Point{}, false
	case overlap, touch:
		return firstShared(p, q, r, s).point(), true
	}
	return crossing(a, b, c, d), true
}

// contact is how two segments lie to one another.
type contact int

const (
	apart   contact = iota
	touch           // they share one place, an end of at least one of them
	cross           // they share one place inside both
	overlap         // they lie on one line and share more than one place
)

// contactOf is exact on the lattice.
func contactOf(a, b, c, d spot) contact {
	if max(a.x, b.x) < min(c.x, d.x) || max(c.x, d.x) < min(a.x, b.x) ||
		max(a.y, b.y) < min(c.y, d.y) || max(c.y, d.y) < min(a.y, b.y) {
		return apart
	}
	t1, t2 := sign(turn(a, b, c)), sign(turn(a, b, d))
	t3, t4 := sign(turn(c, d, a)), sign(turn(c, d, b))
	if t1 == 0 && t2 == 0 && t3 == 0 && t4 == 0 {
		return collinear(a, b, c, d)
	}
	switch {
	case t1*t2 < 0 && t3*t4 < 0:
		return cross
	case t1*t2 > 0 || t3*t4 > 0:
		return apart
	}
	return touch
}

// collinear compares two segments of one line whose boxes meet.
func collinear(a, b, c, d spot) contact {
	lo, hi := ordered(a, b)
	lo2, hi2 := ordered(c, d)
	if lo.less(lo2) {
		lo = lo2
	}
	if hi2.less(hi) {
		hi = hi2
	}
	switch {
	case hi.less(lo):
		return apart
	case lo == hi:
		return touch
	}
	return overlap
}

func ordered(a, b spot) (lo, hi spot) {
	if b.less(a) {
		return b, a
	}
	return a, b
}

// firstShared is the shared end nearest to a of segments that touch or overlap.
func firstShared(a, b, c, d spot) spot {
	for _, p := range []spot{a, c, d, b} {
		if onSegment(p, a, b) && onSegment(p, c, d) {
			if p == d && onSegment(c, a, b) && nearer(c, d, a) {
				return c
			}
			if p == c && onSegment(d, a, b) && nearer(d, c, a) {
				return d
			}
			return p
		}
	}
	return a
}

func nearer(p, q, to spot) bool {
	return sq(p.x-to.x)+sq(p.y-to.y) < sq(q.x-to.x)+sq(q.y-to.y)
}

func sq(v int64) float64 { return float64(v) * float64(v) }

func onSegment(p, a, b spot) bool {
	return turn(a, b, p) == 0 &&
		p.x >= min(a.x, b.x) && p.x <= max(a.x, b.x) &&
		p.y >= min(a.y, b.y) && p.y <= max(a.y, b.y)
}

func sign(v int64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// crossing is the place where two segments known to cross do so.
func crossing(a, b, c, d orb.Point) orb.Point {
	ux, uy := b[0]-a[0], b[1]-a[1]
	vx, vy := d[0]-c[0], d[1]-c[1]
	den := float64(ux*vy) - float64(uy*vx)
	if den == 0 {
		return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	}
	t := (float64((c[0]-a[0])*vy) - float64((c[1]-a[1])*vx)) / den
	t = min(max(t, 0), 1)
	return orb.Point{a[0] + float64(t*ux), a[1] + float64(t*uy)}
}
