package plan

import (
	"cmp"

	"evenfall/internal/units"
)

// usualPeak is what turf needs in the hottest week of the year: 0.25 in of reference
// evapotranspiration a day at a turf factor of 0.8 (agronomy, arithmetic of the usual
// method).
const usualPeak units.Inches = 1.4

// PeakWeek is the water a cover needs in the hottest week of the year, inches. Turf's is
// that of the user's normals (Watering.ETIn), or else the plan's own or the usual, an
// assumption until the watering plan knows the climate; the others stand to it as their
// plant factors do.
func (p *Plan) PeakWeek(c Cover) units.Inches {
	turf, _ := p.Figure(PlantFactor(Turf))
	week := cmp.Or(p.peakOfNormals(turf), units.Inches(p.Watering.PeakInWk), usualPeak)
	factor, _ := p.Figure(PlantFactor(c))
	if c == Turf || !(turf > 0) {
		return week
	}
	return week * units.Inches(factor/turf)
}

// peakOfNormals is a week of the month in which reference ET by a plant factor, less the
// rain that counts, asks for most a day; 0 without normals.
func (p *Plan) peakOfNormals(factor float64) units.Inches {
	w, most := p.Watering, 0.0
	if len(w.ETIn) != 12 {
		return 0
	}
	share, _ := p.Figure(RainCounted)
	for m, et := range w.ETIn {
		need := et * factor
		if len(w.RainIn) == 12 {
			need -= min(share*w.RainIn[m], need)
		}
		most = max(most, need/float64(daysIn(2023, m+1))) // of a year that is not a leap year
	}
	return units.Inches(7 * most)
}
