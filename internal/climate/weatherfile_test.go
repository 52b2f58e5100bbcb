package climate

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// Example 18 of FAO-56 as a line of a file, in the units of either side of the ocean,
// in a file from a spreadsheet that writes commas for decimals, and by the dew point.
func TestExample18FromAFile(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"metric":  "date,tmax_c,tmin_c,rh_max_pct,rh_min_pct,sun_h,wind_km_h,wind_height_m,rain_mm\n2023-07-06,21.5,12.3,84,63,9.25,10,10,1.5\n",
		"US":      "date_mdy,tmax_f,tmin_f,rh_max_pct,rh_min_pct,sun_h,wind_mph,wind_height_ft,rain_in\r\n7/6/2023,70.7,54.14,84,63,9.25,6.21371,32.8084,0.0590551\r\n",
		"commas":  "\ufeff\n# station by the pond\nDate_DMY;TMax (C);tmax_c;tmin_c;rh_max_%;rh-min-pct;sun h;wind_m/s;wind_height_m;rain_mm;remark\n6.7.2023;x;21,5;12,3;84;63;9,25;2,7777778;10;1,5;\n",
		"dew":     "date\ttmax_c\ttmin_c\tdew_c\tsolar_mj_m2\twind_m_s\train_mm\n20230706\t21.5\t12.3\t12.0634\t22.0721\t2.0776\t1.5\n",
		"dew, °F": "date,tmax_c,tmin_c,dew_f,solar_mj_m2,wind_m_s,rain_mm\n2023-07-06,21.5,12.3,53.7141,22.0721,2.0776,1.5\n",
		"by watt": "date,tmax_c,tmin_c,rh_max_pct,rh_min_pct,solar_w_m2,wind_m_s,rain_mm\n2023/7/6,21.5,12.3,84,63,255.464,2.0776,1.5\n",
	} {
		f := ReadWeather(strings.NewReader(text))
		if len(f.Errors) > 0 || len(f.Records) != 1 {
			t.Errorf("%s: %v", name, f.Errors)
			continue
		}
		r := f.Records[0]
		if r.Year != 2023 || r.Month != 7 || r.Day != 6 || math.Abs(*r.RainMM-1.5) > 1e-5 {
			t.Errorf("%s: %+v", name, r)
		}
		c, err := Penman(r.weather(Place{LatitudeDeg: 50.80, ElevationM: 100}, 0))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		near(t, name+": ea", c.Actual, 1.409, .0006)
		near(t, name+": wind", c.Wind2, 2.078, .0006)
		near(t, name+": ETo", c.ETo, 3.88, .005)
	}
}

