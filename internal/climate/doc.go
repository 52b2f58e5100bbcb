// Package climate reckons reference evapotranspiration, the water that a short green
// crop takes up, from weather: by month or by day. It knows no plan.
//
// The equations are those of FAO Irrigation and Drainage Paper 56 (Allen, Pereira,
// Raes, Smith 1998), "FAO-56" below, in its own units: °C, kPa, MJ/m² a day, m/s, mm.
// Inches appear in Year alone, which the rest of the program reads.
package climate

import "evenfall/internal/units"

// Year is what each month asks for and brings, January first.
type Year struct {
	Months   [12]Month
	RainFrom string // likewise of rain; "": as Source
	Source   string // in words: "zone 12 of the public table", "your weather, by temperatures"
}

// Month is one month of a year.
type Month struct {
	ET    units.Inches // reference, of the whole month
	Rain  units.Inches // of the whole month; 0: none, or not known
	Chain *Chain       // how ET was come by; nil: it was given
	Lines int          // of weather that Chain is the mean of; 0: no weather file's
}

// Days are the days of each month of a year that is not a leap year.
var Days = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// Weather is what one day, or the mean day of a month, was like. What is nil was not
// measured and is estimated as FAO-56 chapter 3 says.
type Weather struct {
	Day          int     // of the year, 1 to 366
	LatitudeDeg  float64 // north positive
	ElevationM   float64
	TMax, TMin   float64  // °C
	RHMax, RHMin *float64 // %
	VapourKPa    *float64 // actual, measured; goes before humidity
	SunHours     *float64 // of bright sunshine
	SolarMJ      *float64 // measured; goes before sunshine
	WindMS       *float64
	WindHeightM  float64 // of its gauge; 0: 2 m
	SoilMJ       float64 // heat that goes into the soil: 0 for a day, SoilHeat for a month
	Interior     *bool   // whether the place is inland, for radiation by temperatures; nil: inland
}

// Chain is every figure between weather and ETo, in the order they are worked out.
type Chain struct {
	TMax, TMin  float64
	TMean       float64
	Pressure    float64 // kPa
	Gamma       float64 // psychrometric constant, kPa/°C
	Delta       float64 // slope of the saturation curve, kPa/°C
	Saturation  float64 // mean, kPa
	Actual      float64 // kPa
	Ra          float64 // extraterrestrial radiation, MJ/m² a day
	Daylight    float64 // hours
	Rs          float64 // solar radiation
	Rso         float64 // of a clear sky
	Rns, Rnl    float64 // net, short and long waves
	Rn          float64
	Wind2       float64  // m/s at 2 m
	Radiation   float64  // mm/day that radiation accounts for
	Aerodynamic float64  // mm/day that wind and dry air account for
	ETo         float64  // mm/day
	Estimated   []string // what was not measured and how it was taken, in words
}
