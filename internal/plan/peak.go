package plan

import (
	"cmp"

	"evenfall/internal/units"
)

// usualPeak is what turf needs in the hottest week of the year: 0.25 in of reference
// evapotranspiration a day at a turf factor of 0.8 (agronomy, arithmetic of the usual
// method).
const usualPeak units.Inches = 1.4

// PeakWeek is the water a cover needs in the hottest week of the year, inches: an
// assumption until the watering plan knows the climate. Turf's is the plan's own or the
// usual; the others stand to it as their plant factors do.
func (p *Plan) PeakWeek(c Cover) units.Inches {
	week := cmp.Or(units.Inches(p.Watering.PeakInWk), usualPeak)
	turf, _ := p.Figure(PlantFactor(Turf))
	factor, _ := p.Figure(PlantFactor(c))
	if c == Turf || !(turf > 0) {
		return week
	}
	return week * units.Inches(factor/turf)
}
