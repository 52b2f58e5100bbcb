package climate

import (
	"fmt"
	"math"
)

// lightAir is the wind taken where none was measured, m/s at 2 m: the mean of 2,000
// stations (FAO-56 chapter 3).
const lightAir = 2.0

// Penman is reference ET of a day by the FAO Penman-Monteith equation (FAO-56 eq. 6),
// with every figure on the way. The error says what cannot be, and where.
func Penman(w Weather) (*Chain, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	c := &Chain{TMax: w.TMax, TMin: w.TMin, TMean: (w.TMax + w.TMin) / 2}
	c.Pressure = AirPressure(w.ElevationM)
	c.Gamma = Psychrometric(c.Pressure)
	c.Delta = SaturationSlope(c.TMean)
	c.Saturation = MeanSaturation(w.TMax, w.TMin)
	c.Actual = c.vapour(w)
	c.Ra = ExtraterrestrialRadiation(w.Day, w.LatitudeDeg)
	c.Daylight = DaylightHours(w.Day, w.LatitudeDeg)
	c.Rso = ClearSky(c.Ra, w.ElevationM)
	c.Rs = c.solar(w)
	c.Rns = NetShortwave(c.Rs)
	c.Rnl = NetLongwave(w.TMax, w.TMin, c.Actual, c.Rs, c.Rso)
	c.Rn = c.Rns - c.Rnl
	c.Wind2 = c.wind(w)
	below := c.Delta + c.Gamma*(1+0.34*c.Wind2)
	c.Radiation = 0.408 * c.Delta * (c.Rn - w.SoilMJ) / below
	c.Aerodynamic = c.Gamma * 900 / (c.TMean + 273) * c.Wind2 * (c.Saturation - c.Actual) / below
	c.ETo = max(c.Radiation+c.Aerodynamic, 0)
	return c, nil
}

// Hargreaves is reference ET of a day by temperatures alone, in mm (Hargreaves and
// Samani, FAO-56 eq. 52). Ra is in MJ/m² a day.
func Hargreaves(tMax, tMin, ra float64) float64 {
	return max(0.0023*((tMax+tMin)/2+17.8)*math.Sqrt(max(tMax-tMin, 0))*0.408*ra, 0)
}

func (c *Chain) estimate(format string, args ...any) {
	c.Estimated = append(c.Estimated, fmt.Sprintf(format, args...))
}

func (c *Chain) vapour(w Weather) float64 {
	switch {
	case w.VapourKPa != nil:
		return *w.VapourKPa
	case w.RHMax != nil && w.RHMin != nil:
		return ActualByHumidity(w.TMax, w.TMin, *w.RHMax, *w.RHMin)
	case w.RHMax != nil:
		c.estimate("vapour by the greatest humidity alone (FAO-56 eq. 18)")
		return ActualByHighHumidity(w.TMin, *w.RHMax)
	}
	c.estimate("vapour as if dew fell at the lowest temperature (FAO-56 eq. 48): too moist for a dry place")
	return SaturationPressure(w.TMin)
}

func (c *Chain) solar(w Weather) float64 {
	switch {
	case w.SolarMJ != nil:
		return *w.SolarMJ
	case w.SunHours != nil:
		return SolarBySunshine(*w.SunHours, c.Daylight, c.Ra)
	}
	inland := w.Interior == nil || *w.Interior
	place := "by the sea"
	if inland {
		place = "inland"
	}
	c.estimate("sunshine by the range of temperature, %s (FAO-56 eq. 50)", place)
	return SolarByTemperature(w.TMax, w.TMin, c.Ra, w.ElevationM, inland)
}

func (c *Chain) wind(w Weather) float64 {
	switch {
	case w.WindMS == nil:
		c.estimate("wind of %g m/s (FAO-56, the mean of many stations)", lightAir)
		return lightAir
	case w.WindHeightM == 0 || w.WindHeightM == 2:
		return *w.WindMS
	}
	return WindAt2(*w.WindMS, w.WindHeightM)
}
