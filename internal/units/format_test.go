package units

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestLengthPrints(t *testing.T) {
	for _, c := range []struct {
		feet       Feet
		us, metric string
	}{
		{15.5, `15' 6"`, "4.72 m"},
		{15 + 6.5/12, `15' 6 1/2"`, "4.74 m"},
		{25, `25' 0"`, "7.62 m"},
		{25 + 0.5/12, `25' 0 1/2"`, "7.63 m"},
		{0.5, `6"`, "0.15 m"},
		{0.5 / 12, `1/2"`, "0.01 m"},
		{0, `0"`, "0.00 m"},
		{0.2 / 12, `0"`, "0.01 m"},
		{-0.001, `0"`, "0.00 m"},
		{-3.5, `-3' 6"`, "-1.07 m"},
		{5 + 11.7/12, `5' 11 1/2"`, "1.82 m"},
		{5 + 11.8/12, `6' 0"`, "1.82 m"}, // carried: never 5' 12"
		{1234.5, `1234' 6"`, "376.28 m"},
		{Feet(math.NaN()), "–", "–"},
		{Feet(math.Inf(1)), "–", "–"},
	} {
		if got := US.Length(c.feet); got != c.us {
			t.Errorf("US.Length(%v) = %q, want %q", c.feet, got, c.us)
		}
		if got := Metric.Length(c.feet); got != c.metric {
			t.Errorf("Metric.Length(%v) = %q, want %q", c.feet, got, c.metric)
		}
	}
}

func TestLengthNeverPrintsTwelveInches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Feet(rapid.Float64Range(-1000, 1000).Draw(t, "feet"))
		if text := US.Length(f); strings.Contains(text, ` 12`) || strings.HasPrefix(text, "12\"") {
			t.Fatalf("%v printed %q", f, text)
		}
	})
}

func TestQuantitiesPrint(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{US.Area(3552.4), "3,552 ft²"}, {Metric.Area(3552.4), "330 m²"},
		{US.Area(1234567), "1,234,567 ft²"}, {US.Area(-1234), "-1,234 ft²"},
		{US.Area(9.34), "9.3 ft²"}, {US.Area(9.96), "10 ft²"}, {US.Area(999.6), "1,000 ft²"},
		{US.Flow(1.362), "1.36 gpm"}, {US.Flow(12.84), "12.8 gpm"}, {US.Flow(9.999), "10.0 gpm"},
		{US.Flow(123.4), "123 gpm"}, {Metric.Flow(1.36), "5.15 L/min"}, {US.Flow(0), "0.00 gpm"},
		{US.Pressure(40), "40 psi"}, {US.Pressure(37.5), "37.5 psi"}, {US.Pressure(39.97), "40 psi"},
		{Metric.Pressure(40), "2.76 bar"},
		{US.Rate(0.4267), "0.43 in/h"}, {Metric.Rate(0.4267), "11 mm/h"}, {Metric.Rate(0.2), "5.1 mm/h"},
		{US.Speed(8), "8 mph"}, {US.Speed(7.5), "7.5 mph"}, {Metric.Speed(8), "12.9 km/h"}, {Metric.Speed(0), "0 km/h"},
		{US.Percent(0.894), "89 %"}, {US.Percent(-0.001), "0 %"}, {US.Percent(1), "100 %"},
		{US.Angle(90), "90°"}, {US.Angle(22.5), "22.5°"}, {US.Angle(-0.01), "0°"},
		{US.Inches(3.5), `3 1/2"`}, {US.Inches(0.75), `3/4"`}, {US.Inches(1), `1"`}, {US.Inches(0), `0"`},
		{US.Inches(1.0625), `1 1/16"`}, {US.Inches(0.99), `1"`}, {US.Inches(-0.5), `-1/2"`},
		{Metric.Inches(3), "76 mm"},
		{US.Flow(GPM(math.NaN())), "– gpm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
