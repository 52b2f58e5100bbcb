package season

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// KeepWeather is the change of a plan that its climate is that of a weather file: reference
// ET and rain of each month, where they are from, and the mean weather of each month, so
// that its ET can be followed (plan.MonthWeather). The plan's latitude and height are
// where it was measured. Months that the file has nothing of, and rain where it has none,
// stay as the plan has them; without a climate of the plan that is an error, and so are
// mistakes in the file. Notes are sentences on what is missing and how it was taken.
func KeepWeather(p *plan.Plan, f *climate.WeatherFile) (patch plan.Patch, notes []string, err error) {
	if p.Site.Latitude == nil {
		return nil, nil, errors.New("weather tells reference ET only with the latitude of the site; give it one")
	}
	at := climate.Place{LatitudeDeg: *p.Site.Latitude}
	if h := p.Site.ElevationFt; h != nil {
		at.ElevationM = h.Metres()
	} else {
		notes = append(notes, "The height above the sea is not said: the weather is reckoned as at the sea.")
	}
	base, err := baseOf(p)
	if err != nil {
		return nil, nil, err
	}
	y, more, err := f.Year(at, base)
	if err != nil {
		return nil, nil, err
	}
	if err := plausible(y); err != nil {
		return nil, nil, err
	}
	w := map[string]any{"et_from": y.Source}
	var et, rain []float64
	var by []plan.MonthWeather
	for m, month := range y.Months {
		et = append(et, rounded(float64(month.ET), etPlaces))
		rain = append(rain, rounded(float64(month.Rain), etPlaces))
		kept := plan.MonthWeather{}
		if month.Lines > 0 {
			kept = keep(month, m)
		}
		by = append(by, kept)
	}
	w["et_in"], w["et_by"] = et, by
	if slices.ContainsFunc(f.Records, func(r climate.Record) bool { return r.RainMM != nil }) {
		w["rain_in"] = rain
	}
	patch, err = json.Marshal(map[string]any{"watering": w})
	return patch, slices.Concat(notes, more), err
}

// plausible refuses what no plan may have.
func plausible(y climate.Year) error {
	var et, rain [12]units.Inches
	for m, month := range y.Months {
		et[m], rain[m] = month.ET, month.Rain
	}
	if _, err := climate.OfNormals(et, rain, ""); err != nil {
		return fmt.Errorf("by this weather %w; look at its units", err)
	}
	return nil
}

// baseOf is the climate that a plan has, nil for none; weather it kept before is named in
// short, so that its name does not grow from file to file.
func baseOf(p *plan.Plan) (*climate.Year, error) {
	y, peakOnly, err := YearOf(p)
	if err != nil || peakOnly {
		return nil, err
	}
	if p.Watering.ETBy != nil {
		y.Source = "what the plan had before"
	}
	return &y, nil
}

// Places behind the point that a document keeps: of inches in a month, and of the rest.
const (
	etPlaces   = 4
	meanPlaces = 3
)

func rounded(v float64, places int) float64 {
	p := math.Pow(10, float64(places))
	return math.Round(v*p) / p
}

// keep is a month's weather as the plan has it.
func keep(month climate.Month, m int) plan.MonthWeather {
	c := month.Chain
	inches := func(mm float64) float64 { return rounded(mm/units.MillimetresPerInch, etPlaces+1) }
	return plan.MonthWeather{
		Lines: month.Lines, TMaxF: rounded(fahrenheit(c.TMax), meanPlaces), TMinF: rounded(fahrenheit(c.TMin), meanPlaces),
		SaturationKPa: rounded(c.Saturation, meanPlaces), VapourKPa: rounded(c.Actual, meanPlaces),
		SolarMJ: rounded(c.Rs, meanPlaces), NetMJ: rounded(c.Rn, meanPlaces), WindMPH: rounded(c.Wind2/metresASecond, meanPlaces),
		SunIn: inches(c.Radiation), WindIn: inches(c.Aerodynamic), DayIn: inches(c.ETo),
		Estimated: strings.Join(c.Estimated, between),
	}
}

// between parts what was estimated.
const between = "; "

// metresASecond are those of a mile an hour.
const metresASecond = units.KilometresPerMile / 3.6

// byKept gives the months of a plan's own figures the weather they were reckoned from,
// as far as they are still that, and names it.
func byKept(y *climate.Year, w plan.Watering) {
	if len(w.ETBy) != 12 {
		return
	}
	kept, own := false, false
	for m, k := range w.ETBy {
		month := &y.Months[m]
		if k.Lines == 0 {
			continue // of what the plan had before, which its source says
		}
		if off := math.Abs(k.DayIn*float64(climate.Days[m]) - float64(month.ET)); off > keptWithin {
			own = true
			continue
		}
		kept = true
		mm := func(in float64) float64 { return in * units.MillimetresPerInch }
		c := &climate.Chain{
			TMax: celsius(k.TMaxF), TMin: celsius(k.TMinF), TMean: celsius((k.TMaxF + k.TMinF) / 2), Saturation: k.SaturationKPa, Actual: k.VapourKPa,
			Rs: k.SolarMJ, Rn: k.NetMJ, Wind2: k.WindMPH * metresASecond, Radiation: mm(k.SunIn), Aerodynamic: mm(k.WindIn), ETo: mm(k.DayIn),
		}
		if k.Estimated != "" {
			c.Estimated = strings.Split(k.Estimated, between)
		}
		month.Chain, month.Lines = c, k.Lines
	}
	if kept {
		y.Source = from(w)
	}
	if kept && own {
		y.Source += "; and own figures"
	}
}

// keptWithin is how far, in inches of a month, figures may be apart that are one but for
// rounding.
const keptWithin = 0.01

// from says where kept weather is from.
func from(w plan.Watering) string {
	if w.ETFrom != "" {
		return w.ETFrom
	}
	return "weather (FAO-56 Penman-Monteith)"
}

func fahrenheit(c float64) float64 { return c*1.8 + 32 }
