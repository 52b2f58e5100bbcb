package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// sagitta is the greatest distance, in feet, between an arc of an outline and
// the chords that stand for it: 1/256 ft, 3/64 in, below what a stake can be
// set to. A circle of radius R loses 4*sagitta/(3*R) of its area, 0.05 % at
// 10 ft. Above a radius of about 3,300 ft the cap on chords wins.
const (
	sagitta   = 1.0 / 256
	mostSteps = 2048
)

// Ring returns the outline as a closed ring in the direction it was drawn:
// snapped to Grid, arcs as chords no farther than 1/256 ft from the arc, and no
// place twice in a row. The same edge drawn from either end gives the same
// places, so neighbours share them exactly.
func (o Outline) Ring() orb.Ring {
	if len(o) == 0 {
		return nil
	}
	ring := make(orb.Ring, 0, len(o)+1)
	for i, v := range o {
		ring = appendEdge(ring, v, o[(i+1)%len(o)].Point())
	}
	ring = dropRepeats(ring)
	if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return append(ring, ring[0])
}

// Points returns the line as places: snapped, arcs as chords, as Ring does.
func (l Line) Points() orb.LineString {
	if len(l) == 0 {
		return nil
	}
	out := make([]orb.Point, 0, len(l))
	for i := 0; i+1 < len(l); i++ {
		out = appendEdge(out, l[i], l[i+1].Point())
	}
	out = append(out, Snap(l[len(l)-1].Point()))
	return dropRepeats(out)
}

// appendEdge adds the start of the edge and the places along it, not its end.
func appendEdge[S ~[]orb.Point](out S, v Vertex, to orb.Point) S {
	from := v.Point()
	out = append(out, Snap(from))
	n := arcSteps(from, to, v.Bulge)
	if n < 2 {
		return out
	}
	// Always walk from the lesser end, so that both neighbours round alike.
	a, b, bulge, back := from, to, v.Bulge, false
	if to[0] < from[0] || (to[0] == from[0] && to[1] < from[1]) {
		a, b, bulge, back = to, from, -v.Bulge, true
	}
	for k := 1; k < n; k++ {
		step := k
		if back {
			step = n - k
		}
		out = append(out, Snap(arcPoint(a, b, bulge, float64(step)/float64(n))))
	}
	return out
}

// arcSteps is the number of chords for an edge.
func arcSteps(a, b orb.Point, bulge float64) int {
	if bulge == 0 {
		return 1
	}
	r := arcRadius(a, b, bulge)
	angle := 4 * math.Atan(math.Abs(bulge))
	if !(r > sagitta) || math.IsInf(r, 0) {
		return 1
	}
	step := 2 * math.Acos(1-sagitta/r)
	if !(step > 0) {
		return 1
	}
	n := math.Ceil(angle / step)
	return int(min(max(n, 1), mostSteps))
}

// arcRadius is chord * (1 + b^2) / (4 |b|).
func arcRadius(a, b orb.Point, bulge float64) float64 {
	chord := math.Hypot(b[0]-a[0], b[1]-a[1])
	return chord * (1 + bulge*bulge) / (4 * math.Abs(bulge))
}

// arcCentre is the centre of the circle the edge lies on.
//
//	    . - b       The centre is on the bisector of the chord, to the left
//	 .     /|       of a->b when the arc turns less than half a circle
//	a - - c |       anticlockwise: offset (1 - bulge^2)/(4 bulge) chords.
func arcCentre(a, b orb.Point, bulge float64) orb.Point {
	k := (1 - bulge*bulge) / (4 * bulge)
	dx, dy := b[0]-a[0], b[1]-a[1]
	return orb.Point{
		(a[0]+b[0])/2 - float64(k*dy),
		(a[1]+b[1])/2 + float64(k*dx),
	}
}

// arcPoint is the place a share of the way along the arc from a to b.
func arcPoint(a, b orb.Point, bulge, share float64) orb.Point {
	c := arcCentre(a, b, bulge)
	sin, cos := math.Sincos(4 * math.Atan(bulge) * share)
	dx, dy := a[0]-c[0], a[1]-c[1]
	return orb.Point{
		c[0] + float64(dx*cos) - float64(dy*sin),
		c[1] + float64(dx*sin) + float64(dy*cos),
	}
}

func dropRepeats[S ~[]orb.Point](pts S) S {
	out := pts[:0]
	for i, p := range pts {
		if i == 0 || p != out[len(out)-1] {
			out = append(out, p)
		}
	}
	return out
}
