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
	base, err := settled(mp)
	if err != nil || !(d > 0) {
		return base, err
	}
	var out orb.MultiPolygon
	for _, poly := range base {
		if moved, ok := shifted(poly, d); ok {
			out = append(out, moved)
			continue
		}
		left, err := withBand(Difference, orb.MultiPolygon{poly}, d)
		if err != nil {
			return nil, err
		}
		out = append(out, left...)
	}
	return out, nil
}

// Outset returns the ground within d feet of mp, with round corners. With d of
// 0 or less it returns mp settled and snapped.
func Outset(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	base, err := settled(mp)
	if err != nil || !(d > 0) {
		return base, err
	}
	if len(base) == 1 {
		if moved, ok := shifted(base[0], -d); ok {
			return orb.MultiPolygon{moved}, nil
		}
	}
	return withBand(pair, base, -d)
}

func pair(a, b orb.MultiPolygon) (orb.MultiPolygon, error) { return Union(a, b) }

// withBand takes the band along the edges from the ground, or adds it.
func withBand(op func(a, b orb.MultiPolygon) (orb.MultiPolygon, error), mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	edge, err := band(mp, d)
	if err != nil {
		return nil, err
	}
	out, err := op(mp, edge)
	return dropThin(out), err
}

// straddle is how far, at most, the pieces of a band reach over each other and
// over the edge itself. Pieces that only met there would leave slivers once
// their crossings are snapped. Chosen: 64 lattice steps.
const straddle = 64 * Grid

// band returns the ground within |d| of the edges, on the left of each ring
// (inside) when d is positive and on the right when negative, and a strip
// narrower than straddle on the other side. Each edge gives a rectangle, each
// corner where the rectangles of its two edges gape, or just meet, a slice of
// the disc about it that overlaps both.
//
//	╲ slice
//	 v─────────      an inside corner v, ground above: the two
//	 │▒▒▒▒▒▒▒▒▒      rectangles gape, the slice fills between
//	 │▒
func band(mp orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
	var parts []orb.MultiPolygon
	for _, poly := range mp {
		for _, r := range poly {
			n := len(r) - 1
			for i := range n {
				if w := slice(r[(i+n-1)%n], r[i], r[i+1], d); w != nil {
					parts = append(parts, orb.MultiPolygon{{w}})
				}
				parts = append(parts, orb.MultiPolygon{{strip(r[i], r[i+1], d)}})
			}
		}
	}
	return Union(parts...)
}

// strip is the rectangle of width d on the left of ab, and a little of the right.
func strip(a, b orb.Point, d float64) orb.Ring {
	nx, ny := leftNormal(a, b, d)
	back := -min(1, straddle/math.Abs(d))
	mx, my := float64(nx*back), float64(ny*back)
	first := orb.Point{a[0] + mx, a[1] + my}
	return orb.Ring{first, {b[0] + mx, b[1] + my}, {b[0] + nx, b[1] + ny}, {a[0] + nx, a[1] + ny}, first}
}

// slice is the part of the disc of radius |d| about b between the rectangles of
// ab and bc and a little into both, or nil where the rectangles overlap. Its
// point lies behind b, still in the disc.
func slice(a, b, c orb.Point, d float64) orb.Ring {
	t := turn(spotOf(a), spotOf(b), spotOf(c))
	if t != 0 && (t > 0) == (d > 0) {
		return nil
	}
	n1x, n1y := leftNormal(a, b, d)
	n2x, n2y := leftNormal(b, c, d)
	from := math.Atan2(n1y, n1x)
	swing := math.Remainder(math.Atan2(n2y, n2x)-from, 2*math.Pi)
	r := math.Abs(d)
	over := math.Copysign(min(math.Pi/6, 2*straddle/r), -d)
	from, swing = from-over, swing+2*over

	n := max(2, roundSteps(r, swing))
	behind := min(r, straddle)
	sin, cos := math.Sincos(from + swing/2)
	ring := orb.Ring{{b[0] - float64(behind*cos), b[1] - float64(behind*sin)}}
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos(from + swing*float64(k)/float64(n))
		ring = append(ring, orb.Point{b[0] + float64(r*cos), b[1] + float64(r*sin)})
	}
	return append(ring, ring[0])
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
