package units

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseFlow(t *testing.T) {
	for _, c := range []struct {
		in   string
		sys  System
		want float64
	}{
		{"12.5", US, 12.5}, {"12.5 gpm", Metric, 12.5}, {"12.5GPM", US, 12.5},
		{"10", Metric, 2.641720523581484}, {"47 l/min", US, 12.416086460832975},
		{"47 L / min", US, 12.416086460832975}, {"47 lpm", US, 12.416086460832975},
		{"2.4 m3/h", US, 10.566882094325937}, {"2.4 m³/h", US, 10.566882094325937},
		{"1 l/s", US, 15.850323141488905}, {"60 l/h", US, 0.26417205235814845},
	} {
		got, err := ParseFlow(c.in, c.sys)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-12*c.want {
			t.Errorf("ParseFlow(%q, %s) = %v, %v; want %v", c.in, c.sys, got, err, c.want)
		}
	}
}

func TestParsePressure(t *testing.T) {
	for _, c := range []struct {
		in   string
		sys  System
		want float64
	}{
		{"45", US, 45}, {"45 psi", Metric, 45}, {"3", Metric, 43.511321319062},
		{"3 bar", US, 43.511321319062}, {"300 kPa", US, 43.511321319062},
	} {
		got, err := ParsePressure(c.in, c.sys)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-9 {
			t.Errorf("ParsePressure(%q, %s) = %v, %v; want %v", c.in, c.sys, got, err, c.want)
		}
	}
}

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		in   string
		want Degrees
	}{
		{"90", 90}, {"22.5°", 22.5}, {"-45 deg", -45}, {"0", 0}, {"360", 360},
		{"N 45 E", 45}, {"n0e", 90}, {"N 30 W", 120}, {"S 30 E", 300}, {"S 30° W", 240},
	} {
		if got, err := ParseAngle(c.in); err != nil || got != c.want {
			t.Errorf("ParseAngle(%q) = %v, %v; want %v", c.in, got, err, c.want)
		}
	}
}

func TestQuantitiesRefuse(t *testing.T) {
	flow := func(s string) error { _, err := ParseFlow(s, US); return err }
	pressure := func(s string) error { _, err := ParsePressure(s, Metric); return err }
	angle := func(s string) error { _, err := ParseAngle(s); return err }
	for _, c := range []struct {
		parse func(string) error
		typed []string
	}{
		{flow, []string{"", "0", "-1", "12,5", "abc", "12 psi", "1e9", "NaN", "12 gpm gpm", "l/min"}},
		{pressure, []string{"", "0", "-1 bar", "3,1", "12 gpm", "99999 psi", "Inf"}},
		{angle, []string{"", "361", "N 95 E", "N E", "north", "12,5", "90 ft", "NaN"}},
	} {
		for _, in := range c.typed {
			err := c.parse(in)
			if err == nil {
				t.Errorf("%q was read", in)
				continue
			}
			checkSentence(t, err.Error())
		}
	}
	if err := flow("12 psi"); !strings.Contains(err.Error(), "not a unit of flow") {
		t.Errorf("wrong unit: %v", err)
	}
}

// What is printed reads back within the last place printed.
func TestQuantitiesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := GPM(rapid.Float64Range(0.01, 9000).Draw(t, "gpm"))
		p := PSI(rapid.Float64Range(0.2, 900).Draw(t, "psi"))
		for _, sys := range []System{US, Metric} {
			if got, err := ParseFlow(sys.Flow(q), sys); err != nil || math.Abs(float64(got-q)) > max(0.006, 0.006*float64(q)) {
				t.Fatalf("%v printed %q, read %v, %v", q, sys.Flow(q), got, err)
			}
			if got, err := ParsePressure(sys.Pressure(p), sys); err != nil || math.Abs(float64(got-p)) > 0.08 {
				t.Fatalf("%v printed %q, read %v, %v", p, sys.Pressure(p), got, err)
			}
		}
		d := Degrees(rapid.Float64Range(-360, 360).Draw(t, "deg"))
		if got, err := ParseAngle(US.Angle(d)); err != nil || math.Abs(float64(got-d)) > 0.051 {
			t.Fatalf("%v printed %q, read %v, %v", d, US.Angle(d), got, err)
		}
	})
}
