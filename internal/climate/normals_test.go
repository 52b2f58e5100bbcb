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
	for _, c := range []struct{ rain, use, counts units.Inches }{
		{4, 5, 1}, {1, 1, .25}, {.05, 3, .0125}, {9, 2, 2}, {9, 10, 2.25}, {0, 2, 0}, {3, 0, 0},
	} {
		counts, err := RainByShare(c.rain, c.use, .25)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "by share", float64(counts), float64(c.counts), 1e-12)
	}
	nan := units.Inches(math.NaN())
	for _, f := range []func() (units.Inches, error){
		func() (units.Inches, error) { return RainByShare(-1, 1, .25) },
		func() (units.Inches, error) { return RainByShare(1, nan, .25) },
		func() (units.Inches, error) { return RainByShare(1, 1, 1.2) },
	} {
		if v, err := f(); err == nil {
			t.Errorf("%g is taken", float64(v))
		}
	}
}
