package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// NormDeg returns the angle in [0, 360) that points the same way. An angle that
// is not finite gives 0.
func NormDeg(deg float64) float64 {
	n := math.Mod(deg, 360)
	if math.IsNaN(n) {
		return 0
	}
	if n < 0 {
		n += 360
	}
	if n >= 360 { // a tiny negative rounds up to the full turn
		n = 0
	}
	return n + 0 // no negative zero in files
}

// Bearing returns the direction from one place to another, in degrees
// anticlockwise from east, in [0, 360). Two equal places give 0.
func Bearing(from, to orb.Point) float64 {
	return NormDeg(math.Atan2(to[1]-from[1], to[0]-from[0]) * 180 / math.Pi)
}

// sweepSlack is how far outside an arc, in degrees, a bearing still counts as
// in it: the rounding of an arctangent is near 3e-14 degrees; at 100 ft this
// slack is 2e-9 ft.
const sweepSlack = 1e-9

// SweepContains reports whether a bearing lies in the arc that begins at
// startDeg and turns sweepDeg anticlockwise. Both ends belong to the arc. A
// sweep of 360 or more holds every bearing, a sweep of 0 or less none.
func SweepContains(startDeg, sweepDeg, bearingDeg float64) bool {
	if !(sweepDeg > 0) {
		return false
	}
	if sweepDeg >= 360 {
		return true
	}
	turn := NormDeg(bearingDeg - startDeg)
	return turn <= sweepDeg+sweepSlack || turn >= 360-sweepSlack
}

// sinCosDeg is exact at the quarter turns, so that a head set square to a wall
// makes no hair of water behind it.
func sinCosDeg(deg float64) (sin, cos float64) {
	switch NormDeg(deg) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * math.Pi / 180)
}
