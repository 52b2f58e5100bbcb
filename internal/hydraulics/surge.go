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

// WaveSpeed is how fast a change of pressure runs along a pipe whose wall has the
// given modulus of elasticity. The published example takes the outside diameter;
// the inside, as in AWWA's form with DR − 2, gives 5 to 10 % more and is the safer.
func WaveSpeed(diameter, wall units.Inches, modulus units.PSI) units.FeetPerSecond {
	e := float64(modulus)
	return units.FeetPerSecond(soundInWater * math.Sqrt(e/(e+waterModulus*float64(diameter/wall))))
}

// Surge is the pressure that an instant stop adds: the upper bound. A valve that
// closes more slowly than ClosingTime adds less, as SlowSurge says.
func Surge(v units.FeetPerSecond, diameter, wall units.Inches, modulus units.PSI) units.PSI {
	a := float64(WaveSpeed(diameter, wall, modulus))
	return units.PSI(a * math.Abs(float64(v)) * waterWeight / (144 * gravity))
}

// ClosingTime is 2L/a, the time a wave takes along a pipe and back: whatever shuts
// within it counts as instant (PDI standard WH-201).
func ClosingTime(length units.Feet, diameter, wall units.Inches, modulus units.PSI) units.Seconds {
	return units.Seconds(2 * float64(length) / float64(WaveSpeed(diameter, wall, modulus)))
}

// SlowSurge is the pressure that a valve closing evenly in a time adds at the end
// of a pipe: the surge of an instant stop times (2L/a)/time, and never more than
// that surge (Michaud's rule, from memory).
func SlowSurge(v units.FeetPerSecond, length units.Feet, diameter, wall units.Inches, modulus units.PSI, closing units.Seconds) units.PSI {
	instant := Surge(v, diameter, wall, modulus)
	whole := ClosingTime(length, diameter, wall, modulus)
	if closing <= whole {
		return instant
	}
	return instant * units.PSI(whole/closing)
}
