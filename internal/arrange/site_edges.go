package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// edge is one closed path along which edge heads stand. The ground lies on its
// left: an outer path runs anticlockwise, one about a hole clockwise.
type edge struct {
	ring    orb.Ring  // closed
	along   []float64 // distance to each vertex from the first, feet
	corners []int     // vertices that turn more than 30°, rising; none on a smooth ring
}

// cornerLeast is how far an edge turns at a corner, in degrees: more than the
// polygon of twelve sides does, which stands for a circle.
const cornerLeast = 30.0

// turnSlack is how much more than that the grid which outlines lie on may make it,
// degrees. Chosen.
const turnSlack = 0.1

// edgesOf are the paths about a stand, but those that run about a thing in the
// midst of the ground (a trunk, ground not to be dug): nothing ends there that
// heads would stand along. within is the stand before such things were taken off;
// rounded is the widest radius that a set-back gives a corner, in feet.
func edgesOf(stand, within orb.MultiPolygon, rounded float64) ([]edge, error) {
	var out []edge
	for _, poly := range stand {
		for i, r := range poly {
			if i > 0 {
				beyond, err := geom.Difference(orb.MultiPolygon{{turnedLeft(r)}}, within)
				if err != nil {
					return nil, err
				}
				if geom.Area(beyond) < leastStand {
					continue
				}
			}
			ring := turnedLeft(r)
			if i > 0 {
				ring.Reverse()
			}
			out = append(out, edgeOf(ring, rounded))
		}
	}
	return out, nil
}

// turnedLeft is a ring that runs anticlockwise, a copy.
func turnedLeft(r orb.Ring) orb.Ring {
	r = slices.Clone(r)
	if r.Orientation() == orb.CW {
		r.Reverse()
	}
	return r
}

func edgeOf(ring orb.Ring, rounded float64) edge {
	e := edge{ring: ring, along: make([]float64, len(ring))}
	for i := 1; i < len(ring); i++ {
		e.along[i] = e.along[i-1] + apart(ring[i-1], ring[i])
	}
	e.corners = e.findCorners(rounded)
	return e
}

// findCorners finds the vertices that turn more than cornerLeast, and the middles of
// the short arcs that a set-back leaves about a corner which sticks into the
// ground: what turns as far within the length of such an arc, and does not turn so
// on either side of it, as a round bed does.
func (e *edge) findCorners(rounded float64) []int {
	n := len(e.ring) - 1
	if n < 3 {
		return nil
	}
	turns := make([]float64, n)
	for i := range n {
		in := geom.Bearing(e.ring[(i+n-1)%n], e.ring[i])
		turns[i] = math.Remainder(geom.Bearing(e.ring[i], e.ring[i+1])-in, 360)
	}
	var corners []int
	sharp := make([]bool, n)
	for i, t := range turns {
		if math.Abs(t) > cornerLeast+turnSlack {
			corners, sharp[i] = append(corners, i), true
		}
	}
	if rounded > 0 {
		corners = append(corners, e.roundedCorners(turns, sharp, 2*rounded)...)
		slices.Sort(corners)
	}
	return e.withoutJogs(corners, turns, rounded)
}

// jogMost is how long a jog of an edge may be, feet: where a fence begins beside a
// lawn, heads stand farther in from there on, and that is no corner to set one at.
// Chosen: past the set-backs in use.
const jogMost = 2.0

// withoutJogs leaves out two corners next to each other where the edge goes on as
// it came.
func (e *edge) withoutJogs(corners []int, turns []float64, rounded float64) []int {
	n, whole := len(turns), e.along[len(e.along)-1]
	jog := make([]bool, len(corners))
	for i, a := range corners {
		next := (i + 1) % len(corners)
		b := corners[next]
		long := math.Mod(e.along[b]-e.along[a]+whole, whole)
		if len(corners) < 4 || jog[i] || jog[next] || long > jogMost {
			continue
		}
		turn := 0.0
		for k := range n {
			if d := math.Remainder(e.along[k]-e.along[a]-long/2, whole); math.Abs(d) <= long/2+rounded+1e-9 {
				turn += turns[k]
			}
		}
		jog[i] = math.Abs(turn) <= cornerLeast
		jog[next] = jog[i]
	}
	var out []int
	for i, c := range corners {
		if !jog[i] {
			out = append(out, c)
		}
	}
	return out
}

// roundedCorners finds corners that turn within a length instead of at a vertex.
func (e *edge) roundedCorners(turns []float64, sharp []bool, length float64) []int {
	n, whole := len(turns), e.along[len(e.along)-1]
	if 4*length > whole {
		return nil
	}
	excess := make([]float64, n)
	for i := range n {
		if turns[i] == 0 || sharp[i] {
			continue
		}
		in, beside := e.turned(i, turns, sharp, length)
		if x := math.Abs(in - beside/2); x > cornerLeast+turnSlack {
			excess[i] = x
		}
	}
	// Of neighbours that all turn within the length the middle one is the corner.
	var out []int
	for i := range n {
		if excess[i] == 0 {
			continue
		}
		first, last := i, i
		top := true
		for k := range n {
			if excess[k] == 0 {
				continue
			}
			d := math.Remainder(e.along[k]-e.along[i], whole)
			if math.Abs(d) > length {
				continue
			}
			if excess[k] > excess[i]+1e-6 {
				top = false
				break
			}
			if excess[k] > excess[i]-1e-6 {
				if d < math.Remainder(e.along[first]-e.along[i], whole) {
					first = k
				}
				if d > math.Remainder(e.along[last]-e.along[i], whole) {
					last = k
				}
			}
		}
		mid := (math.Remainder(e.along[first]-e.along[i], whole) + math.Remainder(e.along[last]-e.along[i], whole)) / 2
		if top && e.isNearest(i, mid, excess, whole) {
			out = append(out, i)
		}
	}
	return out
}

// turned is how far the edge turns, at vertices that are not sharp, within a length
// about vertex i, and within as much again on either side of that, both together.
// The edge is at least four times as long.
func (e *edge) turned(i int, turns []float64, sharp []bool, length float64) (in, beside float64) {
	n, whole := len(turns), e.along[len(e.along)-1]
	from := func(k int) float64 { return math.Remainder(e.along[k]-e.along[i], whole) }
	first := i
	for range n - 1 {
		k := (first + n - 1) % n
		if d := from(k); d < -1.5*length || d > 0 {
			break
		}
		first = k
	}
	for j := range n {
		k := (first + j) % n
		d := from(k)
		switch {
		case d >= 1.5*length:
			return in, beside
		case sharp[k]:
		case d >= -length/2 && d < length/2:
			in += turns[k]
		default:
			beside += turns[k]
		}
	}
	return in, beside
}

// isNearest reports whether of the vertices as high as vertex i it is the one
// nearest to a distance from it, the first of several.
func (e *edge) isNearest(i int, mid float64, excess []float64, whole float64) bool {
	own := math.Abs(mid)
	for k := range excess {
		if k == i || excess[k] < excess[i]-1e-6 {
			continue
		}
		d := math.Remainder(e.along[k]-e.along[i], whole)
		off := math.Abs(d - mid)
		if off < own-1e-9 || off < own+1e-9 && k < i {
			return false
		}
	}
	return true
}
