package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Polygon returns an area with its holes, the outline anticlockwise and the
// holes clockwise, after ValidatePolygon has found nothing wrong.
func Polygon(outline Outline, holes []Outline) (orb.Polygon, error) {
	if err := ValidatePolygon(outline, holes); err != nil {
		return nil, err
	}
	poly := orb.Polygon{turned(outline.Ring(), orb.CCW)}
	for _, h := range holes {
		poly = append(poly, turned(h.Ring(), orb.CW))
	}
	return poly, nil
}

// turned reverses the ring in place when it runs the other way.
func turned(r orb.Ring, way orb.Orientation) orb.Ring {
	if (signedArea(r) > 0) != (way == orb.CCW) {
		r.Reverse()
	}
	return r
}

// signedArea is positive for an anticlockwise ring, in square feet. Places are
// taken from the first one, to lose less in the subtraction.
func signedArea(r orb.Ring) float64 {
	if len(r) < 3 {
		return 0
	}
	o, sum := r[0], 0.0
	for i := 1; i+1 < len(r); i++ {
		ax, ay := r[i][0]-o[0], r[i][1]-o[1]
		bx, by := r[i+1][0]-o[0], r[i+1][1]-o[1]
		sum += float64(ax*by) - float64(ay*bx)
	}
	return sum / 2
}

// RingArea returns the area inside a ring, whichever way it runs, in square feet.
func RingArea(r orb.Ring) float64 { return math.Abs(signedArea(r)) }

// Area returns the area of the polygons less their holes, in square feet. They
// must not overlap, as no result of this package does.
func Area(mp orb.MultiPolygon) float64 {
	sum := 0.0
	for _, poly := range mp {
		for i, r := range poly {
			if i == 0 {
				sum += RingArea(r)
			} else {
				sum -= RingArea(r)
			}
		}
	}
	return sum
}

// Area returns the area the outline encloses, in square feet, with its arcs as
// true arcs: the polygon of the corners plus a circle segment r²(θ - sin θ)/2
// for each bulge.
func (o Outline) Area() float64 {
	return math.Abs(o.signedArea())
}

func (o Outline) signedArea() float64 {
	ring := make(orb.Ring, 0, len(o)+1)
	segments := 0.0
	for i, v := range o {
		ring = append(ring, v.Point())
		if v.Bulge != 0 {
			a, b := v.Point(), o[(i+1)%len(o)].Point()
			theta := 4 * math.Atan(v.Bulge)
			r := arcRadius(a, b, v.Bulge)
			segments += r * r * (theta - math.Sin(theta)) / 2
		}
	}
	if len(ring) > 0 {
		ring = append(ring, ring[0])
	}
	return signedArea(ring) + segments
}

// Perimeter returns the length of the outline along its arcs, in feet.
func (o Outline) Perimeter() float64 {
	sum := 0.0
	for i, v := range o {
		sum += edgeLength(v, o[(i+1)%len(o)].Point())
	}
	return sum
}

// Length returns the length of the line along its arcs, in feet.
func (l Line) Length() float64 {
	sum := 0.0
	for i := 0; i+1 < len(l); i++ {
		sum += edgeLength(l[i], l[i+1].Point())
	}
	return sum
}

func edgeLength(v Vertex, to orb.Point) float64 {
	a := v.Point()
	if v.Bulge == 0 {
		return math.Hypot(to[0]-a[0], to[1]-a[1])
	}
	return arcRadius(a, to, v.Bulge) * 4 * math.Atan(math.Abs(v.Bulge))
}

// Bound returns the least upright rectangle that holds the outline's ring.
func (o Outline) Bound() orb.Bound { return o.Ring().Bound() }
