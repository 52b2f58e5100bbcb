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

// LandscapeFactor is KL = ks × kd × kmc, by kind of plant, how dense they stand and how
// the place is exposed (University of California, WUCOLS III, 2000).
func LandscapeFactor(ks, kd, kmc units.Ratio) units.Ratio { return ks * kd * kmc }

// Need is what the field must bring in a day: reference ET of the month by the plant's
// factor, effective rain taken off, over its days; never below nought.
func Need(et, rain units.Inches, factor units.Ratio, days int) units.Inches {
	if days <= 0 {
		return 0
	}
	return max(0, (et*units.Inches(factor)-rain)/units.Inches(days))
}

// Texture is a soil by name with what it takes in and holds.
type Texture struct {
	ID, Name string
	Intake   units.InchesPerHour // basic
	Surface  units.Inches        // that may stand on ground sloping no more than 3 %
	PerFoot  units.Inches        // water held between full and wilting by a foot of soil
}

// Textures are the soils of the Irrigation Association's scheduling method (agronomy
// f-2: intake and surface, a secondary copy seen). Water held is the middle of the range
// of the University of California's drought pages (f-3).
var Textures = []Texture{
	{"clay", "clay", .10, .20, 2.05},
	{"silty-clay", "silty clay", .15, .23, 2.05},
	{"clay-loam", "clay loam", .20, .26, 2.125},
	{"loam", "loam", .35, .30, 1.90},
	{"sandy-loam", "sandy loam", .40, .33, 1.50},
	{"loamy-sand", "loamy sand", .50, .36, 1.00},
	{"sand", "sand", .60, .40, .75},
}

// slopes and most are the greatest rates of the United States Department of Agriculture
// by soil and slope, in/h, on covered and bare ground (agronomy f-1; slopes over 12 %
// and soils over compact subsoil from memory).
var (
	slopeTop = [4]float64{5, 8, 12, math.Inf(1)}
	most     = []struct {
		ID            string
		covered, bare [4]units.InchesPerHour
	}{
		{"coarse-sandy", [4]units.InchesPerHour{2, 2, 1.5, 1}, [4]units.InchesPerHour{2, 1.5, 1, .5}},
		{"coarse-sandy-compact", [4]units.InchesPerHour{1.75, 1.25, 1, .75}, [4]units.InchesPerHour{1.5, 1, .75, .4}},
		{"sandy-loam", [4]units.InchesPerHour{1.75, 1.25, 1, .75}, [4]units.InchesPerHour{1, .8, .6, .4}},
		{"sandy-loam-compact", [4]units.InchesPerHour{1.25, 1, .75, .5}, [4]units.InchesPerHour{.75, .5, .4, .3}},
		{"silt-loam", [4]units.InchesPerHour{1, .8, .6, .4}, [4]units.InchesPerHour{.5, .4, .3, .2}},
		{"silt-loam-compact", [4]units.InchesPerHour{.6, .5, .4, .3}, [4]units.InchesPerHour{.3, .25, .15, .1}},
		{"clay", [4]units.InchesPerHour{.2, .15, .12, .1}, [4]units.InchesPerHour{.15, .1, .08, .06}},
	}
)

// MostRate is the greatest rate that ground takes without running off, by the name of
// its soil in the table of the United States Department of Agriculture (agronomy f-1);
// false when the table does not know the name.
func MostRate(soil string, slopePercent float64, covered bool) (units.InchesPerHour, bool) {
	at := 0
	for at < 3 && slopePercent > slopeTop[at] {
		at++
	}
	for _, s := range most {
		if s.ID == soil {
			if covered {
				return s.covered[at], true
			}
			return s.bare[at], true
		}
	}
	return 0, false
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
