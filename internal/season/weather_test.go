package season_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// lyon is FAO-56's example 20 for each month given, by temperatures alone; the months
// beside July are as warm, so that no heat goes into the soil.
func lyon(months ...int) string {
	var b strings.Builder
	b.WriteString("month,tmax_c,tmin_c,rain_mm\n")
	for _, m := range months {
		fmt.Fprintf(&b, "2023-%02d,26.6,14.8,50.8\n", m)
	}
	return b.String()
}

func allMonths() []int { return []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12} }

// keep makes the step of a weather file on a plan and reads it as a page would.
func keep(t testing.TB, p *plan.Plan, text string) (*plan.Plan, []string) {
	t.Helper()
	patch, notes, err := season.KeepWeather(p, climate.ReadWeather(strings.NewReader(text)))
	if err != nil {
		t.Fatal(err)
	}
	doc, _, err := plan.Apply(p.Encode(), patch)
	if err != nil {
		t.Fatalf("%v: %s", err, patch)
	}
	next, err := plan.Decode(doc)
	if err != nil {
		t.Fatalf("%v: %s", err, patch)
	}
	return next, notes
}

func atLyon(t testing.TB) *plan.Plan {
	p := demo(t)
	north, high := 45+43.0/60, units.FeetFromMetres(200)
	p.Site.Latitude, p.Site.ElevationFt = &north, &high
	return p
}

// A weather file kept in the plan gives the printed ET of FAO-56's example 20 again, and
// its month opens to the weather it is from.
func TestKeptWeatherOpensToItsFigures(t *testing.T) {
	t.Parallel()
	p, notes := keep(t, atLyon(t), lyon(allMonths()...))
	y, peakOnly, err := season.YearOf(p)
	if err != nil || peakOnly {
		t.Fatal(peakOnly, err)
	}
	july := y.Months[6]
	if y.Source != "weather by month (FAO-56 Penman-Monteith)" || july.Lines != 1 || july.Chain == nil {
		t.Fatalf("%q, %+v", y.Source, july)
	}
	near(t, "ETo of a day, mm", float64(july.ET)*25.4/31, 4.56, .005)
	near(t, "rain, in", float64(july.Rain), 2, 1e-4)
	for _, c := range []struct {
		what               string
		got, printed, half float64
	}{
		{"es", july.Chain.Saturation, 2.583, .0006}, {"ea", july.Chain.Actual, 1.68, .005}, {"Rs", july.Chain.Rs, 22.29, .005},
		{"Rn", july.Chain.Rn, 13.483, .005}, {"wind", july.Chain.Wind2, 2, .001}, {"ETo", july.Chain.ETo, 4.5604, .001},
	} {
		near(t, c.what, c.got, c.printed, c.half)
	}
	if len(july.Chain.Estimated) != 3 {
		t.Errorf("estimated: %q", july.Chain.Estimated)
	}
	if len(notes) != 1 || !strings.HasPrefix(notes[0], "The weather runs from 2023-01 to 2023-12") {
		t.Errorf("notes: %q", notes)
	}
	for m, month := range y.Months { // none of the twelve is lost by rounding
		if month.Chain == nil {
			t.Errorf("month %d has no chain", m+1)
		}
	}
}

// Figures written by hand over kept weather are the user's own: only they lose their
// chain, and the year says that it has both.
func TestFiguresByHandAreNotTheWeathers(t *testing.T) {
	t.Parallel()
	p, _ := keep(t, atLyon(t), lyon(allMonths()...))
	p.Watering.ETIn[6] = 7
	y, _, err := season.YearOf(p)
	if err != nil {
		t.Fatal(err)
	}
	if y.Months[6].Chain != nil || y.Months[5].Chain == nil || !strings.HasSuffix(y.Source, "; and own figures") {
		t.Errorf("%q: %+v", y.Source, y.Months[6])
	}
	p.Watering.ETIn = twelve(3.21)
	if y, _, _ = season.YearOf(p); !strings.HasPrefix(y.Source, "your own figures by month") {
		t.Errorf("source %q", y.Source)
	}
}

