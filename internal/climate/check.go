package climate

import (
	"fmt"
	"math"
)

// within is a figure and what it can be; bounds are wider than anything on earth.
type within struct {
	name      string
	value     *float64
	low, high float64
	unit      string
}

// check refuses weather that cannot have been.
func (w Weather) check() error {
	if w.Day < 1 || w.Day > 366 {
		return fmt.Errorf("the day of the year is %d; it is from 1 to 366", w.Day)
	}
	for _, f := range []within{
		{"the latitude", &w.LatitudeDeg, -90, 90, "°"},
		{"the height above the sea", &w.ElevationM, -500, 9000, " m"},
		{"the highest temperature", &w.TMax, -90, 60, " °C"},
		{"the lowest temperature", &w.TMin, -90, 60, " °C"},
		{"the greatest humidity", w.RHMax, 0, 100, " %"},
		{"the least humidity", w.RHMin, 0, 100, " %"},
		{"the pressure of vapour", w.VapourKPa, 0, 10, " kPa"},
		{"the hours of sunshine", w.SunHours, 0, 24, " h"},
		{"solar radiation", w.SolarMJ, 0, 50, " MJ/m²"},
		{"the wind", w.WindMS, 0, 100, " m/s"},
	} {
		if f.value == nil {
			continue
		}
		if v := *f.value; math.IsNaN(v) || v < f.low || v > f.high {
			return fmt.Errorf("%s is %g%s; it is from %g to %g", f.name, v, f.unit, f.low, f.high)
		}
	}
	if w.TMax < w.TMin {
		return fmt.Errorf("the highest temperature, %g °C, is below the lowest, %g °C", w.TMax, w.TMin)
	}
	if h := w.WindHeightM; h != 0 && (math.IsNaN(h) || h < 0.5 || h > 100) {
		return fmt.Errorf("the wind is measured %g m above the ground; it is from 0.5 to 100 m", h)
	}
	return nil
}
