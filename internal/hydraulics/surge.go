package hydraulics

import (
	"math"

	"evenfall/internal/units"
)

// Water, for surge: New Mexico State University, Soils 456, notes chapter 8.
const (
	waterModulus = 294_000.0 // psi
	waterWeight  = 62.4      // lb/ft³
	gravity      = 32.2      // ft/s²
	soundInWater = 4700.0    // ft/s
)

// WaveSpeed is how fast a change of pressure runs along a pipe of a wall of the
// given modulus of elasticity, ft/s.
func WaveSpeed(outside, wall units.Inches, modulus units.PSI) units.FeetPerSecond {
	e := float64(modulus)
	return units.FeetPerSecond(soundInWater * math.Sqrt(e/(e+waterModulus*float64(outside/wall))))
}

// Surge is the pressure that an instant stop adds: the upper bound. A valve that
// closes more slowly than ClosingTime adds less, as SlowSurge says.
func Surge(v units.FeetPerSecond, outside, wall units.Inches, modulus units.PSI) units.PSI {
	a := float64(WaveSpeed(outside, wall, modulus))
	return units.PSI(a * math.Abs(float64(v)) * waterWeight / (144 * gravity))
}

// ClosingTime is 2L/a, the time a wave takes along a pipe and back: whatever shuts
// within it counts as instant (PDI standard WH-201).
func ClosingTime(length units.Feet, outside, wall units.Inches, modulus units.PSI) units.Seconds {
	return units.Seconds(2 * float64(length) / float64(WaveSpeed(outside, wall, modulus)))
}

// SlowSurge is the pressure that a valve closing evenly in a time adds at the end
// of a pipe: the surge of an instant stop times (2L/a)/time, and never more than
// that surge (Michaud's rule, from memory).
func SlowSurge(v units.FeetPerSecond, length units.Feet, outside, wall units.Inches, modulus units.PSI, closing units.Seconds) units.PSI {
	instant := Surge(v, outside, wall, modulus)
	whole := ClosingTime(length, outside, wall, modulus)
	if closing <= whole {
		return instant
	}
	return instant * units.PSI(whole/closing)
}
