package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Segment is a straight piece of something that stops sight.
type Segment struct {
	A, B orb.Point
	Of   int // whose piece it is, in the caller's own numbers
}

// Circle is the Wall of a Reach that nothing stops before the radius.
const Circle = -1

// Reach is what is seen between two directions: as far as one segment, or as
// far as the radius. Angles are radians anticlockwise from east.
type Reach struct {
	From, To float64   // From < To
	Wall     int       // index of the segment that stops it, or Circle
	P, Q     orb.Point // where it ends, at From and at To
}

// Sight returns what is seen from a point within a radius and an arc, piece by
// piece anticlockwise from the arc's start; the pieces join without a gap. A
// segment that points straight at the eye hides nothing. A radius or sweep that
// is not above zero gives nil.
//
//	    .-´ ´-.
//	  .´       `.       four pieces: circle, wall,
//	 /  ___wall   \     and twice circle when the arc
//	|      \  |    |    starts in the middle of one
//	|       \ |    |
//	         at
//
// The method is a sweep of directions over the segments' ends: between two
// neighbouring ends the nearest segment is found by comparing 1/distance, which
// along a straight line is a plain cosine, so that two lines cross at most once.
func Sight(at orb.Point, r, startDeg, sweepDeg float64, walls []Segment) []Reach {
	if !(r > 0) || !(sweepDeg > 0) || math.IsInf(r, 0) {
		return nil
	}
	e := eye{at: at, r: r, start: startDeg * math.Pi / 180, sweep: min(sweepDeg, 360) * math.Pi / 180}
	e.curtains(walls)
	e.look()
	return e.out
}

// curtain is one segment as the eye sees it: the directions it covers, counted
// from the start of the arc, and 1/distance as c·cos φ + s·sin φ.
type curtain struct {
	lo, hi float64
	c, s   float64
	wall   int
}

func (c *curtain) near(cos, sin float64) float64 { return float64(c.c*cos) + float64(c.s*sin) }

type eye struct {
	at           orb.Point
	r            float64
	start, sweep float64 // radians
	hung         []curtain
	active       []int
	out          []Reach
}

// finest is the narrowest piece of sight kept, in radians: a thousandth of an
// inch at a mile.
const finest = 1e-9

func (e *eye) curtains(walls []Segment) {
	for i, w := range walls {
		a := orb.Point{w.A[0] - e.at[0], w.A[1] - e.at[1]}
		b := orb.Point{w.B[0] - e.at[0], w.B[1] - e.at[1]}
		a, b, ok := clipToDisc(a, b, e.r)
		if !ok {
			continue
		}
		turn := float64(a[0]*b[1]) - float64(a[1]*b[0])
		if turn < 0 {
			a, b, turn = b, a, -turn
		}
		lo := math.Atan2(a[1], a[0])
		width := math.Mod(math.Atan2(b[1], b[0])-lo+4*math.Pi, 2*math.Pi)
		if !(turn > 0) || width < finest || width > math.Pi {
			continue
		}
		lo = math.Mod(lo-e.start, 2*math.Pi)
		if lo < 0 {
			lo += 2 * math.Pi
		}
		c := curtain{lo: lo, hi: lo + width, c: (b[1] - a[1]) / turn, s: (a[0] - b[0]) / turn, wall: i}
		e.hang(c)
		c.lo, c.hi = c.lo-2*math.Pi, c.hi-2*math.Pi
		e.hang(c)
	}
	slices.SortFunc(e.hung, func(a, b curtain) int {
		switch {
		case a.lo < b.lo:
			return -1
		case a.lo > b.lo:
			return 1
		}
		return a.wall - b.wall
	})
}

// hang keeps the part of a curtain inside the arc.
func (e *eye) hang(c curtain) {
	c.lo, c.hi = max(c.lo, 0), min(c.hi, e.sweep)
	if c.hi-c.lo >= finest {
		e.hung = append(e.hung, c)
	}
}

// look walks from one end of a curtain to the next.
func (e *eye) look() {
	ends := make([]float64, 0, 2*len(e.hung)+2)
	ends = append(ends, 0, e.sweep)
	for _, c := range e.hung {
		ends = append(ends, c.lo, c.hi)
	}
	slices.Sort(ends)
	from, next := 0.0, 0
	for _, to := range ends {
		if to-from < finest {
			continue
		}
		mid := (from + to) / 2
		for ; next < len(e.hung) && e.hung[next].lo < mid; next++ {
			e.active = append(e.active, next)
		}
		e.active = slices.DeleteFunc(e.active, func(i int) bool { return e.hung[i].hi < mid })
		e.between(from, to, 0)
		from = to
	}
	e.close()
}

// deepest bounds the halving where lines meet at a hair's angle.
const deepest = 48

// between finds the nearest curtain on an interval that no curtain starts or
// ends in, dividing it where two lines cross.
func (e *eye) between(from, to float64, depth int) {
	best := e.nearest((from + to) / 2)
	if best < 0 || depth == deepest {
		e.emit(from, to, best)
		return
	}
	for _, i := range e.active {
		if i == best {
			continue
		}
		if at, ok := e.overtakes(i, best, from, to); ok {
			e.between(from, at, depth+1)
			e.between(at, to, depth+1)
			return
		}
	}
	e.emit(from, to, best)
}

