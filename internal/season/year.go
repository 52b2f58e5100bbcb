package season

import (
	"errors"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// YearOf is the climate of a plan by the first that it gives of normals, temperatures
// and a zone of the public table, with its rain. peakOnly: it gives none, and its week
// at peak stands for every month. An error is a sentence for the user.
func YearOf(p *plan.Plan) (y climate.Year, peakOnly bool, err error) {
	w := p.Watering
	switch {
	case len(w.ETIn) == 12:
		y, err = climate.OfNormals(months(w.ETIn), months(w.RainIn), w.ETFrom)
		byKept(&y, w)
	case len(w.HighF) == 12 && len(w.LowF) == 12:
		if p.Site.Latitude == nil {
			return y, false, errors.New("temperatures tell reference ET only with the latitude of the site; give it one")
		}
		var high, low [12]float64
		for m := range 12 {
			high[m], low[m] = celsius(w.HighF[m]), celsius(w.LowF[m])
		}
		y, err = climate.ByTemperatures(*p.Site.Latitude, high, low, months(w.RainIn))
	case w.ETZone > 0:
		y, err = climate.OfZone(w.ETZone)
		for m, rain := range months(w.RainIn) {
			y.Months[m].Rain = rain
		}
	default:
		return peakYear(p), true, nil
	}
	if len(w.ETIn) != 12 { // which come with rain of their own
		y.RainFrom = "your own figures by month"
		if w.ETFrom != "" {
			y.RainFrom += " (" + w.ETFrom + ")"
		}
	}
	return y, false, err
}

// climateGiven reports whether a plan has a climate, so that its months differ.
func climateGiven(w plan.Watering) bool {
	return len(w.ETIn) == 12 || len(w.HighF) == 12 && len(w.LowF) == 12 || w.ETZone > 0
}

// months are the entries of a list of the document; 0 where it has none.
func months(list []float64) (out [12]units.Inches) {
	for m := range min(len(list), len(out)) {
		out[m] = units.Inches(list[m])
	}
	return out
}

// celsius is a temperature of the document in °C.
func celsius(f float64) float64 { return (f - 32) / 1.8 }

// peakYear takes the week at peak that the plan names, or the usual, for every month:
// reference ET is what turf needs in it over the figure of turf.
func peakYear(p *plan.Plan) climate.Year {
	week := p.PeakWeek(plan.Turf)
	turf, _ := p.Figure(plan.PlantFactor(plan.Turf))
	if !(turf > 0) {
		turf = 1
	}
	y := climate.Year{Source: "the week at peak, " + p.Show.Depth(week) + " on turf, taken for every month: an assumption until the climate is given"}
	for m := range y.Months {
		y.Months[m].ET = units.Inches(float64(week) / 7 * float64(climate.Days[m]) / turf)
	}
	return y
}
