package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Relief is ground through spot heights: flat between each three neighbours (on
// the Delaunay triangulation, which keeps the triangles as round as they can be),
// and beyond the outermost at the height of its nearest edge. It is for reading
// only, by any number of goroutines.
type Relief struct {
	at    []spot // by x, then y; none twice
	z     []float64
	faces []face
	rim   [][2]int32 // edges with ground on one side only
}

// face is a triangle, anticlockwise; beyond[i] is the face on the other side of
// the edge from corner i to the next, -1 where there is none.
type face struct {
	corner [3]int32
	beyond [3]int32
}

// NewRelief makes the ground through places and their heights, in feet. Where a
// place comes twice its mean height counts; places 1/4096 ft apart are the same.
func NewRelief(at []orb.Point, z []float64) *Relief {
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := spotOf(at[i]), spotOf(at[j])
		switch {
		case a.less(b):
			return -1
		case b.less(a):
			return 1
		}
		return 0
	})
	r := &Relief{}
	n := 0.0
	for _, i := range order {
		s := spotOf(at[i])
		if k := len(r.at) - 1; k >= 0 && r.at[k] == s {
			n++
			r.z[k] += (z[i] - r.z[k]) / n
			continue
		}
		r.at, r.z, n = append(r.at, s), append(r.z, z[i]), 1
	}
	r.sweep()
	r.round()
	return r
}

// sweep joins the places from west to east: each new one lies outside all that is
// joined so far, and sees a run of its rim.
func (r *Relief) sweep() {
	bend := r.bend()
	if bend == 0 { // all on one line, or fewer than three
		for i := 1; i < len(r.at); i++ {
			r.rim = append(r.rim, [2]int32{int32(i - 1), int32(i)})
		}
		return
	}
	h := newRim(len(r.at))
	left := turn(r.at[0], r.at[1], r.at[bend]) > 0
	for i := range bend - 1 { // a fan from the first place off the line
		a, b := int32(i), int32(i+1)
		if !left {
			a, b = b, a
		}
		r.faces = append(r.faces, face{[3]int32{a, b, int32(bend)}, [3]int32{-1, -1, -1}})
	}
	for i := range r.faces {
		if i > 0 { // neighbours in the fan share the edge to the tip
			if left {
				r.join(int32(i-1), 1, int32(i), 2)
			} else {
				r.join(int32(i-1), 2, int32(i), 1)
			}
		}
		for e := range 3 {
			h.lay(r, int32(i), e)
		}
	}
	for i := bend + 1; i < len(r.at); i++ {
		h.add(r, int32(i))
	}
	for a := range r.at {
		if h.next[a] >= 0 {
			r.rim = append(r.rim, [2]int32{int32(a), h.next[a]})
		}
	}
}

// bend is the first place that does not lie on the line of those before it; 0
// when all do.
func (r *Relief) bend() int {
	for i := 2; i < len(r.at); i++ {
		if turn(r.at[0], r.at[1], r.at[i]) != 0 {
			return i
		}
	}
	return 0
}

// join makes two faces neighbours over an edge of each.
func (r *Relief) join(f int32, e int, g int32, k int) {
	if f >= 0 {
		r.faces[f].beyond[e] = g
	}
	if g >= 0 {
		r.faces[g].beyond[k] = f
	}
}

// rim is the outline of what is joined, anticlockwise, by corner: the next one,
// the one before, and the face and edge of its edge to the next.
type rim struct {
	next, prev []int32
	face       []int32
	edge       []int
	last       int32 // the place joined last: the easternmost
}

func newRim(n int) *rim {
	h := &rim{next: make([]int32, n), prev: make([]int32, n), face: make([]int32, n), edge: make([]int, n)}
	for i := range n {
		h.next[i], h.prev[i] = -1, -1
	}
	return h
}

// lay puts an edge of a face on the rim when nothing lies beyond it.
func (h *rim) lay(r *Relief, f int32, e int) {
	if r.faces[f].beyond[e] >= 0 {
		return
	}
	a, b := r.faces[f].corner[e], r.faces[f].corner[(e+1)%3]
	h.next[a], h.prev[b], h.face[a], h.edge[a] = b, a, f, e
	h.last = max(h.last, a, b)
}

// add joins the next place to every edge of the rim it sees: those it lies to the
// right of. They run on from the place joined last, in both directions.
func (h *rim) add(r *Relief, p int32) {
	sees := func(a int32) bool { return turn(r.at[a], r.at[h.next[a]], r.at[p]) < 0 }
	from, to := h.last, h.last
	for sees(h.prev[from]) {
		from = h.prev[from]
	}
	for sees(to) {
		to = h.next[to]
	}
	before := int32(-1) // the face made last; its second edge goes from p to the next corner
	for a := from; a != to; {
		b := h.next[a]
		f := int32(len(r.faces))
		r.faces = append(r.faces, face{[3]int32{b, a, p}, [3]int32{-1, -1, -1}})
		r.join(f, 0, h.face[a], h.edge[a])
		if before >= 0 {
			r.join(f, 1, before, 2)
		} else {
			h.next[a], h.prev[p], h.face[a], h.edge[a] = p, a, f, 1
		}
		if before >= 0 {
			h.next[a], h.prev[a] = -1, -1
		}
		before, a = f, b
	}
	if before >= 0 {
		h.next[p], h.prev[to], h.face[p], h.edge[p] = to, p, before, 2
		h.last = p
	}
}