// All that is wrong with a file is told by line and column, and the lines that are
// right are kept.
func TestMistakesAreToldByLineAndColumn(t *testing.T) {
	t.Parallel()
	f := ReadWeather(strings.NewReader(`date,tmax_c,tmin_c,rh_max_pct,rh_min_pct,wind_m_s,rain_mm,station

2024-02-29,12,3,80,40,2,T,pond
2023-02-29,12,3,80,40,2,0,
2024-03-02,3,12,40,80,2,0
2024-03-03,12,-9999,80,40,fast,"1,5"
2024-03-01,14,4,,na,M,
2024-03-01,15,5
7/15/2024,15,5,,,,,,left
,15,5
`))
	want := []catalog.RowError{
		{Line: 4, Column: "date", Sentence: "“2023-02-29” is no date that is known here. Write year, month and day, such as 2024-07-15, or name the column date_mdy or date_dmy."},
		{Line: 5, Column: "tmax_c", Sentence: "The highest temperature is below the lowest. Check whether they are exchanged."},
		{Line: 5, Column: "rh_max_pct", Sentence: "The greatest humidity is below the least. Check whether they are exchanged."},
		{Line: 6, Column: "tmin_c", Sentence: "The lowest temperature in °C is a number from -90 to 60, and “-9999” is not. Leave the field empty where nothing was measured."},
		{Line: 6, Column: "wind_m_s", Sentence: "“fast” is not a number. Write digits with a point, such as 12.5. Leave the field empty where nothing was measured."},
		{Line: 6, Column: "rain_mm", Sentence: "“1,5” has a comma. Write a point for decimals and nothing between thousands, such as 1250.5. Leave the field empty where nothing was measured."},
		{Line: 8, Column: "date", Sentence: "The same date stands in line 7. Keep one of them."},
		{Line: 9, Sentence: "The line has more fields than the first line has names: “left” is left over. Separate by one mark only, and write points for decimals."},
		{Line: 9, Column: "date", Sentence: "“7/15/2024” is no date that is known here. Write year, month and day, such as 2024-07-15, or name the column date_mdy or date_dmy."},
		{Line: 10, Column: "date", Sentence: "The line has no date. Write year, month and day, such as 2024-07-15, or name the column date_mdy or date_dmy."},
	}
	if diff := cmp.Diff(want, f.Errors); diff != "" {
		t.Errorf("mistakes (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"Columns passed over: “station”."}, f.Notes); diff != "" {
		t.Errorf("notes (-want +got):\n%s", diff)
	}
	if len(f.Records) != 2 || f.Records[0].Line != 3 || f.Records[1].Line != 7 || *f.Records[0].RainMM != 0 || f.Records[1].RainMM != nil {
		t.Errorf("%+v", f.Records)
	}
	if _, _, err := f.Year(Place{}, nil); err == nil || !strings.Contains(err.Error(), "Line 4") {
		t.Errorf("mistakes were reckoned with: %v", err)
	}
}

func TestHeadersAreHeldToTheirUnits(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text   string
		column string
		says   string
	}{
		"empty":              {"\n\n", "", "The file is empty."},
		"without units":      {"date,tmax,tmin_c\n", "tmax", "Name it tmax_c or tmax_f."},
		"twice":              {"date,tmax_c,tmax_f,tmin_c\n", "tmax_f", "There is a column tmax_c already"},
		"two dates":          {"date,month,tmax_c,tmin_c\n", "month", "There is a column date already"},
		"no date":            {"day,tmax_c,tmin_c\n", "", "No column is named date or month."},
		"no temperature":     {"date,tmax_c,rain_mm\n", "", "No column is named tmin_c or tmin_f"},
		"no lines":           {"date,tmax_c,tmin_c\n", "", "There is no line of weather"},
		"a quotation mark":   {"date,tmax_c,tmin_c\n2024-01-01,\"1,2\n", "", "quotation mark"},
		"years and none":     {"month,tmax_c,tmin_c\n1,9,1\n2024-02,9,1\n", "month", "Write all months with their year, or none."},
		"a month beyond":     {"month,tmax_c,tmin_c\n13,9,1\n", "month", "“13” is no date"},
		"hot as an oven":     {"date,tmax_f,tmin_f\n2024-01-01,450,1\n", "tmax_f", "from -130 to 140"},
		"written in another": {"date,tmax_c,tmin_c\n2024-01-01,\xff,1\n", "", "UTF-8"},
	} {
		f := ReadWeather(strings.NewReader(c.text))
		if len(f.Errors) != 1 || f.Errors[0].Column != c.column || !strings.Contains(f.Errors[0].Sentence, c.says) {
			t.Errorf("%s: %+v", name, f.Errors)
		}
	}
}

// A file that is wrong throughout is told of in part, and the rest counted.
func TestMistakesBeyondManyAreCounted(t *testing.T) {
	t.Parallel()
	text := "date,tmax_c,tmin_c\n" + strings.Repeat("tomorrow,hot,cold\n", 100)
	f := ReadWeather(strings.NewReader(text))
	if len(f.Errors) != mostTold+1 || f.Errors[mostTold].Sentence != fmt.Sprintf("%d more mistakes were found beyond those listed.", 300-mostTold) {
		t.Errorf("%d errors, the last %v", len(f.Errors), f.Errors[len(f.Errors)-1])
	}
}

// twelve are months of a place inland in the north.
var twelve = [12][2]float64{{5, -4}, {7, -3}, {12, 1}, {17, 5}, {22, 10}, {27, 14}, {31, 17}, {30, 16}, {25, 12}, {18, 6}, {11, 1}, {6, -3}}

func monthly(months ...int) string {
	var b strings.Builder
	b.WriteString("month,tmax_c,tmin_c,rh_max_pct,rh_min_pct,wind_m_s,rain_mm\n")
	for _, m := range months {
		fmt.Fprintf(&b, "%d,%g,%g,85,45,1.5,%d\n", m+1, twelve[m][0], twelve[m][1], 20+m)
	}
	return b.String()
}

// byMonths is a year by the weather of each month's mean day (FAO-56 eq. 6), heat going
// into the soil by the temperatures of the months before and after (eq. 43).
func byMonths(months [12]Weather, rain [12]units.Inches) (Year, error) {
	y := Year{Source: "weather by month (FAO-56 Penman-Monteith)"}
	mean := func(m int) float64 { w := months[(m+12)%12]; return (w.TMax + w.TMin) / 2 }
	for m, w := range months {
		w.Day = middleDay(m)
		w.SoilMJ = SoilHeatBetween(mean(m-1), mean(m+1))
		c, err := Penman(w)
		if err != nil {
			return Year{}, fmt.Errorf("%s: %w", MonthNames[m], err)
		}
		y.Months[m] = Month{ET: units.Inches(c.ETo * float64(Days[m]) / mmPerInch), Rain: rain[m], Chain: c}
	}
	return y, nil
}