// Months that the file lacks stay as the plan has them, by whatever it goes by; so does
// rain. Read again and again the name of the source does not grow.
func TestWeatherOfSomeMonths(t *testing.T) {
	t.Parallel()
	p := atLyon(t)
	p.Watering.ETZone, p.Watering.RainIn = 12, twelve(1.5)
	next, notes := keep(t, p, strings.ReplaceAll(strings.ReplaceAll(lyon(7), ",rain_mm", ""), ",50.8", ""))
	y, _, err := season.YearOf(next)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "July, mm a day", float64(y.Months[6].ET)*25.4/31, 4.56, .005)
	near(t, "August of zone 12", float64(y.Months[7].ET), 7.13, 1e-9)
	if y.Source != next.Watering.ETFrom || !strings.Contains(y.Source, "zone 12 of the public table") {
		t.Errorf("source %q", y.Source)
	}
	if c := season.ChainOf(ask(t, next), "island", 7); !strings.HasPrefix(factor(t, c, "Reference ET of August").Source, "not by the weather of this month") {
		t.Errorf("August is from %q", factor(t, c, "Reference ET of August").Source)
	}
	if y.Months[6].Lines != 1 || y.Months[7].Lines != 0 || y.Months[7].Chain != nil {
		t.Errorf("%+v", y.Months[6:8])
	}
	for _, m := range []int{6, 7} {
		near(t, "rain stays", float64(y.Months[m].Rain), 1.5, 1e-9)
	}
	said := strings.Join(notes, "\n")
	for _, want := range []string{"has no rain; that of zone 12", "taken from zone 12 of the public table"} {
		if !strings.Contains(said, want) {
			t.Errorf("notes lack %q:\n%s", want, said)
		}
	}
	for range 5 {
		next, _ = keep(t, next, lyon(8))
	}
	if n := len(next.Watering.ETFrom); n > 300 {
		t.Errorf("the source is %d letters: %s", n, next.Watering.ETFrom)
	}
	near(t, "July is kept", next.Watering.ETIn[6], float64(y.Months[6].ET), 1e-3)
}

// What cannot be kept is refused with a sentence.
func TestWeatherThatCannotBeKept(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*plan.Plan)
		text   string
		words  string
	}{
		"no latitude": {func(p *plan.Plan) { p.Site.Latitude = nil }, lyon(allMonths()...), "latitude of the site"},
		"mistakes":    {func(*plan.Plan) {}, "month,tmax_c,tmin_c\n2023-07,hot,3\n", "mistakes, which come first"},
		"a furnace":   {func(p *plan.Plan) { p.Watering.ETZone = 12 }, "month,tmax_c,tmin_c,wind_m_s,dew_c\n2023-07,60,55,90,-60\n", "reference ET of July is"},
		"no climate":  {func(*plan.Plan) {}, lyon(7), "nothing to reckon January"},
		"pole":        {func(p *plan.Plan) { p.Watering.HighF = twelve(90); p.Watering.LowF = twelve(50); p.Site.Latitude = nil }, lyon(7), "latitude"},
	} {
		p := atLyon(t)
		c.change(p)
		if _, _, err := season.KeepWeather(p, climate.ReadWeather(strings.NewReader(c.text))); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v", name, err)
		}
	}
	p := atLyon(t)
	p.Site.ElevationFt = nil
	if _, notes := keep(t, p, lyon(allMonths()...)); !strings.Contains(strings.Join(notes, "\n"), "height above the sea is not said") {
		t.Errorf("notes: %q", notes)
	}
}

