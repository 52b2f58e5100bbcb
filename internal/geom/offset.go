package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Inset returns the ground farther than d feet from every edge of mp, on its
// inside. Corners that stick into the ground leave round marks, as a radius
// swung from a stake would. With d of 0 or less it returns mp settled and
// snapped. What is left may be empty or fall apart in several polygons.
func Inset(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	base, err := Union(mp)
	if err != nil || !(d > 0) {
		return base, err
	}
	band, err := band(base, d)
	if err != nil {
		return nil, err
	}
	return Difference(base, band)
}

// Outset returns the ground within d feet of mp, with round corners. With d of
// 0 or less it returns mp settled and snapped.
func Outset(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	base, err := Union(mp)
	if err != nil || !(d > 0) {
		return base, err
	}
	band, err := band(base, -d)
	if err != nil {
		return nil, err
	}
	return Union(base, band)
}

// band returns the ground within |d| of the edges, on the left of each ring
// (inside) when d is positive and on the right when negative. Each edge gives a
// half capsule: a rectangle, and a round wedge at the corner it starts from if
// the rectangles of the two edges gape there. Their corners fall on the same
// lattice places, so nothing is left between them.
//
//	╲ wedge
//	 v─────────      an inside corner (v), ground above: the two
//	 │▒▒▒▒▒▒▒▒▒      rectangles gape, the wedge fills between
//	 │▒
func band(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	var parts []orb.MultiPolygon
	for _, poly := range mp {
		for _, r := range poly {
			n := len(r) - 1
			for i := range n {
				if w := wedge(r[(i+n-1)%n], r[i], r[i+1], d); w != nil {
					parts = append(parts, orb.MultiPolygon{{w}})
				}
				parts = append(parts, orb.MultiPolygon{{strip(r[i], r[i+1], d)}})
			}
		}
	}
	return Union(parts...)
}

// strip is the rectangle of width d on the left of ab.
func strip(a, b orb.Point, d float64) orb.Ring {
	nx, ny := leftNormal(a, b, d)
	return orb.Ring{a, b, {b[0] + nx, b[1] + ny}, {a[0] + nx, a[1] + ny}, a}
}

// wedge is the slice of a disc of radius |d| about b between the rectangles of
// ab and bc, or nil when they overlap there.
func wedge(a, b, c orb.Point, d float64) orb.Ring {
	t := turn(spotOf(a), spotOf(b), spotOf(c))
	if t == 0 || (t > 0) == (d > 0) {
		return nil
	}
	n1x, n1y := leftNormal(a, b, d)
	n2x, n2y := leftNormal(b, c, d)
	from := math.Atan2(n1y, n1x)
	swing := math.Remainder(math.Atan2(n2y, n2x)-from, 2*math.Pi)
	r := math.Abs(d)
	n := 1
	if r > sagitta {
		n = int(max(1, math.Ceil(math.Abs(swing)/(2*math.Acos(1-sagitta/r)))))
	}
	ring := orb.Ring{b, {b[0] + n1x, b[1] + n1y}}
	for k := 1; k < n; k++ {
		sin, cos := math.Sincos(from + swing*float64(k)/float64(n))
		ring = append(ring, orb.Point{b[0] + float64(r*cos), b[1] + float64(r*sin)})
	}
	return append(ring, orb.Point{b[0] + n2x, b[1] + n2y}, b)
}

// leftNormal is the step of d feet to the left of ab.
func leftNormal(a, b orb.Point, d float64) (x, y float64) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	if l == 0 {
		return 0, 0
	}
	return -dy / l * d, dx / l * d
}
