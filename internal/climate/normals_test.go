package climate

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/units"
)

func TestOwnFiguresByMonth(t *testing.T) {
	t.Parallel()
	// Vacaville's table (municipal code 14.27.030.A), whose printed sum is 52.3 in.
	et := [12]units.Inches{.7, 1.4, 3.2, 5.2, 6.3, 7.6, 8.2, 7.2, 5.5, 4.3, 1.6, 1.1}
	y, err := OfNormals(et, [12]units.Inches{0: 4.5}, "the city's code")
	if err != nil {
		t.Fatal(err)
	}
	sum := units.Inches(0)
	for m, month := range y.Months {
		if sum += month.ET; month.ET != et[m] {
			t.Errorf("ET of %s is %g", MonthNames[m], float64(month.ET))
		}
	}
	near(t, "year", float64(sum), 52.3, .05)
	if y.Source != "your own figures by month (the city's code)" || y.Months[0].Rain != 4.5 {
		t.Errorf("%+v", y)
	}
	for _, bad := range []struct {
		month    int
		et, rain units.Inches
		says     string
	}{{3, -1, 0, "reference ET of April is -1 in"}, {0, 31, 0, "January"}, {11, 1, 401, "the rain of December"}, {5, units.Inches(math.NaN()), 0, "June"}} {
		e, r := et, [12]units.Inches{}
		e[bad.month], r[bad.month] = bad.et, bad.rain
		if _, err := OfNormals(e, r, ""); err == nil || !strings.Contains(err.Error(), bad.says) {
			t.Errorf("%v: %v", bad, err)
		}
	}
	if _, err := OfNormals([12]units.Inches{}, [12]units.Inches{}, ""); err == nil {
		t.Error("a year without any ET is taken")
	}
}

func TestRainThatPlantsCanUse(t *testing.T) {
	t.Parallel()
	// By soil: the formula worked out by another program.
	for _, c := range []struct{ rain, use, depth, share, soil units.Inches }{
		{4, 5, 3, 1, 2.78839},    // SF 1.000674 at 3 in, as a public program prints it
		{1, 1, 3, .25, .62818},   // (.70917 - .11556) · 1.05746 · 1.000674
		{1, 1, .75, .25, .45338}, // SF .72227: shallow soil keeps less
		{.05, 3, 3, .0125, 0},    // too little to wet the ground
		{9, 2, 3, 2, 2},          // no more than is used
		{0, 2, 3, 0, 0},          // none
		{1, 1, 40, .25, .6751},   // a soil deeper than the table: as 7 in, 1.0754
		{3, 0, 3, 0, 0},          // nothing grows
		{.3, 7, 7, .075, .23431}, // never more than fell
	} {
		share, err := RainByShare(c.rain, c.use, AllowedRain)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "by share", float64(share), float64(c.share), 1e-12)
		soil, err := RainBySoil(c.rain, c.use, c.depth)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "by soil", float64(soil), float64(c.soil), 5e-4)
	}
	nan := units.Inches(math.NaN())
	for _, f := range []func() (units.Inches, error){
		func() (units.Inches, error) { return RainByShare(-1, 1, .25) },
		func() (units.Inches, error) { return RainByShare(1, nan, .25) },
		func() (units.Inches, error) { return RainByShare(1, 1, 1.2) },
		func() (units.Inches, error) { return RainBySoil(nan, 1, 1) },
		func() (units.Inches, error) { return RainBySoil(1, 1, -1) },
	} {
		if v, err := f(); err == nil {
			t.Errorf("%g is taken", float64(v))
		}
	}
}

// More rain never counts for less, and never for more than fell or is used.
func TestMoreRainCountsForMore(t *testing.T) {
	t.Parallel()
	for use := units.Inches(0); use <= 12; use += 1.5 {
		for depth := units.Inches(0.2); depth < 8; depth += 0.4 {
			before := units.Inches(0)
			for rain := units.Inches(0); rain <= 20; rain += 0.1 {
				v, err := RainBySoil(rain, use, depth)
				if err != nil {
					t.Fatal(err)
				}
				if v < before || v > rain || v > use {
					t.Fatalf("rain %g, use %g, depth %g: %g after %g", float64(rain), float64(use), float64(depth), float64(v), float64(before))
				}
				before = v
			}
		}
	}
}
