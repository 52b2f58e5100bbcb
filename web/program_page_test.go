package web

import (
	"context"
	"encoding/json"
	"html"
	"math"
	"net/http"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
	"evenfall/web/view"
)

// climateOfDemo is the demo with a climate of its own.
func climateOfDemo(t *testing.T) *fixture {
	t.Helper()
	f := demoFixture(t)
	patch := `{"watering":{"et_zone":9,"rain_in":[3,3,2.5,1,0.5,0.1,0,0,0.3,0.8,1.8,2.6]}}`
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, patch, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	return f
}

func (f *fixture) programPage(t *testing.T, query string) string {
	t.Helper()
	w := f.do("GET", "/plans/"+f.plan.ID+"/program"+query, "")
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	checkMarkup(t, "the program", w.Body.String())
	return w.Body.String()
}

// The page says what the bench is told, and opens every figure to the weather, without a
// script: a month by its address.
func TestTheProgramPageOpensEachMinuteToTheWeather(t *testing.T) {
	f := climateOfDemo(t)
	var v WaterView
	if code := f.asks("/water", &v); code != http.StatusOK || len(v.Months) != 12 {
		t.Fatalf("%d %+v", code, v)
	}
	for _, c := range []struct {
		query string
		month int
	}{{"", v.Peak}, {"?month=april", 3}, {"?month=Oct", 9}} {
		body := f.programPage(t, c.query)
		of := v.Months[c.month]
		wants := []string{
			`aria-current="page" href="/plans/` + f.plan.ID + `/program?month=` + strings.ToLower(of.Name) + `"`, strings.TrimSuffix(v.Says, " It fits."), "It fits</h2>", "Every figure of these sums", "From the weather to the minutes, in " + of.Name,
			"Reference ET of " + of.Name, "Run-time multiplier", "Minutes as solved", "When each station runs", "Most that California", "The rain sensor holds", of.Name + ", day by day",
			"/files/program.csv", "/files/program.ics", "/packs/owner.pdf", "/papers?pack=owner", v.Saved, html.EscapeString(v.Caution),
		}
		for _, program := range of.Programs {
			wants = append(wants, "Program "+program.Letter, program.Days, program.Starts, program.Ends)
			for _, s := range program.Stations {
				wants = append(wants, "<b>"+s.Minutes+"</b>")
			}
		}
		for _, want := range wants {
			if want == "" || !strings.Contains(body, want) {
				t.Errorf("%q: the page does not say %q", c.query, want)
			}
		}
		if n := strings.Count(body, `<details class="program-chain">`); n != 6+1 { // the budgets open, too
			t.Errorf("%q: %d chains for 6 zones", c.query, n)
		}
		if n := strings.Count(body, `<svg class="soil-chart"`); n != 12 || strings.Count(body, `role="img" aria-label="Soil water of `) != n {
			t.Errorf("%q: %d pictures of 6 areas", c.query, n)
		}
		if n := strings.Count(body, `aria-label="Soil water of `); n != 12+6 {
			t.Errorf("%q: %d pictures and tables beside them", c.query, n)
		}
	}
	for _, bad := range []string{"?month=ju", "?month=13", "?month=julyy"} {
		if w := f.do("GET", "/plans/"+f.plan.ID+"/program"+bad, ""); w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), "No month is named") {
			t.Errorf("%s: %d", bad, w.Code)
		}
	}
	if w := f.do("GET", "/plans/nowhere/program", ""); w.Code != http.StatusNotFound {
		t.Errorf("%d", w.Code)
	}
}

// Two days do not fit: the page says why, and what would.
func TestTheProgramPageSaysWhyItDoesNotFit(t *testing.T) {
	f := demoFixture(t)
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"watering":{"days":["mon","thu"]}}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	var v WaterView
	if code := f.asks("/water", &v); code != http.StatusOK || v.Fits || len(v.Why) == 0 || len(v.Eases) == 0 {
		t.Fatalf("%d %+v", code, v)
	}
	body := f.programPage(t, "")
	wants := append([]string{"It does not fit", "Why not", "What would make it fit", "No climate is given"}, v.Why...)
	for _, e := range v.Eases {
		wants = append(wants, e.Says)
	}
	for _, want := range wants {
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(body, "day of the year") || strings.Contains(body, "?month=") {
		t.Error("without a climate there are no months")
	}
}

func TestAPlanWithoutAProgramHasAPage(t *testing.T) {
	f := newFixture(t)
	f.plan = f.keep(`{"format":"evenfall-plan/1","name":"Bare","show":"us"}`)
	if body := f.programPage(t, ""); !strings.Contains(body, "There is no program yet") || strings.Contains(body, "<svg") {
		t.Errorf("%s", body)
	}
	f.plan = f.keep(`{"format":"evenfall-plan/1","name":"Hot","show":"us","watering":{"high_f":[50,50,50,60,70,80,90,90,80,70,60,50],"low_f":[30,30,30,40,50,60,60,60,50,40,30,30]}}`)
	if body := f.programPage(t, ""); !strings.Contains(body, "There is no program yet") || !strings.Contains(body, "latitude") {
		t.Errorf("%s", body)
	}
}

// Names that would do harm are only ever text, on the page and in the answer.
func TestNamesOnTheProgramPageAreText(t *testing.T) {
	f := newFixture(t)
	for i, s := range payloads {
		if i%4 != 0 {
			continue
		}
		f.plan = f.keep(yard)
		if w := f.do("PATCH", "/api/plans/"+f.plan.ID, naming(t, s), patchType, `If-Match: "1"`); w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		f.programPage(t, "")
		checkData(t, f.do("GET", "/api/plans/"+f.plan.ID+"/water", ""))
	}
}

