package drawing

import (
	"math"

	"github.com/paulmach/orb"
)

// settling is labels on their way to their places.
type settling struct {
	inside orb.Bound
	labels []label
	fixed  *room // marks and taken boxes
	drawn  *room // the lines of the drawing
	placed *room // texts and leaders as they stand now
	work   int   // places looked at since a repair began
	lost   int   // times that a label found no place at all
}

func newSettling(inside orb.Bound, wants []Want, taken []orb.Bound, lines [][2]orb.Point) *settling {
	s := &settling{inside: inside, labels: make([]label, len(wants)), fixed: newRoom(inside), drawn: newRoom(inside), placed: newRoom(inside)}
	for _, b := range taken {
		s.fixed.addBox(b, -1)
	}
	for _, l := range lines {
		s.drawn.addLeg(l, -1)
	}
	for i := range wants {
		l := newLabel(&wants[i])
		if w := l.want; usable(w.About[0]) && usable(w.About[1]) && usable(w.Clear) && w.Clear > 0 {
			s.fixed.addBox(orb.Bound{Min: orb.Point{w.About[0] - w.Clear, w.About[1] - w.Clear}, Max: orb.Point{w.About[0] + w.Clear, w.About[1] + w.Clear}}, -1)
		}
		s.labels[i] = l
	}
	for i := range s.labels {
		if l := &s.labels[i]; l.able {
			l.near = s.nearSpots(l)
		}
	}
	return s
}

// room finds boxes and straight lines by place, in squares.
type room struct {
	from       orb.Point
	side       float64
	cols, rows int
	boxes      [][]boxOf
	legs       [][]legOf
	seen       int
}

type boxOf struct {
	orb.Bound
	of int
}

type legOf struct {
	ends [2]orb.Point
	of   int
	id   int
}

// squareSide is about the length of a short label, points; rooms larger than a wall
// have larger squares.
const squareSide = 28.0

func newRoom(inside orb.Bound) *room {
	w, h := inside.Max[0]-inside.Min[0], inside.Max[1]-inside.Min[1]
	r := &room{from: inside.Min, side: squareSide, cols: 1, rows: 1}
	if w > 0 && h > 0 && usable(w) && usable(h) {
		r.side = max(squareSide, w/200, h/200)
		r.cols, r.rows = int(w/r.side)+1, int(h/r.side)+1
	}
	r.boxes, r.legs = make([][]boxOf, r.cols*r.rows), make([][]legOf, r.cols*r.rows)
	return r
}

// span are the squares a box touches.
func (r *room) span(b orb.Bound) (c0, r0, c1, r1 int) {
	at := func(v, from float64, n int) int {
		return int(max(0, min(math.Floor((v-from)/r.side), float64(n-1))))
	}
	return at(b.Min[0], r.from[0], r.cols), at(b.Min[1], r.from[1], r.rows), at(b.Max[0], r.from[0], r.cols), at(b.Max[1], r.from[1], r.rows)
}

func (r *room) addBox(b orb.Bound, of int) {
	if !(b.Min[0] <= b.Max[0] && b.Min[1] <= b.Max[1]) {
		return
	}
	c0, r0, c1, r1 := r.span(b)
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			k := row*r.cols + col
			r.boxes[k] = append(r.boxes[k], boxOf{b, of})
		}
	}
}

func (r *room) dropBox(b orb.Bound, of int) {
	c0, r0, c1, r1 := r.span(b)
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			k := row*r.cols + col
			r.boxes[k] = without(r.boxes[k], func(x boxOf) bool { return x.of == of })
		}
	}
}

func without[T any](all []T, is func(T) bool) []T {
	out := all[:0]
	for _, x := range all {
		if !is(x) {
			out = append(out, x)
		}
	}
	return out
}

func hull(leg [2]orb.Point) orb.Bound {
	return orb.Bound{
		Min: orb.Point{min(leg[0][0], leg[1][0]), min(leg[0][1], leg[1][1])},
		Max: orb.Point{max(leg[0][0], leg[1][0]), max(leg[0][1], leg[1][1])},
	}
}

func (r *room) addLeg(leg [2]orb.Point, of int) {
	for _, p := range leg {
		if math.IsNaN(p[0]) || math.IsNaN(p[1]) {
			return
		}
	}
	r.seen++
	c0, r0, c1, r1 := r.span(hull(leg))
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			if c1 > c0 && r1 > r0 && !crosses(leg, r.square(col, row)) {
				continue
			}
			k := row*r.cols + col
			r.legs[k] = append(r.legs[k], legOf{leg, of, r.seen})
		}
	}
}