func (e *eye) nearest(phi float64) int {
	sin, cos := math.Sincos(e.start + phi)
	best, most := -1, 0.0
	for _, i := range e.active {
		if n := e.hung[i].near(cos, sin); best < 0 || n > most {
			best, most = i, n
		}
	}
	return best
}

// overtakes reports where, strictly inside the interval, curtain i comes nearer
// than curtain best, which is nearer in its middle.
func (e *eye) overtakes(i, best int, from, to float64) (float64, bool) {
	c := e.hung[i].c - e.hung[best].c
	s := e.hung[i].s - e.hung[best].s
	const slack = 1e-12 // of 1/distance in feet: a hair less than touching
	ahead := func(phi float64) bool {
		sin, cos := math.Sincos(e.start + phi)
		return float64(c*cos)+float64(s*sin) > slack
	}
	if !ahead(from) && !ahead(to) {
		return 0, false
	}
	at := math.Atan2(-c, s) - e.start
	at -= math.Floor((at-from)/math.Pi) * math.Pi // the zero in [from, from+π)
	if at-from < finest || to-at < finest {
		return 0, false
	}
	return at, true
}

func (e *eye) emit(from, to float64, curtain int) {
	wall := Circle
	if curtain >= 0 {
		wall = e.hung[curtain].wall
	}
	q := e.end(to, curtain)
	if n := len(e.out); n > 0 && e.out[n-1].Wall == wall {
		e.out[n-1].To, e.out[n-1].Q = e.start+to, q
		return
	}
	e.out = append(e.out, Reach{From: e.start + from, To: e.start + to, Wall: wall, P: e.end(from, curtain), Q: q})
}

// end is where a piece stops in a direction.
func (e *eye) end(phi float64, curtain int) orb.Point {
	sin, cos := math.Sincos(e.start + phi)
	d := e.r
	if curtain >= 0 {
		if n := e.hung[curtain].near(cos, sin); n > 1/e.r {
			d = 1 / n
		}
	}
	return orb.Point{e.at[0] + float64(d*cos), e.at[1] + float64(d*sin)}
}

// close stretches the last piece to the end of the arc, which a piece too narrow
// to keep may have left open.
func (e *eye) close() {
	if n := len(e.out); n > 0 {
		e.out[n-1].To = e.start + e.sweep
	}
}

// clipToDisc is the part of ab, relative to the eye, within a distance.
func clipToDisc(a, b orb.Point, r float64) (p, q orb.Point, ok bool) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l2 := float64(dx*dx) + float64(dy*dy)
	if !(l2 > 0) {
		return a, b, false
	}
	half := -(float64(a[0]*dx) + float64(a[1]*dy)) / l2 // where the line comes nearest
	nx, ny := a[0]+float64(half*dx), a[1]+float64(half*dy)
	room := float64(r*r) - float64(nx*nx) - float64(ny*ny)
	if !(room > 0) {
		return a, b, false
	}
	reach := math.Sqrt(room / l2)
	t0, t1 := max(half-reach, 0), min(half+reach, 1)
	if t0 >= t1 {
		return a, b, false
	}
	on := func(t float64) orb.Point {
		switch t {
		case 0:
			return a
		case 1:
			return b
		}
		return orb.Point{a[0] + float64(t*dx), a[1] + float64(t*dy)}
	}
	return on(t0), on(t1), true
}

// SightRing joins what is seen into a closed ring. On the circle the vertices
// stand so far out that the area is exact (see Sector); chord is the widest
// step, in feet of sagitta, that the shape may be off by. When the pieces go all
// the way round, the eye itself is not on the ring.
func SightRing(at orb.Point, r float64, seen []Reach, sagitta float64) orb.Ring {
	if len(seen) == 0 {
		return nil
	}
	var ring orb.Ring
	whole := seen[len(seen)-1].To-seen[0].From >= 2*math.Pi-finest
	if !whole {
		ring = append(ring, at)
	}
	step := widestStep(r, sagitta)
	for _, s := range seen {
		if s.Wall == Circle {
			ring = appendArc(ring, at, r, s.From, s.To, step)
			continue
		}
		ring = append(ring, s.P, s.Q)
	}
	return append(ring, ring[0])
}

// widestStep is the angle whose chord leaves the circle by the sagitta, at most
// an eighth of a turn and at least a 2,048th.
func widestStep(r, sagitta float64) float64 {
	return min(max(math.Sqrt(8*max(sagitta, 0)/r), 2*math.Pi/2048), math.Pi/4)
}

func appendArc(ring orb.Ring, at orb.Point, r, from, to, step float64) orb.Ring {
	n := int(math.Ceil((to - from) / step))
	n = max(n, 1)
	phi := (to - from) / float64(n)
	rho := r
	if phi > 1e-4 {
		rho = r * math.Sqrt(phi/math.Sin(phi))
	}
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos(from + float64(k)*phi)
		ring = append(ring, orb.Point{at[0] + float64(rho*cos), at[1] + float64(rho*sin)})
	}
	return ring
}