// bareWater words a watering plan that was made up.
func bareWater(sys units.System) *waterMaker {
	return &waterMaker{sys: sys, p: &plan.Plan{}, prog: &season.Program{Asked: &season.Question{}}, in: &watering.Input{}, year: &watering.Year{Peak: 6}, cycle: 7}
}

// sawtooth is an area that is watered every third day of the year, and left dry too long
// in the last days of July.
func sawtooth() *watering.AreaWater {
	w := &watering.AreaWater{}
	for m := range w.May {
		w.May[m] = 0.7
	}
	d := 0
	for m, days := range climate.Days {
		for day := 1; day <= days; day++ {
			w.Days[d] = watering.DayWater{Month: m, Day: day, Need: 0.2, Below: 0.2 * units.Inches(1+d%3)}
			if d%3 == 0 {
				w.Days[d].Got = 0.6
			}
			if m == 6 && day > 28 {
				w.Days[d].Below, w.Days[d].Got = 0.85, 0
			}
			w.Most = max(w.Most, w.Days[d].Below)
			d++
		}
	}
	return w
}

// A picture's places are those of the days it is of: a day's end is as far below full on
// it as the replay says, in the order of time, and each day that is too dry has its mark.
func TestSoilPicturesShowTheReplay(t *testing.T) {
	t.Parallel()
	w, m := sawtooth(), bareWater(units.US)
	pic := m.soilPicture(w, "Lawn", 6)
	number := regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)?`)
	first := 181 // July
	if got := len(pic.Close.Drops); got != 9 {
		t.Errorf("%d days of July are watered", got)
	}
	if len(pic.Close.Past) != 3 || len(pic.Year.Past) != 3 || len(pic.Year.Drops) != 0 {
		t.Errorf("%d and %d days are marked as too dry", len(pic.Close.Past), len(pic.Year.Past))
	}
	for _, c := range []struct {
		chart       string
		first, last int
	}{{pic.Close.Level, first, first + 31}, {pic.Year.Level, 0, 365}} {
		var at []float64
		for _, s := range number.FindAllString(c.chart, -1) {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			at = append(at, v)
		}
		if len(at) != 4*(c.last-c.first) {
			t.Fatalf("%d figures for %d days", len(at), c.last-c.first)
		}
		for i := range c.last - c.first {
			x, y := at[4*i+2], at[4*i+3]
			wantX := soilLeft + (soilRight-soilLeft)*float64(i+1)/float64(c.last-c.first)
			wantY := soilTop + (soilBottom-soilTop)*float64(w.Days[c.first+i].Below)/(0.85*soilRoom)
			if math.Abs(x-wantX) > 0.06 || math.Abs(y-wantY) > 0.06 {
				t.Errorf("day %d ends at %g, %g, want %g, %g", c.first+i, x, y, wantX, wantY)
			}
			if at[4*i] > x {
				t.Errorf("day %d goes back in time", c.first+i)
			}
		}
	}
	if !strings.Contains(pic.Says, "Too dry on 3 days, by 0.15 in at the most: July.") {
		t.Errorf("%q", pic.Says)
	}
	july := pic.Table.Rows[6]
	for i, want := range []string{"July", "0.20 in", "9", "0.85 in", "0.70 in", "3"} {
		if july[i] != want {
			t.Errorf("%s: %q, want %q", pic.Table.Columns[i], july[i], want)
		}
	}
	if len(pic.Table.Rows) != 12 {
		t.Errorf("%d rows", len(pic.Table.Rows))
	}
}

func TestSoilDepthsAreRound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sys     units.System
		deepest float64
		want    string
	}{
		{units.US, 0.8, "full −0.5 in"}, {units.US, 1.1, "full −0.5 in −1 in"}, {units.US, 0.05, "full −0.02 in −0.04 in"},
		{units.Metric, 0.8, "full −10 mm −20 mm"}, {units.Metric, 0.1, "full −1 mm −2 mm"},
	} {
		var words []string
		for _, tick := range bareWater(c.sys).soilDepths(c.deepest, func(units.Inches) float64 { return 0 }) {
			words = append(words, tick.Says)
		}
		if got := strings.Join(words, " "); got != c.want {
			t.Errorf("%g: %q, want %q", c.deepest, got, c.want)
		}
	}
}

// The kept estimate of the field and one drawn for the program are one and the same, so
// that a program does not depend on what was looked at before.
func TestTheProgramDoesNotDependOnWhatWasLookedAt(t *testing.T) {
	f := newFixture(t)
	var cold, warm WaterView
	var drawn []bool
	f.searches(func(s *proposers) {
		s.water = func(ctx context.Context, p *plan.Plan, e []coverage.Estimate, tell coverage.Progress) (*season.Program, error) {
			drawn = append(drawn, e != nil)
			return season.Work(ctx, p, e, tell)
		}
	})
	if code := f.asks("/water", &cold); code != http.StatusOK {
		t.Fatal(code)
	}
	f.plan = f.keep(string(f.now().Doc))
	if w := f.do("GET", "/api/plans/"+f.plan.ID+"/field", ""); w.Code != http.StatusOK {
		t.Fatal(w.Code)
	}
	if code := f.asks("/water", &warm); code != http.StatusOK {
		t.Fatal(code)
	}
	cold.Rev = warm.Rev
	a, _ := json.Marshal(cold)
	b, _ := json.Marshal(warm)
	if string(a) != string(b) || len(drawn) != 2 || drawn[0] || !drawn[1] {
		t.Errorf("estimates given %v; %s\n%s", drawn, a, b)
	}
}

func BenchmarkProgramPage_Demo(b *testing.B) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	p.Watering.ETZone = 9
	prog, err := season.Work(b.Context(), p, nil, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		waterMakerOf(p, prog).page(new(view.ProgramModel), waterWords(p, 1, prog), -1)
	}
}
