package climate

import (
	"math"
	"testing"

	"evenfall/internal/units"
)

func ptr(v float64) *float64 { return &v }

// near holds a figure to one as it is printed: within half of its last digit, and a
// little for figures that the paper rounded on the way.
func near(t *testing.T, what string, got, printed, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-printed) > within {
		t.Errorf("%s is %.5f, printed %g", what, got, printed)
	}
}

// The worked examples of FAO-56 (chapters 3 and 4), by number.
func TestExamplesOfFAO56(t *testing.T) {
	t.Parallel()
	near(t, "2: pressure at 1800 m", AirPressure(1800), 81.8, .05)
	near(t, "2: psychrometric constant", Psychrometric(AirPressure(1800)), .054, .0005)
	near(t, "3: saturation at 24.5", SaturationPressure(24.5), 3.075, .0005)
	near(t, "3: saturation at 15", SaturationPressure(15), 1.705, .0005)
	near(t, "3: mean saturation", MeanSaturation(24.5, 15), 2.39, .005)
	near(t, "3: saturation at the mean", SaturationPressure(19.75), 2.30, .005)
	near(t, "3: saturation at 24.5, as reckoned", SaturationPressure(24.5), 3.0746, .00005)
	near(t, "4: pressure at 1200 m", AirPressure(1200), 87.9, .05)
	near(t, "4: saturation at the wet bulb", SaturationPressure(19.5), 2.267, .0005)
	near(t, "4: vapour by bulbs", ActualByBulbs(19.5, 25.6, 87.9), 1.91, .005)
	near(t, "4: vapour by bulbs, as reckoned", ActualByBulbs(19.5, 25.6, 87.9), 1.912, .0005)
	near(t, "5: saturation at 18", SaturationPressure(18), 2.064, .0005)
	near(t, "5: saturation at 25", SaturationPressure(25), 3.168, .0005)
	near(t, "5: vapour", ActualByHumidity(25, 18, 82, 54), 1.70, .005)
	near(t, "5: vapour by the greatest humidity", ActualByHighHumidity(18, 82), 1.69, .005)
	near(t, "5: vapour by the mean", ActualByMeanHumidity(25, 18, 68), 1.78, .005)
	s := sunOn(246, -20)
	near(t, "8: distance", s.distance, .985, .0005)
	near(t, "8: declination", s.declination, .120, .0005)
	near(t, "8: sunset", s.sunset, 1.527, .0005)
	near(t, "8: Ra", ExtraterrestrialRadiation(246, -20), 32.2, .05)
	near(t, "9: daylight", DaylightHours(246, -20), 11.7, .05)
	near(t, "10: Rs", SolarBySunshine(7.1, 10.9, 25.1), 14.5, .06) // 14.45 printed rounded
	near(t, "11: Rnl", NetLongwave(25.1, 19.1, 2.1, 14.5, 18.8), 3.5, .05)
	near(t, "12: Rns", NetShortwave(14.5), 11.1, .07) // printed 11.1, from figures not rounded
	near(t, "13: soil heat of April", SoilHeatBetween(14.1, 18.8), .33, .005)
	near(t, "13: soil heat of April, mm", SoilHeatBetween(14.1, 18.8)*.408, .13, .005)
	near(t, "eq. 44: soil heat of a month by the one before", SoilHeat(14.1, 16.1), .28, .0005)
	near(t, "14: wind", WindAt2(3.2, 10), 2.4, .05)
	near(t, "15: Rs by temperature", SolarByTemperature(26.6, 14.8, 40.6, 200, true), 22.3, .05)
	near(t, "eq. 50: Rs by the sea", SolarByTemperature(26.6, 14.8, 40.6, 200, false), 22.3*.19/.16, .05)
	near(t, "eq. 50: no more than a clear sky", SolarByTemperature(45, 0, 40, 1000, true), .77*40, 1e-9)
	near(t, "eq. 39: no more than a clear sky", NetLongwave(25.1, 19.1, 2.1, 20, 18.8), NetLongwave(25.1, 19.1, 2.1, 18.8, 18.8), 1e-9)
	near(t, "ASCE C-2: pressure", AirPressure(1462.4), 85.17, .01)
	near(t, "ASCE C-3: psychrometric constant", Psychrometric(AirPressure(1462.4)), .0566, .00005)
	for at, printed := range map[float64]float64{0: .06736, 100: .06658, 500: .06353, 1000: .05987, 1500: .05638, 1800: .05437, 2000: .05306} {
		near(t, "psychrometric constant by altitude", Psychrometric(AirPressure(at)), printed, .000006)
	}
}

