package watering

import (
	"math"

	"evenfall/internal/units"
)

// Available is the water the roots can take before the next watering, RAW.
func (a *Area) Available() units.Inches { return a.Holds * units.Inches(a.Depleted) }

// Interval is how many days the soil lasts at a day's need: INT = AWHC × RZ × MAD/(ETo ×
// KL) in whole days, at least 1 (agronomy f-3). 0 when nothing is needed.
func (a *Area) Interval(month int) int {
	if a.Need[month] <= 0 {
		return 0
	}
	return max(1, int(math.Floor(float64(a.Available()/a.Need[month])+1e-9)))
}

// Held is the water between full and wilting that roots of a depth reach, from what a
// foot of soil holds.
func Held(inPerFoot, roots units.Inches) units.Inches { return inPerFoot * roots / 12 }

// Need is what the field must bring in a day: reference ET of the month by the plant's
// factor, effective rain taken off, over its days; never below nought.
func Need(et, rain units.Inches, factor units.Ratio, days int) units.Inches {
	if days <= 0 {
		return 0
	}
	return max(0, (et*units.Inches(factor)-rain)/units.Inches(days))
}

// LongestCycle is how long water may run before it would run off, 60·ASA/(PR − IR)
// minutes; +Inf when the ground takes all of it in (agronomy f-2).
func LongestCycle(rate, intake units.InchesPerHour, surface units.Inches) float64 {
	if rate <= intake {
		return math.Inf(1)
	}
	return 60 * float64(surface) / float64(rate-intake)
}

// Soak is how long the ground needs to take in what may stand on it, in full: 60·ASA/IR
// minutes (agronomy f-2). +Inf for ground that takes in nothing.
func Soak(intake units.InchesPerHour, surface units.Inches) float64 {
	if intake <= 0 {
		return math.Inf(1)
	}
	return 60 * float64(surface) / float64(intake)
}

// Multiplier is how much longer than by the mean a zone runs so that the target part of
// its ground gets the need: 1/DU for the quarter, 1/(0.4 + 0.6 DU) for the half
// (Irrigation Association 2005, from memory; agronomy c-6), 1 for the mean.
func Multiplier(du units.Ratio, target Target) float64 { return 1 / evenness(float64(du), target) }

// evenness is the mean of the target part over the mean of all, by the low quarter's.
func evenness(du float64, target Target) float64 {
	switch target {
	case Half:
		return 0.4 + 0.6*du
	case Mean:
		return 1
	}
	return du
}

// share is the part of the cells that the target goes by.
func (t Target) share() float64 {
	switch t {
	case Half:
		return 0.5
	case Mean:
		return 1
	}
	return 0.25
}