// A file by month comes to what byMonths says of the same figures.
func TestMonthsOfAFile(t *testing.T) {
	t.Parallel()
	at := Place{LatitudeDeg: 40, ElevationM: 300, WindHeightM: 3}
	f := ReadWeather(strings.NewReader(monthly(11, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10)))
	got, notes, err := f.Year(at, nil)
	if err != nil || len(f.Errors) > 0 || len(notes) > 0 {
		t.Fatal(err, f.Errors, notes)
	}
	var weather [12]Weather
	var rain [12]units.Inches
	for m, c := range twelve {
		weather[m] = Weather{LatitudeDeg: 40, ElevationM: 300, WindHeightM: 3, TMax: c[0], TMin: c[1], RHMax: ptr(85), RHMin: ptr(45), WindMS: ptr(1.5)}
		rain[m] = units.Inches(float64(20+m) / 25.4)
	}
	want, err := byMonths(weather, rain)
	if err != nil {
		t.Fatal(err)
	}
	for m := range want.Months {
		near(t, MonthNames[m]+": ET", float64(got.Months[m].ET), float64(want.Months[m].ET), 1e-12)
		near(t, MonthNames[m]+": rain", float64(got.Months[m].Rain), float64(want.Months[m].Rain), 1e-12)
		if diff := cmp.Diff(want.Months[m].Chain.Estimated, got.Months[m].Chain.Estimated); diff != "" {
			t.Errorf("month %d estimated (-want +got):\n%s", m+1, diff)
		}
	}
}