// Example 17: Bangkok in April, its vapour measured, by the mean of the month; the heat
// that goes into the soil tells (printed figures from memory).
func TestExample17(t *testing.T) {
	t.Parallel()
	c, err := Penman(Weather{
		Day: 105, LatitudeDeg: 13 + 44.0/60, ElevationM: 2, TMax: 34.8, TMin: 25.6,
		VapourKPa: ptr(2.85), RHMax: ptr(90), RHMin: ptr(50), SunHours: ptr(8.5), WindMS: ptr(2), SoilMJ: SoilHeat(29.2, 30.2),
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "G", SoilHeat(29.2, 30.2), .14, .005)
	near(t, "es", c.Saturation, 4.42, .005)
	near(t, "ea as measured, whatever the humidity", c.Actual, 2.85, 0)
	near(t, "Δ", c.Delta, .246, .0005)
	near(t, "γ", c.Gamma, .0674, .0001)
	near(t, "Ra", c.Ra, 38.06, .01)
	near(t, "N", c.Daylight, 12.31, .005)
	near(t, "Rs", c.Rs, 22.65, .01)
	near(t, "Rso", c.Rso, 28.54, .01)
	near(t, "Rns", c.Rns, 17.44, .01)
	near(t, "Rnl", c.Rnl, 3.11, .005)
	near(t, "Rn", c.Rn, 14.33, .01)
	near(t, "ETo", c.ETo, 5.72, .005)
}

// Radiation that was measured goes before sunshine.
func TestMeasuredRadiationGoesFirst(t *testing.T) {
	t.Parallel()
	c, err := Penman(Weather{Day: 187, LatitudeDeg: 50.80, TMax: 21.5, TMin: 12.3, SunHours: ptr(2), SolarMJ: ptr(22.07)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Rs", c.Rs, 22.07, 0)
}

// Example 18: Uccle, 6 July, with all that is measured.
func TestExample18(t *testing.T) {
	t.Parallel()
	c, err := Penman(Weather{
		Day: 187, LatitudeDeg: 50.80, ElevationM: 100, TMax: 21.5, TMin: 12.3,
		RHMax: ptr(84), RHMin: ptr(63), SunHours: ptr(9.25), WindMS: ptr(10 / 3.6), WindHeightM: 10,
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wind", c.Wind2, 2.078, .0005)
	near(t, "es", c.Saturation, 1.997, .0006)
	near(t, "ea", c.Actual, 1.409, .0005)
	near(t, "Δ", c.Delta, .122, .0005)
	near(t, "P", c.Pressure, 100.1, .05)
	near(t, "γ", c.Gamma, .0666, .00005)
	near(t, "Ra", c.Ra, 41.09, .005)
	near(t, "N", c.Daylight, 16.1, .05)
	near(t, "Rs", c.Rs, 22.07, .005)
	near(t, "Rso", c.Rso, 30.90, .005)
	near(t, "Rns", c.Rns, 17.00, .006)
	near(t, "Rnl", c.Rnl, 3.71, .005)
	near(t, "Rn", c.Rn, 13.28, .005)
	near(t, "ETo", c.ETo, 3.88, .005)
	near(t, "vapour that is wanting", c.Saturation-c.Actual, .589, .0005)
	// As the reference reckons them, to the last place it has.
	near(t, "Δ, as reckoned", c.Delta, .122113, .000001)
	near(t, "ea, as reckoned", c.Actual, 1.40862, .00001)
	near(t, "Rnl, as reckoned", c.Rnl, 3.7123, .0001)
	near(t, "Rn, as reckoned", c.Rn, 13.2832, .0001)
	near(t, "ETo, as reckoned", c.ETo, 3.8803, .0001)
	if len(c.Estimated) != 0 {
		t.Errorf("estimated: %q", c.Estimated)
	}
}

// Example 20: Lyon in July by temperatures alone.
func TestExample20(t *testing.T) {
	t.Parallel()
	w := Weather{Day: 196, LatitudeDeg: 45 + 43.0/60, ElevationM: 200, TMax: 26.6, TMin: 14.8}
	c, err := Penman(w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Ra", c.Ra, 40.6, .05)
	near(t, "Rs", c.Rs, 22.29, .005)
	near(t, "es", c.Saturation, 2.583, .0005)
	near(t, "ea", c.Actual, 1.68, .005)
	near(t, "vapour that is wanting", c.Saturation-c.Actual, .90, .005)
	near(t, "wind", c.Wind2, 2, 0)
	near(t, "Rn, as reckoned", c.Rn, 13.483, .001)
	near(t, "ETo", c.ETo, 4.56, .005)
	near(t, "ETo, as reckoned", c.ETo, 4.5604, .0005)
	if len(c.Estimated) != 3 {
		t.Errorf("estimated: %q", c.Estimated)
	}
	for wind, share := range map[float64]float64{1: -.07, 3: .06} {
		w.WindMS = ptr(wind)
		other, err := Penman(w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share of another wind", other.ETo/c.ETo-1, share, .005)
	}
	near(t, "by Hargreaves", Hargreaves(26.6, 14.8, 16.55/.408), 5.0, .05)
	near(t, "by Hargreaves, as reckoned", Hargreaves(26.6, 14.8, c.Ra), 5.0330, .0001)
}

// A year by temperatures has equation 52 of each month's days, in inches, by the Ra that
// is printed for 40° north, and its own rain.
func TestYearByTemperatures(t *testing.T) {
	t.Parallel()
	var high, low [12]float64
	var rain [12]units.Inches
	for m := range high {
		high[m], low[m], rain[m] = 20+float64(m), 8, units.Inches(m)
	}
	y, err := ByTemperatures(40, high, low, rain)
	if err != nil {
		t.Fatal(err)
	}
	for m, ra := range []float64{15.0, 20.4, 27.2, 34.7, 39.7, 41.8, 40.8, 36.7, 29.9, 22.5, 16.3, 13.6} {
		day := .0023 * ((high[m]+low[m])/2 + 17.8) * math.Sqrt(high[m]-low[m]) * .408 * ra
		days := []float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}[m]
		near(t, MonthNames[m], float64(y.Months[m].ET), day*days/25.4, .005*day*days/25.4)
		near(t, "rain of "+MonthNames[m], float64(y.Months[m].Rain), float64(m), 0)
	}
}

// Ra on the 15th of each month (FAO-56 table 2.6 is made by the same equation).
func TestExtraterrestrialRadiationByMonth(t *testing.T) {
	t.Parallel()
	for latitude, row := range map[float64][12]float64{
		0:   {36.2, 37.4, 37.9, 36.8, 34.8, 33.4, 33.9, 35.6, 37.2, 37.3, 36.3, 35.6},
		20:  {26.8, 30.6, 34.7, 37.9, 39.3, 39.5, 39.3, 38.3, 35.7, 31.7, 27.6, 25.6},
		30:  {21.1, 25.8, 31.4, 36.8, 40.0, 41.2, 40.5, 38.0, 33.3, 27.5, 22.2, 19.7},
		40:  {15.0, 20.4, 27.2, 34.7, 39.7, 41.8, 40.8, 36.7, 29.9, 22.5, 16.3, 13.6},
		50:  {8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.3, 25.6, 16.8, 10.2, 7.5},
		60:  {3.3, 8.3, 16.6, 27.5, 36.7, 41.2, 39.1, 31.3, 20.5, 10.8, 4.4, 2.2},
		-20: {41.9, 40.0, 36.6, 31.3, 26.6, 24.1, 25.0, 29.0, 34.2, 38.6, 41.2, 42.1},
		-35: {43.4, 39.0, 32.7, 24.8, 18.6, 15.7, 16.8, 21.8, 29.3, 36.6, 42.0, 44.3},
	} {
		for m := range row {
			near(t, "Ra", ExtraterrestrialRadiation(middleDay(m), latitude), row[m], .06)
		}
	}
	near(t, "daylight at the pole in summer", DaylightHours(172, 80), 24, 1e-9)
	near(t, "Ra at the pole in winter", ExtraterrestrialRadiation(355, 80), 0, 1e-9)
}
