package coverage

import (
	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// RunTimeMultiplier is how much longer than by the mean rate a zone runs so that
// its dry parts get enough: 1/(0.4 + 0.6 DU), by the distribution uniformity of
// the low quarter (Irrigation Association, Landscape Irrigation Scheduling and
// Water Management, 2005; from memory). Never by the drawn DU: the field estimate
// or an audit.
func RunTimeMultiplier(du units.Ratio) float64 {
	return 1 / (0.4 + 0.6*float64(min(max(du, 0), 1)))
}

// WeekMinutes is how long a valve runs in a week to put down a need, at its mean
// rate and a DU to be expected in the field; 0 when nothing falls.
func WeekMinutes(need units.Inches, rate units.InchesPerHour, du units.Ratio) float64 {
	if !(rate > 0) {
		return 0
	}
	return 60 * float64(need) / float64(rate) * RunTimeMultiplier(du)
}

// PublishedDU is the distribution uniformity of the low quarter that nozzles of a
// family came out at when tested under ideal conditions: 0.49 for sprays, 0.55 for
// rotors (Baum, Dukes & Miller, ASCE Journal of Irrigation and Drainage Engineering
// 131(4), 2005). Strips are taken as sprays, and streams, which turn, as rotors
// (chosen). It stands in where no estimate of the field and no audit is at hand.
func PublishedDU(f catalog.Family) units.Ratio {
	if f == catalog.Rotor || f == catalog.Stream {
		return 0.55
	}
	return 0.49
}
