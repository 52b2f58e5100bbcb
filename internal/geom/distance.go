package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// DistanceToEdge returns the distance from p to the ring or line, in feet, the
// nearest place on it, and which segment that is on (from 0; the earliest when
// several are as near). Fewer than two places give +Inf and segment -1.
func DistanceToEdge[S ~[]orb.Point](p orb.Point, pts S) (d float64, at orb.Point, segment int) {
	best, segment := math.Inf(1), -1
	for i := 0; i+1 < len(pts); i++ {
		q := NearestOnSegment(p, pts[i], pts[i+1])
		dx, dy := q[0]-p[0], q[1]-p[1]
		if s := float64(dx*dx) + float64(dy*dy); s < best {
			best, at, segment = s, q, i
		}
	}
	return math.Sqrt(best), at, segment
}

// NearestOnSegment returns the place on the segment ab nearest to p.
func NearestOnSegment(p, a, b orb.Point) orb.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l2 := float64(dx*dx) + float64(dy*dy)
	if l2 == 0 {
		return a
	}
	t := (float64((p[0]-a[0])*dx) + float64((p[1]-a[1])*dy)) / l2
	switch {
	case t <= 0:
		return a
	case t >= 1:
		return b
	}
	return orb.Point{a[0] + float64(t*dx), a[1] + float64(t*dy)}
}

// Contains reports whether p lies in any of the polygons. Places on an outline
// or on the edge of a hole count as inside.
func Contains(mp orb.MultiPolygon, p orb.Point) bool {
	for _, poly := range mp {
		if PolygonContains(poly, p) {
			return true
		}
	}
	return false
}

// PolygonContains reports whether p lies in the polygon and not in a hole.
// Places on an outline or on the edge of a hole count as inside.
func PolygonContains(poly orb.Polygon, p orb.Point) bool {
	if len(poly) == 0 || locate(poly[0], p) == outside {
		return false
	}
	for _, hole := range poly[1:] {
		if locate(hole, p) == inside {
			return false
		}
	}
	return true
}

// RingContains reports whether p lies inside or on the ring.
func RingContains(r orb.Ring, p orb.Point) bool { return locate(r, p) != outside }

type location int

const (
	outside location = iota
	onEdge
	inside
)

// locate counts the edges a ray to the east crosses. An edge owns its lower end
// and not its upper, so that a corner on the ray is counted once.
func locate(r orb.Ring, p orb.Point) location {
	in := false
	for i := 0; i+1 < len(r); i++ {
		a, b := r[i], r[i+1]
		if a[1] > b[1] {
			a, b = b, a
		}
		if p[1] < a[1] || p[1] > b[1] || p[0] > max(a[0], b[0]) {
			continue
		}
		side := float64((b[0]-a[0])*(p[1]-a[1])) - float64((b[1]-a[1])*(p[0]-a[0]))
		if side == 0 && p[0] >= min(a[0], b[0]) {
			return onEdge
		}
		if p[1] < b[1] && side > 0 {
			in = !in
		}
	}
	if in {
		return inside
	}
	return outside
}