// FuzzKeepWeather: whatever is read, the change makes a plan that reads, with the file's
// ET, or is refused in words.
func FuzzKeepWeather(f *testing.F) {
	f.Add(lyon(allMonths()...), 45.0, 12)
	f.Add(lyon(7), -80.0, 3)
	f.Add("date,tmax_c,tmin_c,rh_max_pct,sun_h,wind_m_s\n2024-12-21,-60,-80,90,0,9\n2024-06-21,45,1,10,14,0\n", 89.0, 18)
	f.Add("month,tmax_c,tmin_c,wind_m_s,wind_height_m,dew_c\n2023-07,60,55,100,0.5,-60\n", 20.0, 9)
	f.Add("month,tmax_c,tmin_c,wind_m_s,dew_c,sun_h\n2023-07,60,-90,1,-80,0\n2023-12,60,59,9,45,0\n", 10.0, 9)
	whole := demo(f)
	f.Fuzz(func(t *testing.T, text string, latitude float64, zone int) {
		if !(math.Abs(latitude) <= 90) || zone < 0 || zone > climate.Zones {
			t.Skip()
		}
		p := *whole
		p.Site.Latitude, p.Watering.ETZone = &latitude, zone
		file := climate.ReadWeather(strings.NewReader(text))
		patch, _, err := season.KeepWeather(&p, file)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		doc, _, err := plan.Apply(p.Encode(), patch)
		if err != nil {
			t.Fatalf("%v: %s", err, patch)
		}
		next, err := plan.Decode(doc)
		if err != nil {
			t.Fatal(err)
		}
		y, _, err := season.YearOf(next)
		if err != nil {
			return // as a year without any ET
		}
		for m, month := range y.Months {
			if got := next.Watering.ETIn[m]; math.Abs(got-float64(month.ET)) > 1e-9 || got < 0 {
				t.Fatalf("month %d: %g of %g", m+1, got, month.ET)
			}
			if k := next.Watering.ETBy[m]; k.Lines > 0 && month.Chain == nil {
				t.Fatalf("month %d lost its weather: %+v, ET %g", m+1, k, month.ET)
			}
		}
	})
}

// A file of days, with gaps and figures missing: what the plan keeps is the file's year to
// rounding, and the weather it opens to is the mean of that month's days.
func TestKeptDaysAreTheFilesYear(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 26))
	var text strings.Builder
	text.WriteString("date,tmax_c,tmin_c,rh_max_pct,rh_min_pct,sun_h,wind_m_s,rain_mm\n")
	for day := time.Date(2022, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() < 2024; day = day.AddDate(0, 0, 1) {
		if r.IntN(20) == 0 {
			continue
		}
		low := 5 + 10*math.Sin(float64(day.YearDay()-100)*2*math.Pi/365) + r.Float64()*4
		wind := fmt.Sprintf("%.1f", 0.5+r.Float64()*4)
		if r.IntN(3) == 0 {
			wind = ""
		}
		fmt.Fprintf(&text, "%s,%.1f,%.1f,%d,%d,%.1f,%s,%.1f\n", day.Format("2006-01-02"), low+6+r.Float64()*10, low, 70+r.IntN(30), 20+r.IntN(40), r.Float64()*8, wind, max(0, r.Float64()*20-14))
	}
	p := atLyon(t)
	file := climate.ReadWeather(strings.NewReader(text.String()))
	want, _, err := file.Year(climate.Place{LatitudeDeg: *p.Site.Latitude, ElevationM: p.Site.ElevationFt.Metres()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	next, _ := keep(t, p, text.String())
	got, _, err := season.YearOf(next)
	if err != nil {
		t.Fatal(err)
	}
	for m := range want.Months {
		w, g := want.Months[m], got.Months[m]
		near(t, "ET", float64(g.ET), float64(w.ET), 6e-5)
		near(t, "rain", float64(g.Rain), float64(w.Rain), 6e-5)
		if g.Lines != w.Lines || g.Lines < 45 || g.Chain == nil {
			t.Fatalf("month %d: %d lines of %d, %+v", m+1, g.Lines, w.Lines, g.Chain)
		}
		for _, c := range [][2]float64{
			{g.Chain.TMax, w.Chain.TMax}, {g.Chain.TMin, w.Chain.TMin}, {g.Chain.Saturation, w.Chain.Saturation}, {g.Chain.Actual, w.Chain.Actual},
			{g.Chain.Rs, w.Chain.Rs}, {g.Chain.Rn, w.Chain.Rn}, {g.Chain.Wind2, w.Chain.Wind2}, {g.Chain.Radiation, w.Chain.Radiation},
			{g.Chain.Aerodynamic, w.Chain.Aerodynamic}, {g.Chain.ETo, w.Chain.ETo},
		} {
			near(t, "of the mean day", c[0], c[1], 6e-4)
		}
		if len(g.Chain.Estimated) != 1 || !strings.Contains(g.Chain.Estimated[0], " on ") {
			t.Errorf("month %d: estimated %q", m+1, g.Chain.Estimated)
		}
	}
}
