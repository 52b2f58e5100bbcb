package season

import (
	"math"
	"strconv"
	"strings"

	"evenfall/internal/units"
)

// Factor is one figure of a chain.
type Factor struct {
	What   string
	Value  float64 // in Unit
	Unit   string  // one of the units below
	Source string  // in words: where it is from, or how it follows from those above it
}

// The units of factors, as the plan has them. "" is a plain number.
const (
	Inches    = "in"
	InchesDay = "in/day"
	InchesHr  = "in/h"
	Share     = "share"
	Minutes   = "min"
	Days      = "days"
	Times     = "times"
	Gallons   = "gal"
	Area      = "ft²"
	Warmth    = "°F"
	Vapour    = "kPa"
	Energy    = "MJ/m² a day"
	Wind      = "mph"
)

// Shown prints the figure in a system of units: "0.25 in a day", "6.4 mm a day", "65 %".
func (f Factor) Shown(s units.System) string {
	metric := s == units.Metric
	switch f.Unit {
	case Inches:
		return depth(metric, f.Value, "")
	case InchesDay:
		return depth(metric, f.Value, " a day")
	case InchesHr:
		return depth(metric, f.Value, "/h")
	case Share:
		return s.Percent(units.Ratio(f.Value))
	case Area:
		return s.Area(units.SqFeet(f.Value))
	case Gallons:
		return s.Volume(units.Gallons(math.Round(f.Value)))
	case Warmth:
		if metric {
			return trim(celsius(f.Value), 1) + " °C"
		}
		return trim(f.Value, 1) + " °F"
	case Wind:
		return s.Speed(units.MPH(f.Value))
	case Days, Times:
		one := map[string]string{Days: "day", Times: "time"}[f.Unit]
		if f.Value == 1 {
			return "1 " + one
		}
		return trim(f.Value, 1) + " " + one + "s"
	case Minutes:
		return trim(f.Value, 1) + " min"
	case "":
		return trim(f.Value, 3)
	}
	return trim(f.Value, 2) + " " + f.Unit
}

// depth prints water as finely as a chain needs: units.System.Depth rounds to what a
// gauge shows, and a day's need would be lost in that.
func depth(metric bool, inches float64, of string) string {
	if metric {
		return trim(inches*units.MillimetresPerInch, 1) + " mm" + of
	}
	return trim(inches, 3) + " in" + of
}

// trim prints a number to so many places, without zeros at its end.
func trim(v float64, places int) string {
	t := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
	}
	if t == "-0" {
		return "0"
	}
	return t
}

// product says how a figure is made of others, as they are shown: "8.06 in × 0.8".
func product(s units.System, parts ...Factor) string {
	var out []string
	for _, p := range parts {
		out = append(out, p.Shown(s))
	}
	return strings.Join(out, " × ")
}

// inches prints a depth of water as Factors are.
func inches(s units.System, in units.Inches) string {
	return Factor{Value: float64(in), Unit: Inches}.Shown(s)
}