// square is the ground of one square, those at the border reaching out for ever.
func (r *room) square(col, row int) orb.Bound {
	b := orb.Bound{Min: orb.Point{r.from[0] + float64(col)*r.side, r.from[1] + float64(row)*r.side}}
	b.Max = orb.Point{b.Min[0] + r.side, b.Min[1] + r.side}
	const far = 1e12
	if col == 0 {
		b.Min[0] = -far
	}
	if row == 0 {
		b.Min[1] = -far
	}
	if col == r.cols-1 {
		b.Max[0] = far
	}
	if row == r.rows-1 {
		b.Max[1] = far
	}
	return b
}

func (r *room) dropLeg(leg [2]orb.Point, of int) {
	c0, r0, c1, r1 := r.span(hull(leg))
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			k := row*r.cols + col
			r.legs[k] = without(r.legs[k], func(x legOf) bool { return x.of == of })
		}
	}
}

// overlap reports whether two boxes share more than an edge.
func overlap(a, b orb.Bound) bool {
	const e = 1e-6
	return a.Min[0] < b.Max[0]-e && b.Min[0] < a.Max[0]-e && a.Min[1] < b.Max[1]-e && b.Min[1] < a.Max[1]-e
}

func (r *room) boxHit(b orb.Bound) bool {
	c0, r0, c1, r1 := r.span(b)
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			for i := range r.boxes[row*r.cols+col] {
				if overlap(r.boxes[row*r.cols+col][i].Bound, b) {
					return true
				}
			}
		}
	}
	return false
}

// legHit reports whether a leader runs through a box, those that it starts in or at apart.
func (r *room) legHit(leg [2]orb.Point) bool {
	about := hull(leg)
	c0, r0, c1, r1 := r.span(about)
	for row := r0; row <= r1; row++ {
		for col := c0; col <= c1; col++ {
			for _, b := range r.boxes[row*r.cols+col] {
				if overlapOrTouch(about, b.Bound) && crosses(leg, b.Bound) && !b.Contains(leg[0]) {
					return true
				}
			}
		}
	}
	return false
}

// Clipped is which share of a straight line lies in a box, from and to (Liang and
// Barsky's clipping); false when none does.
func Clipped(leg [2]orb.Point, b orb.Bound) (from, to float64, in bool) {
	from, to = 0, 1
	for k := range 2 {
		d := leg[1][k] - leg[0][k]
		if d == 0 {
			if leg[0][k] < b.Min[k] || leg[0][k] > b.Max[k] {
				return 0, 0, false
			}
			continue
		}
		a, z := (b.Min[k]-leg[0][k])/d, (b.Max[k]-leg[0][k])/d
		if a > z {
			a, z = z, a
		}
		from, to = max(from, a), min(to, z)
	}
	return from, to, from <= to
}

func crosses(leg [2]orb.Point, b orb.Bound) bool {
	_, _, in := Clipped(leg, b)
	return in
}

// meet reports whether two straight lines cross or touch.
func meet(a, b [2]orb.Point) bool {
	side := func(l [2]orb.Point, p orb.Point) float64 {
		return (l[1][0]-l[0][0])*(p[1]-l[0][1]) - (l[1][1]-l[0][1])*(p[0]-l[0][0])
	}
	if !overlapOrTouch(hull(a), hull(b)) {
		return false
	}
	return side(a, b[0])*side(a, b[1]) <= 0 && side(b, a[0])*side(b, a[1]) <= 0
}

// tooNear reports whether two leaders cross or come so near that they look like one.
func tooNear(a, b [2]orb.Point) bool {
	return overlapOrTouch(hull(a).Pad(legGap), hull(b)) &&
		(meet(a, b) || offLeg(a[0], b) < legGap || offLeg(a[1], b) < legGap || offLeg(b[0], a) < legGap || offLeg(b[1], a) < legGap)
}

// offLeg is how far a point is from a straight line.
func offLeg(p orb.Point, l [2]orb.Point) float64 {
	dx, dy := l[1][0]-l[0][0], l[1][1]-l[0][1]
	t := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		t = max(0, min(1, ((p[0]-l[0][0])*dx+(p[1]-l[0][1])*dy)/d))
	}
	return math.Hypot(p[0]-l[0][0]-t*dx, p[1]-l[0][1]-t*dy)
}

func overlapOrTouch(a, b orb.Bound) bool {
	return a.Min[0] <= b.Max[0] && b.Min[0] <= a.Max[0] && a.Min[1] <= b.Max[1] && b.Min[1] <= a.Max[1]
}