// round turns the diagonal of two neighbours while that makes their least angle
// greater, until every pair is as round as it can be (Lawson).
func (r *Relief) round() {
	var open [][2]int32 // face and edge
	for f := range r.faces {
		for e := range int32(3) {
			open = append(open, [2]int32{int32(f), e})
		}
	}
	// Exact arithmetic ends by itself; rounding must not turn one pair for ever.
	for left := 64*len(open) + 64; len(open) > 0 && left > 0; left-- {
		f, e := open[len(open)-1][0], int(open[len(open)-1][1])
		open = open[:len(open)-1]
		g := r.faces[f].beyond[e]
		if g < 0 {
			continue
		}
		k := slices.Index(r.faces[g].beyond[:], f)
		a, b := r.faces[f].corner[e], r.faces[f].corner[(e+1)%3]
		c, d := r.faces[f].corner[(e+2)%3], r.faces[g].corner[(k+2)%3]
		if !r.inCircle(a, b, c, d) || turn(r.at[c], r.at[d], r.at[b]) <= 0 || turn(r.at[d], r.at[c], r.at[a]) <= 0 {
			continue
		}
		fb, fc := r.faces[f].beyond[(e+1)%3], r.faces[f].beyond[(e+2)%3] // past b-c, c-a
		ga, gd := r.faces[g].beyond[(k+1)%3], r.faces[g].beyond[(k+2)%3] // past a-d, d-b
		r.faces[f] = face{[3]int32{c, d, b}, [3]int32{g, gd, fb}}
		r.faces[g] = face{[3]int32{d, c, a}, [3]int32{f, fc, ga}}
		r.repoint(gd, g, f)
		r.repoint(fc, f, g)
		for i := range int32(3) {
			open = append(open, [2]int32{f, i}, [2]int32{g, i})
		}
	}
}

// repoint tells a face that what lies beyond one of its edges is another.
func (r *Relief) repoint(f, was, now int32) {
	if f < 0 {
		return
	}
	if e := slices.Index(r.faces[f].beyond[:], was); e >= 0 {
		r.faces[f].beyond[e] = now
	}
}

// inCircle reports whether d lies inside the circle through a, b and c, which are
// anticlockwise, by more than rounding.
func (r *Relief) inCircle(a, b, c, d int32) bool {
	o := r.at[d]
	var m [3][3]float64
	size := 0.0
	for i, p := range []int32{a, b, c} {
		x, y := float64(r.at[p].x-o.x), float64(r.at[p].y-o.y)
		m[i] = [3]float64{x, y, float64(x*x) + float64(y*y)}
		size = max(size, m[i][2])
	}
	det := m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	return det > 1e-12*size*size
}

// Height is the height of the ground at a place, in feet; false when no height
// was ever measured.
func (r *Relief) Height(at orb.Point) (z float64, ok bool) {
	switch {
	case len(r.at) == 0:
		return 0, false
	case len(r.at) == 1:
		return r.z[0], true
	}
	if f := r.faceAt(at); f >= 0 {
		return r.onFace(f, at), true
	}
	return r.onRim(at), true
}

// faceAt walks towards a place from face to face; -1 when it lies beyond the rim.
func (r *Relief) faceAt(at orb.Point) int32 {
	p := spotOf(at)
	f := int32(len(r.faces) - 1)
	for range len(r.faces) + 1 { // a walk over round faces never comes back
		if f < 0 {
			return -1
		}
		next := int32(-2)
		for e := range 3 {
			if turn(r.at[r.faces[f].corner[e]], r.at[r.faces[f].corner[(e+1)%3]], p) < 0 {
				next = r.faces[f].beyond[e]
				break
			}
		}
		if next == -2 {
			return f
		}
		f = next
	}
	return -1
}

func (r *Relief) onFace(f int32, at orb.Point) float64 {
	c := r.faces[f].corner
	a, b, d := r.at[c[0]].point(), r.at[c[1]].point(), r.at[c[2]].point()
	ux, uy, vx, vy := b[0]-a[0], b[1]-a[1], d[0]-a[0], d[1]-a[1]
	x, y := at[0]-a[0], at[1]-a[1]
	whole := float64(ux*vy) - float64(uy*vx)
	s := (float64(x*vy) - float64(y*vx)) / whole
	t := (float64(ux*y) - float64(uy*x)) / whole
	return r.z[c[0]] + float64(s*(r.z[c[1]]-r.z[c[0]])) + float64(t*(r.z[c[2]]-r.z[c[0]]))
}

// onRim is the height of the nearest place of the rim.
func (r *Relief) onRim(at orb.Point) float64 {
	least, z := math.Inf(1), 0.0
	for _, e := range r.rim {
		a, b := r.at[e[0]].point(), r.at[e[1]].point()
		foot := NearestOnSegment(at, a, b)
		d := math.Hypot(at[0]-foot[0], at[1]-foot[1])
		if d < least {
			share := math.Hypot(foot[0]-a[0], foot[1]-a[1]) / math.Hypot(b[0]-a[0], b[1]-a[1])
			least, z = d, r.z[e[0]]+float64(share*(r.z[e[1]]-r.z[e[0]]))
		}
	}
	return z
}
