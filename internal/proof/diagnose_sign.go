package proof

import (
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// sign is which way a zone is off.
type sign struct {
	known          bool
	flow, pressure int // -1 under, 0 within, +1 over
}

// none reports whether nothing is off.
func (a sign) none() bool { return a.flow == 0 && a.pressure == 0 }

// alike reports whether two zones are off the same way.
func (a sign) alike(b sign) bool {
	return a.flow*b.flow >= 0 && a.pressure*b.pressure >= 0 && (a.flow*b.flow > 0 || a.pressure*b.pressure > 0)
}

const (
	// predictSD is how far off a prediction of flow may be, one standard deviation as a
	// share: nozzles are within some per cent of their tables, and a zone has several.
	// assumedSD where the supply was never measured. Chosen.
	predictSD, assumedSD = 0.035, 0.10
	// psiPredictSD is the same of the pressure at a head.
	psiPredictSD = 0.04
	// notedSD is how far off a flow is that was noted without its volume and time.
	notedSD = 0.03
	// clockS is how far off a time by hand is, in seconds; dialShare a meter's dial
	// (new meters are within 1.5 %: from memory of the trade's standard for them).
	clockS, dialShare = 0.5, 0.015
	// within is how many standard deviations are no difference.
	within = 2.0
)

// flowOf is the flow of a run and how far off it may be by measuring, as a share.
func flowOf(v plan.ZoneRun) (q units.GPM, sd float64) {
	if v.MeterGal > 0 && v.MeterS > 0 {
		return units.GPM(float64(v.MeterGal) * 60 / float64(v.MeterS)), math.Hypot(dialShare, clockS/float64(v.MeterS))
	}
	return v.FlowGPM, notedSD
}
