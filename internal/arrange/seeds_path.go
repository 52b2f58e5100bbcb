package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// path is a closed edge of the ground that heads stand along.
type path struct {
	pts     []orb.Point // the first is not repeated
	far     []float64   // feet along to each, and back to the first at last
	corners []float64   // feet along to each, rising
}

// newPath makes the path of an edge. It reports false for one of no length.
func newPath(e *edge) (path, bool) {
	var pa path
	for _, p := range e.ring {
		if n := len(pa.pts); n == 0 || p != pa.pts[n-1] {
			pa.pts = append(pa.pts, p)
		}
	}
	if n := len(pa.pts); n > 1 && pa.pts[0] == pa.pts[n-1] {
		pa.pts = pa.pts[:n-1]
	}
	if len(pa.pts) < 3 {
		return pa, false
	}
	d := 0.0
	for i, p := range pa.pts {
		pa.far = append(pa.far, d)
		q := pa.pts[(i+1)%len(pa.pts)]
		d += math.Hypot(q[0]-p[0], q[1]-p[1])
	}
	pa.far = append(pa.far, d)
	for _, v := range e.corners {
		if along, off := pa.nearest(e.ring[v]); off == 0 {
			pa.corners = append(pa.corners, along)
		}
	}
	slices.Sort(pa.corners)
	return pa, d > 0
}

// length is once around, feet.
func (pa *path) length() float64 { return pa.far[len(pa.pts)] }

// wrap brings a distance along into [0, length).
func (pa *path) wrap(along float64) float64 {
	l := pa.length()
	along = math.Mod(along, l)
	if along < 0 {
		along += l
	}
	if along >= l {
		along = 0
	}
	return along
}

// at is the place so far along.
func (pa *path) at(along float64) orb.Point {
	along = pa.wrap(along)
	i, found := slices.BinarySearch(pa.far, along)
	if found {
		return pa.pts[i%len(pa.pts)]
	}
	i--
	p, q := pa.pts[i], pa.pts[(i+1)%len(pa.pts)]
	t := (along - pa.far[i]) / (pa.far[i+1] - pa.far[i])
	return orb.Point{p[0] + float64(t*(q[0]-p[0])), p[1] + float64(t*(q[1]-p[1]))}
}

// chord is how far ahead and behind an edge's direction is taken, feet: a curve
// is drawn as short straight pieces.
const chord = 0.25

// direction is the edge's direction so far along, degrees: at a corner that of
// the edge that leaves it.
func (pa *path) direction(along float64) float64 {
	along = pa.wrap(along)
	lo, hi := along-chord, along+chord
	for _, c := range pa.corners { // the direction does not look round corners
		switch d := pa.between(along, c); {
		case math.Abs(d) < 1e-6:
			lo = along
		case d > 0 && d < chord:
			hi = min(hi, along+d)
		case d < 0 && -d < chord:
			lo = max(lo, along+d)
		}
	}
	return geom.Bearing(pa.at(lo), pa.at(hi))
}

// between is the way from one place along to another, the shorter way round.
func (pa *path) between(from, to float64) float64 {
	l := pa.length()
	d := math.Mod(to-from, l)
	switch {
	case d > l/2:
		d -= l
	case d < -l/2:
		d += l
	}
	return d
}

// corner is the corner nearest along, and how far off it is; -1 for none.
func (pa *path) corner(along float64) (c, off float64) {
	c, off = -1, math.Inf(1)
	for _, k := range pa.corners {
		if d := math.Abs(pa.between(along, k)); d < off {
			c, off = k, d
		}
	}
	return c, off
}

// nearest is the place of a path nearest to p and how far off it is.
func (pa *path) nearest(p orb.Point) (along, off float64) {
	best := math.Inf(1)
	for i, a := range pa.pts {
		b := pa.pts[(i+1)%len(pa.pts)]
		q := geom.NearestOnSegment(p, a, b)
		x, y := q[0]-p[0], q[1]-p[1]
		if d := float64(x*x) + float64(y*y); d < best {
			best, along = d, pa.far[i]+math.Hypot(q[0]-a[0], q[1]-a[1])
		}
	}
	return pa.wrap(along), math.Sqrt(best)
}

// nearestEdge is the place of all paths nearest to p.
func (s *search) nearestEdge(p orb.Point) (ring int, along, off float64) {
	ring, off = inside, math.Inf(1)
	for i := range s.paths {
		if a, d := s.paths[i].nearest(p); d < off {
			ring, along, off = i, a, d
		}
	}
	return ring, along, off
}

// mainDirection is the direction of the longest straight piece of the paths, to
// which rows of heads and arcs inside are laid.
func mainDirection(paths []path) float64 {
	long, dir := 0.0, 0.0
	for i := range paths {
		pa := &paths[i]
		for j, p := range pa.pts {
			if l := pa.far[j+1] - pa.far[j]; l > long+1e-9 {
				long, dir = l, geom.Bearing(p, pa.pts[(j+1)%len(pa.pts)])
			}
		}
	}
	return dir
}
