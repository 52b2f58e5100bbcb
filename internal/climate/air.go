package climate

import "math"

// SaturationPressure is the pressure of vapour in saturated air at so many °C, in kPa
// (FAO-56 eq. 11).
func SaturationPressure(t float64) float64 { return 0.6108 * math.Exp(17.27*t/(t+237.3)) }

// SaturationSlope is how fast that pressure rises with temperature, in kPa/°C (FAO-56
// eq. 13).
func SaturationSlope(t float64) float64 {
	return 4098 * SaturationPressure(t) / ((t + 237.3) * (t + 237.3))
}

// MeanSaturation is the mean of a day between its extremes (FAO-56 eq. 12).
func MeanSaturation(tMax, tMin float64) float64 {
	return (SaturationPressure(tMax) + SaturationPressure(tMin)) / 2
}

// AirPressure is the pressure of the air at so many metres, in kPa (FAO-56 eq. 7).
func AirPressure(elevationM float64) float64 {
	return 101.3 * math.Pow(max((293-0.0065*elevationM)/293, 0), 5.26)
}

// Psychrometric is the psychrometric constant at an air pressure, in kPa/°C (FAO-56
// eq. 8).
func Psychrometric(pressure float64) float64 { return 0.665e-3 * pressure }

// ActualByHumidity is the pressure of the vapour that is there, by the humidity at the
// hottest and the coolest hour in per cent (FAO-56 eq. 17).
func ActualByHumidity(tMax, tMin, rhMax, rhMin float64) float64 {
	return (SaturationPressure(tMin)*rhMax + SaturationPressure(tMax)*rhMin) / 200
}

// ActualByHighHumidity is the same by the greatest humidity alone (FAO-56 eq. 18).
func ActualByHighHumidity(tMin, rhMax float64) float64 { return SaturationPressure(tMin) * rhMax / 100 }

// ActualByMeanHumidity is the same by a day's mean humidity (FAO-56 eq. 19).
func ActualByMeanHumidity(tMax, tMin, rhMean float64) float64 {
	return rhMean / 100 * MeanSaturation(tMax, tMin)
}

// ActualByBulbs is the same by a wet and a dry bulb, aired by hand or fan (FAO-56 eq.
// 15 and 16, .000662 for a ventilated one).
func ActualByBulbs(wet, dry, pressure float64) float64 {
	return SaturationPressure(wet) - 0.000662*pressure*(dry-wet)
}

// WindAt2 is the wind at 2 m when it is measured higher (FAO-56 eq. 47).
func WindAt2(speed, heightM float64) float64 { return speed * 4.87 / math.Log(67.8*heightM-5.42) }
