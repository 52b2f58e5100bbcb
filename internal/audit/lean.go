package audit

import (
	"math"

	"evenfall/internal/units"
)

// LeastLeaned and MostLeaned bound what a lean makes of a throw. Chosen: water that is
// thrown flat still runs on, and water thrown high is broken up by the air.
const (
	LeastLeaned = 0.3
	MostLeaned  = 1.15
)

// LeanedThrow is the share of its throw that a head has towards an azimuth, its top
// leaning by tilt towards another one that is away from it by that angle. On the side it
// leans to, water leaves flatter by tilt × cos(away), on the other side steeper. A throw
// in vacuum goes by the sine of twice the angle that it leaves at; the air bounds it above
// (chosen). trajectory is that angle of the head upright; one of 0 stands for 25°.
func LeanedThrow(trajectory, tilt, away units.Degrees) float64 {
	if !(trajectory > 0) {
		trajectory = 25
	}
	rad := math.Pi / 180
	leaves := float64(trajectory) - float64(tilt)*math.Cos(float64(away)*rad)
	share := math.Sin(2*max(leaves, 0)*rad) / math.Sin(2*min(float64(trajectory), 89)*rad)
	return min(max(share, LeastLeaned), MostLeaned)
}
