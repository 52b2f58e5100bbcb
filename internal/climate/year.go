package climate

import (
	"fmt"

	"evenfall/internal/units"
)

const mmPerInch = units.MillimetresPerInch

// middleDay is the day of the year of the 15th of a month, from 0.
func middleDay(month int) int {
	day := 15
	for _, n := range Days[:month] {
		day += n
	}
	return day
}

// ByTemperatures is a year by the mean highest and lowest temperature of each month, in
// °C, and a latitude (FAO-56 eq. 52), with what rain there is, in inches.
func ByTemperatures(latitudeDeg float64, tMax, tMin [12]float64, rain [12]units.Inches) (Year, error) {
	y := Year{Source: "temperatures by month and the latitude (Hargreaves-Samani, FAO-56 eq. 52)"}
	for m := range y.Months {
		w := Weather{Day: middleDay(m), LatitudeDeg: latitudeDeg, TMax: tMax[m], TMin: tMin[m]}
		if err := w.check(); err != nil {
			return Year{}, fmt.Errorf("%s: %w", MonthNames[m], err)
		}
		ra := ExtraterrestrialRadiation(w.Day, latitudeDeg)
		eto := Hargreaves(w.TMax, w.TMin, ra)
		y.Months[m] = Month{
			ET:    units.Inches(eto * float64(Days[m]) / mmPerInch),
			Rain:  rain[m],
			Chain: &Chain{TMax: w.TMax, TMin: w.TMin, TMean: (w.TMax + w.TMin) / 2, Ra: ra, ETo: eto},
		}
	}
	return y, nil
}
