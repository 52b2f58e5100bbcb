package climate

import "math"

const (
	solarConstant   = 0.0820   // MJ/m² a minute, FAO-56 eq. 21
	stefanBoltzmann = 4.903e-9 // MJ/K⁴ m² a day, eq. 39
	kelvin          = 273.16   // as eq. 39 prints it
	albedo          = 0.23     // of the reference crop, eq. 38
)

// sun is where the sun stands on a day of the year.
type sun struct {
	distance    float64 // inverse relative distance, eq. 23
	declination float64 // radians, eq. 24
	sunset      float64 // hour angle, radians, eq. 25
}

func sunOn(day int, latitudeDeg float64) sun {
	j := 2 * math.Pi * float64(day) / 365
	s := sun{distance: 1 + 0.033*math.Cos(j), declination: 0.409 * math.Sin(j-1.39)}
	// Within the polar circles the sun does not set, or does not rise.
	s.sunset = math.Acos(min(max(-math.Tan(latitudeDeg*math.Pi/180)*math.Tan(s.declination), -1), 1))
	return s
}

// ExtraterrestrialRadiation is what reaches the top of the air on a day of the year, in
// MJ/m² (FAO-56 eq. 21).
func ExtraterrestrialRadiation(day int, latitudeDeg float64) float64 {
	s, phi := sunOn(day, latitudeDeg), latitudeDeg*math.Pi/180
	return max(24*60/math.Pi*solarConstant*s.distance*
		(s.sunset*math.Sin(phi)*math.Sin(s.declination)+math.Cos(phi)*math.Cos(s.declination)*math.Sin(s.sunset)), 0)
}

// DaylightHours is how long the sun can shine on a day of the year (FAO-56 eq. 34).
func DaylightHours(day int, latitudeDeg float64) float64 {
	return 24 / math.Pi * sunOn(day, latitudeDeg).sunset
}

// SolarBySunshine is the radiation that comes through, by hours of bright sunshine of
// those possible (FAO-56 eq. 35 with its as = .25, bs = .50).
func SolarBySunshine(hours, daylight, ra float64) float64 {
	if daylight <= 0 {
		return 0
	}
	return (0.25 + 0.50*min(max(hours/daylight, 0), 1)) * ra
}

// SolarByTemperature is the radiation that comes through by the range of temperature
// (FAO-56 eq. 50): .16 inland, .19 by the sea. It is no more than that of a clear sky.
func SolarByTemperature(tMax, tMin, ra, elevationM float64, inland bool) float64 {
	k := 0.19
	if inland {
		k = 0.16
	}
	return min(k*math.Sqrt(max(tMax-tMin, 0))*ra, ClearSky(ra, elevationM))
}

// ClearSky is the radiation that comes through a clear sky (FAO-56 eq. 37).
func ClearSky(ra, elevationM float64) float64 { return (0.75 + 2e-5*elevationM) * ra }

// NetShortwave is what the reference crop keeps of solar radiation (FAO-56 eq. 38).
func NetShortwave(rs float64) float64 { return (1 - albedo) * rs }

// NetLongwave is what it gives off at night and day (FAO-56 eq. 39). actual is the
// vapour pressure in kPa.
func NetLongwave(tMax, tMin, actual, rs, rso float64) float64 {
	cloud := 1.0 // where the sun does not rise, the share of a clear sky is not known: taken as clear
	if rso > 0 {
		cloud = min(rs/rso, 1)
	}
	hot, cold := math.Pow(tMax+kelvin, 4), math.Pow(tMin+kelvin, 4)
	return stefanBoltzmann * (hot + cold) / 2 * (0.34 - 0.14*math.Sqrt(max(actual, 0))) * (1.35*cloud - 0.35)
}

// SoilHeat is what goes into the soil in a month, by the mean temperatures of the month
// before and of the month itself, in MJ/m² a day (FAO-56 eq. 44).
func SoilHeat(before, now float64) float64 { return 0.14 * (now - before) }

// SoilHeatBetween is the same where the month after is known, too (FAO-56 eq. 43).
func SoilHeatBetween(before, after float64) float64 { return 0.07 * (after - before) }