// Of a few months heat that goes into the soil is by the neighbour there is (FAO-56 eq.
// 44), and rain that is not in the file is the base's of that very month.
func TestSomeMonthsOfAFile(t *testing.T) {
	t.Parallel()
	base, err := OfNormals([12]units.Inches{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, [12]units.Inches{6: .6, 8: .8}, "")
	if err != nil {
		t.Fatal(err)
	}
	f := ReadWeather(strings.NewReader("month,tmax_c,tmin_c\n7,31,17\n8,30,16\n9,25,12\n"))
	y, _, err := f.Year(Place{LatitudeDeg: 40}, &base)
	if err != nil {
		t.Fatal(err)
	}
	for m, soil := range map[int]float64{6: .14 * (23 - 24), 7: .07 * (18.5 - 24), 8: .14 * (18.5 - 23)} {
		c := y.Months[m].Chain
		below := c.Delta + c.Gamma*(1+.34*c.Wind2)
		near(t, "by radiation in "+MonthNames[m], c.Radiation, .408*c.Delta*(c.Rn-soil)/below, 1e-9)
	}
	near(t, "rain of July", float64(y.Months[6].Rain), .6, 0)
	near(t, "rain of September", float64(y.Months[8].Rain), .8, 0)
}

// Days of more than a year, with holes: months are means of the days that are there, the
// chain is their mean, and what is missing is said.
func TestDaysOfAFile(t *testing.T) {
	t.Parallel()
	text := `date,tmax_c,tmin_c,wind_m_s,rain_mm
2023-07-01,30,15,2,0
2023-07-02,32,17,,31
2023-07-04,34,19,2,
2024-07-01,,15,2,2
2024-08-01,28,14,2,3
`
	f := ReadWeather(strings.NewReader(text))
	at := Place{LatitudeDeg: 40}
	if _, _, err := f.Year(at, nil); err == nil || !strings.Contains(err.Error(), "January, February") {
		t.Errorf("a year of two months: %v", err)
	}
	base, err := OfZone(12)
	if err != nil {
		t.Fatal(err)
	}
	y, notes, err := f.Year(at, &base)
	if err != nil {
		t.Fatal(err)
	}
	var chains []*Chain
	for day, w := range map[int]Weather{182: {TMax: 30, TMin: 15}, 183: {TMax: 32, TMin: 17}, 185: {TMax: 34, TMin: 19}} {
		w.Day, w.LatitudeDeg = day, 40
		c, err := Penman(w)
		if err != nil {
			t.Fatal(err)
		}
		chains = append(chains, c)
	}
	mean := (chains[0].ETo + chains[1].ETo + chains[2].ETo) / 3
	july := y.Months[6]
	near(t, "July, mm a day", july.Chain.ETo, mean, 1e-12)
	near(t, "July, in", float64(july.ET), mean*31/25.4, 1e-12)
	near(t, "rain of July, in", float64(july.Rain), 11.0*31/25.4, 1e-12) // 33 mm on three days
	near(t, "Rn of July", july.Chain.Rn, (chains[0].Rn+chains[1].Rn+chains[2].Rn)/3, 1e-12)
	if y.Months[0].ET != base.Months[0].ET || y.Months[7].ET == base.Months[7].ET {
		t.Error("January is the base's, August is not")
	}
	if got := july.Chain.Estimated[len(july.Chain.Estimated)-1]; got != "wind of 2 m/s (FAO-56, the mean of many stations), on 1 of 3 days" {
		t.Errorf("estimated: %q", got)
	}
	want := []string{
		"The weather runs from 2023-07-01 to 2024-08-01.",
		"Missing in it: 393 days (2023-07-03, 2023-07-05 to 2024-06-30, 2024-07-02 to 2024-07-31).",
		"Without the highest or the lowest temperature, and left out for ET: 1 day.",
		"Without a figure of rain, and left out of its mean: 1 day. Write 0 where it was dry.",
		"Not in the weather, and taken from " + base.Source + ": January, February, March, April, May, June, September, October, November, December.",
	}
	if diff := cmp.Diff(want, notes); diff != "" {
		t.Errorf("notes (-want +got):\n%s", diff)
	}
}

// Whatever is read: every line under the first is a record or is told of, records are by
// date, each once, and what is reckoned is a number.
func FuzzWeather(f *testing.F) {
	f.Add([]byte(monthly(0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)), 40.0)
	f.Add([]byte("\ufeffdate;tmax_f;tmin_f;rain_in\n2024-02-29;70,5;40;T\n2024-03-02;71;41;\n"), -80.0)
	f.Add([]byte("date_mdy\ttmax_c\ttmin_c\n2/30/2024\t1\t2\n"), 0.0)
	f.Add([]byte("date,tmax_c,tmin_c,dew_c,solar_w_m2,wind_mph,wind_height_ft\n2024-12-21,-60,-80,-70,0,200,2\n"), 89.0)
	base, err := OfZone(1)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte, latitude float64) {
		w := ReadWeather(strings.NewReader(string(text)))
		for i, r := range w.Records {
			if i > 0 && w.Records[i-1].order() >= r.order() {
				t.Fatalf("lines %d and %d are not in order", w.Records[i-1].Line, r.Line)
			}
		}
		told := map[int]bool{}
		for _, e := range w.Errors {
			if e.Sentence == "" {
				t.Fatal("a mistake without a word")
			}
			told[e.Line] = true
		}
		for _, r := range w.Records {
			if told[r.Line] && w.Records[0].Year != 0 {
				t.Fatalf("line %d is taken and told of", r.Line)
			}
		}
		lines, err := catalog.TableLines(strings.NewReader(string(text)), catalog.TableForm{Comment: '#', MostRows: MaxWeatherRows, Separator: weatherSeparator})
		headed := len(w.Records) > 0 || len(w.Errors) > 1 && len(w.Errors) <= mostTold
		if err == nil && headed && !told[lines[0].Number] {
			for _, r := range w.Records {
				told[r.Line] = true
			}
			for _, l := range lines[1:] {
				if !told[l.Number] {
					t.Fatalf("line %d is lost", l.Number)
				}
			}
		}
		y, _, err := w.Year(Place{LatitudeDeg: latitude}, &base)
		if err != nil {
			return
		}
		for m, month := range y.Months {
			for _, v := range []units.Inches{month.ET, month.Rain} {
				if !(v >= 0) || math.IsInf(float64(v), 0) {
					t.Fatalf("month %d: %+v", m+1, month)
				}
			}
		}
	})
}

func BenchmarkWeather(b *testing.B) {
	var text strings.Builder
	text.WriteString("date,tmax_c,tmin_c,rh_max_pct,rh_min_pct,sun_h,wind_m_s,rain_mm\n")
	r := Record{Year: 1990, Month: 1, Day: 1}
	for i := range 10_950 { // thirty years
		d := r.date().AddDate(0, 0, i)
		c := twelve[d.Month()-1]
		fmt.Fprintf(&text, "%s,%g,%g,85,45,7.5,2.1,%d\n", d.Format("2006-01-02"), c[0], c[1], i%9)
	}
	best := time.Duration(math.MaxInt64)
	for b.Loop() {
		start := time.Now()
		f := ReadWeather(strings.NewReader(text.String()))
		if _, _, err := f.Year(Place{LatitudeDeg: 40}, nil); err != nil {
			b.Fatal(err)
		}
		best = min(best, time.Since(start))
	}
	b.ReportMetric(float64(best.Nanoseconds())/1e6, "best-ms")
}
