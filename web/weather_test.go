package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

const csvHeader = "Content-Type: " + csvKind

// weatherOf is a file of twelve months.
func weatherOf(change func(month int, line string) string) string {
	var b strings.Builder
	b.WriteString("month,tmax_c,tmin_c,rh_max_pct,rh_min_pct,sun_h,wind_m_s,rain_mm\n")
	for m := 1; m <= 12; m++ {
		warm := 30 - 2.5*float64((m-7)*(m-7))/3
		off := max(m-7, 7-m)
		line := fmt.Sprintf("2023-%02d,%.1f,%.1f,85,40,%d,2.1,%d\n", m, warm, warm-12, 6+(6-off)/2, 10+5*off)
		if change != nil {
			line = change(m, line)
		}
		b.WriteString(line)
	}
	return b.String()
}

func (f *fixture) weather(t *testing.T, file string) (v WeatherRead) {
	t.Helper()
	w := f.do("POST", "/api/plans/"+f.plan.ID+"/weather", file, csvHeader)
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(w.Body.String(), "null") {
		t.Errorf("%s", w.Body)
	}
	return v
}

// A weather file is read without changing the plan; what is shown of it is what the plan
// has once its step is taken.
func TestAWeatherFileIsAStepOfThePlan(t *testing.T) {
	f := demoFixture(t)
	v := f.weather(t, weatherOf(nil))
	if len(v.Errors) > 0 || len(v.Months) != 12 || len(v.Patch) == 0 || v.Label == "" || !strings.HasPrefix(v.Says, "12 months of weather read.") {
		t.Fatalf("%+v", v)
	}
	if f.now().Rev != 1 {
		t.Error("reading a file changed the plan")
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(v.Patch), patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	var o WaterOptions
	if code := f.asks("/water/options", &o); code != http.StatusOK || len(o.Months) != 12 {
		t.Fatalf("%d %+v", code, o)
	}
	for m := range o.Months {
		if o.Months[m] != v.Months[m] {
			t.Errorf("%+v was shown, the plan has %+v", v.Months[m], o.Months[m])
		}
	}
	if v.Months[6].ET <= v.Months[1].ET && len(v.Months[6].ET) <= len(v.Months[1].ET) {
		t.Errorf("July asks for %s, February for %s", v.Months[6].ET, v.Months[1].ET)
	}
	body := f.programPage(t, "?month=july")
	if !strings.Contains(body, "FAO-56") {
		t.Error("the chain does not open to the weather")
	}
}

func TestMistakesOfAWeatherFileAreToldByLine(t *testing.T) {
	f := demoFixture(t)
	v := f.weather(t, weatherOf(func(m int, line string) string {
		if m == 5 {
			return strings.Replace(line, ",2.1,", ",windy,", 1)
		}
		return line
	}))
	if len(v.Errors) != 1 || v.Errors[0].Line != 6 || !strings.HasPrefix(v.Errors[0].Says, "Column wind_m_s: ") || v.Patch != nil || !strings.Contains(v.Says, "1 mistake") {
		t.Errorf("%+v", v)
	}
	v = f.weather(t, weatherOf(func(m int, line string) string {
		if m == 5 {
			return ""
		}
		return line
	}))
	if v.Patch != nil || !strings.Contains(v.Says, "May") {
		t.Errorf("without May, and no climate to take it from: %+v", v)
	}
	f.plan = f.keep(yard)
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"site":{"latitude_deg":null,"longitude_deg":null}}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if v := f.weather(t, weatherOf(nil)); v.Patch != nil || !strings.Contains(v.Says, "latitude") {
		t.Errorf("without a place: %+v", v)
	}
}

func TestWeatherIsAskedForAsAFile(t *testing.T) {
	f := newFixture(t)
	at := "/api/plans/" + f.plan.ID + "/weather"
	if w := f.do("POST", at, "{}", jsonType); w.Code != http.StatusUnsupportedMediaType {
		t.Errorf("%d", w.Code)
	}
	if w := f.do("POST", at, strings.Repeat("x", weatherMost+1), csvHeader); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("%d", w.Code)
	}
	if w := f.do("POST", "/api/plans/nowhere/weather", "month\n", csvHeader); w.Code != http.StatusNotFound {
		t.Errorf("%d", w.Code)
	}
}

// FuzzWeather reads files of every shape: each is told of in words, and what is offered
// is a step that the plan takes and whose climate can be read.
func FuzzWeather(f *testing.F) {
	for _, seed := range []string{weatherOf(nil), "", "month\n", "date;tmax_c;tmin_c\n2024-07-15;31,5;18\n", "month,tmax_f,tmin_f\n2024-01,1e300,-1\n", "\ufeffmonth\ttmax_c\n\xff"} {
		f.Add([]byte(seed), true)
	}
	f.Fuzz(func(t *testing.T, file []byte, placed bool) {
		doc := []byte(yard)
		if !placed {
			doc = []byte(`{"format":"evenfall-plan/1","name":"x","show":"metric"}`)
		}
		p, err := plan.Decode(doc)
		if err != nil {
			t.Fatal(err)
		}
		v := weatherWords(p, doc, climate.ReadWeather(strings.NewReader(string(file))))
		if v.Says == "" {
			t.Errorf("%q: nothing is said", file)
		}
		for _, e := range v.Errors {
			if e.Says == "" {
				t.Errorf("%q: a mistake without a word", file)
			}
		}
		if len(v.Patch) == 0 {
			return
		}
		next, _, err := plan.Apply(doc, plan.Patch(v.Patch))
		if err != nil {
			t.Fatalf("%q: %v", file, err)
		}
		p, err = plan.Decode(next)
		if err != nil {
			t.Fatalf("%q: %v", file, err)
		}
		if _, peakOnly, err := season.YearOf(p); err != nil || peakOnly || len(v.Months) != 12 {
			t.Errorf("%q: %v", file, err)
		}
	})
}
