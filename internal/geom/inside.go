package geom

import (
	"slices"

	"github.com/paulmach/orb"
)

// InsidePoint returns a place truly inside the polygon and well away from its
// edges, for a label. Of the middles of the spans that several level lines cut
// from the polygon, it takes the one farthest from any edge. A polygon without
// area gives its first corner, an empty one the origin.
func InsidePoint(poly orb.Polygon) orb.Point {
	if len(poly) == 0 || len(poly[0]) == 0 {
		return orb.Point{}
	}
	const lines = 31
	best, far := poly[0][0], 0.0
	b := poly[0].Bound()
	for k := range lines {
		y := b.Min[1] + (b.Max[1]-b.Min[1])*(float64(k)+0.5)/lines
		xs := crossingsAt(poly, y)
		for i := 0; i+1 < len(xs); i += 2 {
			p := orb.Point{(xs[i] + xs[i+1]) / 2, y}
			if d := clearance(poly, p); d > far {
				best, far = p, d
			}
		}
	}
	return best
}

func crossingsAt(poly orb.Polygon, y float64) []float64 {
	var xs []float64
	for _, r := range poly {
		for i := 0; i+1 < len(r); i++ {
			a, b := r[i], r[i+1]
			if (a[1] <= y) == (b[1] <= y) {
				continue
			}
			xs = append(xs, a[0]+(b[0]-a[0])*((y-a[1])/(b[1]-a[1])))
		}
	}
	slices.Sort(xs)
	return xs
}

func clearance(poly orb.Polygon, p orb.Point) float64 {
	least := -1.0
	for _, r := range poly {
		if d, _, _ := DistanceToEdge(p, r); least < 0 || d < least {
			least = d
		}
	}
	return least
}

// Centroid returns the centre of gravity of a ring, which may lie outside it.
// A ring without area gives its first place.
func Centroid(r orb.Ring) orb.Point {
	if len(r) == 0 {
		return orb.Point{}
	}
	area := signedArea(r)
	if area == 0 {
		return r[0]
	}
	o, cx, cy := r[0], 0.0, 0.0
	for i := 0; i+1 < len(r); i++ {
		ax, ay := r[i][0]-o[0], r[i][1]-o[1]
		bx, by := r[i+1][0]-o[0], r[i+1][1]-o[1]
		w := float64(ax*by) - float64(ay*bx)
		cx += (ax + bx) * w
		cy += (ay + by) * w
	}
	return orb.Point{o[0] + cx/(6*area), o[1] + cy/(6*area)}
}
