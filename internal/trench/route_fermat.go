package trench

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// fermat lays the places with the shortest ways to three ends, for ends that are near
// one another.
func (s *spots) fermat(ends []orb.Point) {
	const neighbours = 4
	for i, a := range ends {
		order := make([]int, 0, len(ends))
		for k := range ends {
			if k != i && apart(a, ends[k]) > 0.1 {
				order = append(order, k)
			}
		}
		slices.SortStableFunc(order, func(x, y int) int {
			switch dx, dy := apart(a, ends[x]), apart(a, ends[y]); {
			case dx < dy:
				return -1
			case dx > dy:
				return 1
			}
			return 0
		})
		order = order[:min(neighbours, len(order))]
		for m, x := range order {
			for _, y := range order[m+1:] {
				if q, ok := fermatPoint(a, ends[x], ends[y]); ok {
					s.lay(q, false)
				}
			}
		}
	}
}

// fermatPoint is the place from which the ways to three others are shortest
// together, where it is none of them: all three meet there at 120°. The lines from
// each corner to the far corner of the equilateral triangle on the opposite side go
// through it (Torricelli's construction).
func fermatPoint(a, b, c orb.Point) (orb.Point, bool) {
	for _, t := range [3][3]orb.Point{{a, b, c}, {b, c, a}, {c, a, b}} {
		ux, uy, vx, vy := t[1][0]-t[0][0], t[1][1]-t[0][1], t[2][0]-t[0][0], t[2][1]-t[0][1]
		if float64(ux*vx)+float64(uy*vy) <= -0.5*math.Hypot(ux, uy)*math.Hypot(vx, vy)+1e-9 {
			return orb.Point{}, false
		}
	}
	if float64((b[0]-a[0])*(c[1]-a[1]))-float64((b[1]-a[1])*(c[0]-a[0])) < 0 {
		b, c = c, b
	}
	apex := func(p, q orb.Point) orb.Point { // on the right of p to q
		const h = 0.8660254037844386 // √3/2
		return orb.Point{(p[0]+q[0])/2 + float64(h*(q[1]-p[1])), (p[1]+q[1])/2 - float64(h*(q[0]-p[0]))}
	}
	q, meet := geom.SegmentIntersection(a, apex(b, c), b, apex(c, a))
	return q, meet
}
