package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// sectorStep is the widest step between the vertices of a sector, in degrees.
// Because the area is exact at any step it bounds only the shape: the vertices
// stand R·φ²/12 outside the circle and the middles of the chords R·φ²/24 inside,
// 0.04 and 0.02 in at 15 ft for 128 steps a circle.
const sectorStep = 360.0 / 128

// Sector returns the ring a head wets: centre, then the arc from startDeg
// anticlockwise. A sweep of 360 or more is a whole circle without the centre.
//
// The vertices stand at r·sqrt(φ/sin φ), φ the step angle, a little outside the
// circle, so that n triangles of ½ρ²·sin φ add up to exactly r²·sweep/2. A throw
// or sweep that is not above zero gives nil. The ring is not snapped.
//
//	   . - ´ρ
//	 .   ╱ φ ╲
//	at ───────ρ      ρ slightly more than r
func Sector(at orb.Point, r, startDeg, sweepDeg float64) orb.Ring {
	if !(r > 0) || !(sweepDeg > 0) || math.IsInf(r, 0) {
		return nil
	}
	whole := sweepDeg >= 360
	sweepDeg = min(sweepDeg, 360)
	n := int(max(math.Ceil(sweepDeg/sectorStep), 1))
	step := sweepDeg / float64(n)
	phi := step * math.Pi / 180
	rho := r * math.Sqrt(phi/math.Sin(phi))

	ring := make(orb.Ring, 0, n+3)
	last := n
	if whole {
		last = n - 1
	} else {
		ring = append(ring, at)
	}
	for k := 0; k <= last; k++ {
		sin, cos := sinCosDeg(startDeg + float64(k)*step)
		ring = append(ring, orb.Point{at[0] + float64(rho*cos), at[1] + float64(rho*sin)})
	}
	return append(ring, ring[0])
}

// StripRect returns the rectangle a strip nozzle wets, seen from the head
// looking along headingDeg: so far ahead, back, left and right of it, in feet.
// A rectangle without area gives nil.
//
//	left  ┌────────────┐
//	      │   at──▶    │
//	right └────────────┘
//	    back       ahead
func StripRect(at orb.Point, headingDeg, ahead, back, left, right float64) orb.Ring {
	if !(ahead+back > 0) || !(left+right > 0) {
		return nil
	}
	sin, cos := sinCosDeg(headingDeg)
	place := func(along, across float64) orb.Point {
		return orb.Point{
			at[0] + float64(along*cos) - float64(across*sin),
			at[1] + float64(along*sin) + float64(across*cos),
		}
	}
	first := place(-back, -right)
	return orb.Ring{first, place(ahead, -right), place(ahead, left), place(-back, left), first}
}
