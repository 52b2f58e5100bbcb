package units

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// unknown is printed for a quantity that is not a number.
const unknown = "–"

// Length prints a length: feet and inches to the nearest half inch, as 15' 6",
// 15' 6 1/2" or 6", or metres to the centimetre, as 4.72 m.
func (s System) Length(f Feet) string {
	if !isFinite(float64(f)) {
		return unknown
	}
	if s == Metric {
		return decimals(f.Metres(), 2) + " m"
	}
	halves := math.Round(math.Abs(float64(f)) * 24)
	sign := ""
	if f < 0 && halves > 0 {
		sign = "-"
	}
	feet, rest := math.Floor(halves/24), int(math.Mod(halves, 24))
	inches := strconv.Itoa(rest / 2)
	switch {
	case rest == 1:
		inches = "1/2"
	case rest%2 == 1:
		inches += " 1/2"
	}
	if feet == 0 {
		return sign + inches + `"`
	}
	if rest == 1 {
		inches = "0 1/2"
	}
	return sign + decimals(feet, 0) + "' " + inches + `"`
}

// Area prints an area: 3,552 ft² or 330 m², with one decimal below 10.
func (s System) Area(a SqFeet) string {
	if s == Metric {
		return Grouped(large(a.SqMetres())) + " m²"
	}
	return Grouped(large(float64(a))) + " ft²"
}

// Flow prints a flow: 1.36 gpm, 12.8 gpm, or 5.15 L/min.
func (s System) Flow(q GPM) string {
	if s == Metric {
		return figures(q.LitresPerMinute()) + " L/min"
	}
	return figures(float64(q)) + " gpm"
}

// Pressure prints a gauge pressure: 40 psi, 37.5 psi, or 2.76 bar.
func (s System) Pressure(p PSI) string {
	if s == Metric {
		return decimals(p.Bar(), 2) + " bar"
	}
	return strings.TrimSuffix(decimals(float64(p), 1), ".0") + " psi"
}

// Rate prints a precipitation rate: 0.43 in/h or 11 mm/h.
func (s System) Rate(r InchesPerHour) string {
	if s == Metric {
		return large(r.MillimetresPerHour()) + " mm/h"
	}
	return decimals(float64(r), 2) + " in/h"
}

// Speed prints a speed of wind: 8 mph or 13 km/h, with a decimal only where it has one.
func (s System) Speed(v MPH) string {
	if s == Metric {
		return strings.TrimSuffix(decimals(v.KilometresPerHour(), 1), ".0") + " km/h"
	}
	return strings.TrimSuffix(decimals(float64(v), 1), ".0") + " mph"
}

// Percent prints a share: 89 %.
func (System) Percent(r Ratio) string { return decimals(float64(r)*100, 0) + " %" }

// Angle prints an angle: 90°, 22.5°.
func (System) Angle(d Degrees) string {
	return strings.TrimSuffix(decimals(float64(d), 1), ".0") + "°"
}

// Inches prints a small length: inches to the nearest sixteenth, as 3 1/2", or
// whole millimetres.
func (s System) Inches(in Inches) string {
	if !isFinite(float64(in)) {
		return unknown
	}
	if s == Metric {
		return decimals(in.Millimetres(), 0) + " mm"
	}
	parts := math.Round(math.Abs(float64(in)) * 16)
	sign := ""
	if in < 0 && parts > 0 {
		sign = "-"
	}
	whole, top, bottom := math.Floor(parts/16), int(math.Mod(parts, 16)), 16
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	out := decimals(whole, 0)
	if top > 0 {
		fraction := strconv.Itoa(top) + "/" + strconv.Itoa(bottom)
		if whole == 0 {
			out = fraction
		} else {
			out += " " + fraction
		}
	}
	return sign + out + `"`
}

// figures prints about three: two decimals below 10, one below 100, else none.
func figures(v float64) string {
	switch a := math.Abs(v); {
	case a < 9.995:
		return decimals(v, 2)
	case a < 99.95:
		return decimals(v, 1)
	}
	return decimals(v, 0)
}

// large prints one decimal below 10, else none.
func large(v float64) string {
	if math.Abs(v) < 9.95 {
		return decimals(v, 1)
	}
	return decimals(v, 0)
}

// decimals prints v with n decimals. A value that rounds to zero has no sign;
// one that is not finite prints as a dash. Thousands have no comma, so that what
// is printed can be typed again.
func decimals(v float64, n int) string {
	if !isFinite(v) {
		return unknown
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', n, 64)
	if v < 0 && strings.ContainsAny(s, "123456789") {
		return "-" + s
	}
	return s
}

// Grouped puts commas between the thousands of a printed number: 283,530.
func Grouped(s string) string {
	whole, rest, _ := strings.Cut(s, ".")
	first := strings.IndexFunc(whole, unicode.IsDigit)
	for i := len(whole) - 3; first >= 0 && i > first; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	return whole
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
