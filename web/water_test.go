package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"os"
	"reflect"
	"strings"
	"sync"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// Asked for real, the demo has a program that every figure is told of, and what would
// make it fit on two days is one step that the plan takes.
func TestTheWateringPlanOfTheDemoIsTold(t *testing.T) {
	f := demoFixture(t)
	var v WaterView
	if code := f.asks("/water?rev=1", &v); code != http.StatusOK || !v.Offered || v.Rev != 1 || len(v.Months) != 1 || v.Months[0].Name != "The week at peak" {
		t.Fatalf("%d %+v", code, v)
	}
	peak := v.Months[v.Peak]
	if !v.Fits || !peak.Needed || !peak.Fits || peak.Gallons == "" || len(peak.Programs) == 0 {
		t.Errorf("at peak: %+v", peak)
	}
	for _, program := range peak.Programs {
		if program.Letter == "" || program.Days == "" || program.Starts == "" || program.Ends == "" || len(program.Stations) == 0 {
			t.Errorf("%+v", program)
		}
		for _, s := range program.Stations {
			if s.Zone == "" || s.Name == "" || s.Station == "" || s.Minutes == "" || s.Minutes == "0" {
				t.Errorf("%+v", s)
			}
		}
	}
	if len(v.Areas) < 6 || v.Caution == "" || len(v.Why) > 0 || len(v.Eases) > 0 {
		t.Errorf("%+v", v)
	}
	island := -1
	for i, a := range v.Areas {
		if a.Need == "" || a.Gets == "" || a.Lasts == "" || a.Name == "" {
			t.Errorf("%+v", a)
		}
		if a.ID == "island" {
			island = i
		}
	}
	if island < 0 || v.Areas[island].Beside == "" || !v.Areas[island].Turn || !v.Areas[island].Counts {
		t.Errorf("the island bed lies within the throw of the lawn's heads: %+v", v.Areas)
	}
	if os.Getenv("EVENFALL_TELL") != "" {
		b, _ := json.MarshalIndent(v, "", " ")
		t.Logf("%s", b)
	}
}

// On two days the demo does not fit: it is said why, and each way out is a step.
func TestTwoDaysDoNotFitAndTheWaysOutAreSteps(t *testing.T) {
	f := demoFixture(t)
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"watering":{"days":["mon","thu"]}}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	var v WaterView
	if code := f.asks("/water?rev=2", &v); code != http.StatusOK || v.Fits || len(v.Eases) == 0 {
		t.Fatalf("%d %+v", code, v)
	}
	if os.Getenv("EVENFALL_TELL") != "" {
		b, _ := json.MarshalIndent(v, "", " ")
		t.Logf("%s", b)
	}
	var day *WaterEase
	for i, e := range v.Eases {
		if e.Says == "" || e.Label == "" || len(e.Patch) == 0 {
			t.Errorf("%+v", e)
		}
		if e.Fits && strings.Contains(string(e.Patch), `"days"`) {
			day = &v.Eases[i]
		}
	}
	if day == nil {
		t.Fatalf("no third day is offered: %+v", v.Eases)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(day.Patch), patchType, `If-Match: "2"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if code := f.asks("/water?rev=3", &v); code != http.StatusOK || !v.Fits {
		t.Errorf("with the day taken: %d %+v", code, v.Says)
	}
}

// Each limit made wider, alone or with others, is a step that the plan takes, and that
// leaves everything else as it is.
func TestWiderLimitsAreStepsOfThePlan(t *testing.T) {
	t.Parallel()
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	week := []bool{true, false, false, true, false, false, false}
	for _, c := range []struct {
		days  []bool
		ease  watering.Ease
		label string
		patch string
	}{
		{week, watering.Ease{Day: 5, Days: []int{5}}, "Allow watering on Saturday too", `{"watering":{"days":["mon","thu","sat"]}}`},
		{week, watering.Ease{Day: -1, Days: []int{5, 1}, Minutes: 65}, "Allow watering on Tuesday and Saturday too and water until 07:05", `{"watering":{"days":["mon","tue","thu","sat"],"end":"07:05","start":"22:00"}}`},
		{week, watering.Ease{Day: -1, Minutes: 960}, "Water until 22:00", `{"watering":{"end":"22:00","start":"22:00"}}`},
		{week, watering.Ease{Day: -1, Side: true}, "Let stations run side by side", `{"watering":{"together":true}}`},
		{week, watering.Ease{Day: -1, Soaks: true}, "Have a controller that soaks", `{"controller":{"soaks":true}}`},
		{[]bool{true, false, false}, watering.Ease{Day: -1, Every: 2}, "Water every 2 days", `{"watering":{"every":2}}`},
		{week, watering.Ease{Day: -1}, "", ""},
	} {
		m := waterMakerOf(&plan.Plan{}, &season.Program{Asked: &season.Question{Input: watering.Input{
			Calendar: watering.Calendar{Days: c.days, From: 22 * 60, Until: 30 * 60},
		}}, Year: &watering.Year{}})
		v := m.ease(c.ease, "So it is.")
		if v.Label != c.label || string(v.Patch) != c.patch || v.Says != "So it is." {
			t.Errorf("%q %s, want %q %s", v.Label, v.Patch, c.label, c.patch)
		}
		if c.patch == "" {
			continue
		}
		start := doc
		if len(c.days) < 7 {
			if start, _, err = plan.Apply(doc, plan.Patch(`{"watering":{"days":null,"every":3}}`)); err != nil {
				t.Fatal(err)
			}
		}
		next, _, err := plan.Apply(start, plan.Patch(v.Patch))
		if err != nil {
			t.Errorf("%s: %v", v.Patch, err)
			continue
		}
		before, err1 := plan.Decode(start)
		after, err2 := plan.Decode(next)
		if err := errors.Join(err1, err2); err != nil {
			t.Errorf("%s: %v", v.Patch, err)
			continue
		}
		before.Watering, before.Controller = after.Watering, after.Controller
		if !reflect.DeepEqual(before, after) {
			t.Errorf("%s changes more than watering and controller", v.Patch)
		}
	}
}

func TestNoWateringPlanIsSaid(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.water = func(context.Context, *plan.Plan, []coverage.Estimate, coverage.Progress) (*season.Program, error) {
			return nil, errors.New("temperatures need a latitude")
		}
	})
	var v WaterView
	if code := f.asks("/water", &v); code != http.StatusOK || v.Offered || v.Says != "Temperatures need a latitude." {
		t.Errorf("%d %+v", code, v)
	}
	if b, err := json.Marshal(v); err != nil || strings.Contains(string(b), "null") {
		t.Errorf("%s %v", b, err)
	}
	if code := f.asks("/water?rev=9", &v); code != http.StatusPreconditionFailed {
		t.Errorf("for another revision: %d", code)
	}
}

// A plan whose program is known is not worked out again until it changes.
func TestTheWateringPlanIsKeptForItsRevision(t *testing.T) {
	f := newFixture(t)
	n := 0
	f.searches(func(s *proposers) {
		s.water = func(ctx context.Context, p *plan.Plan, e []coverage.Estimate, tell coverage.Progress) (*season.Program, error) {
			n++
			return season.Work(ctx, p, e, tell)
		}
	})
	var v WaterView
	for range 2 {
		if code := f.asks("/water", &v); code != http.StatusOK || !v.Offered {
			t.Fatalf("%d %+v", code, v)
		}
	}
	if n != 1 {
		t.Errorf("worked out %d times for one revision", n)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"watering":{"days":["mon","tue"]}}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if code := f.asks("/water", &v); code != http.StatusOK || n != 2 || v.Rev != 2 {
		t.Errorf("%d, worked out %d times, of revision %d", code, n, v.Rev)
	}
}

func TestWaterOfOtherZonesIsTold(t *testing.T) {
	t.Parallel()
	p := readPlan(t, "../testdata/plans/demo.json")
	m := waterMakerOf(p, &season.Program{Asked: &season.Question{Input: watering.Input{
		Areas: []watering.Area{
			{ID: "island", Rates: [][]float32{{1, 3}, {1, 1}}, Credit: []units.Ratio{0.5, 1}},
			{ID: "strip", Rates: [][]float32{nil, {1, 1}}},
			{ID: "back-lawn", Rates: [][]float32{{1, 1}, {1, 1}}, Credit: []units.Ratio{0, 1}},
		},
		Zones:    []watering.Zone{{ID: "z1"}, {ID: "z6", Own: []int{0, 1, 2}}},
		Calendar: watering.Calendar{Days: make([]bool, 7)},
	}}, Year: &watering.Year{Peak: 6}})
	of := &watering.Month{
		Programs: []watering.Program{{Days: []int{0, 3}, Runs: []watering.Run{{Zone: 0, Minutes: 15}}}},
		Areas:    []watering.Received{{Need: 2, Counts: 1}, {Need: 1}, {Need: 1}},
	}
	for i, c := range []struct {
		beside       string
		counts, turn bool
	}{
		{"Other zones bring 1.00 in a week, 50 % of its need: zone 1 (Front lawn, west). Of it 50 % is counted, as its plants stand high.", true, true},
		{"", true, false},
		{"Other zones bring 0.50 in a week, 50 % of its need: zone 1 (Front lawn, west). It is not counted.", false, true},
	} {
		a := m.area(of, i)
		if a.Beside != c.beside || a.Counts != c.counts || a.Turn != c.turn {
			t.Errorf("%s: %q, counted %v, from heads of other zones %v", a.ID, a.Beside, a.Counts, a.Turn)
		}
	}
}

func TestOptionsOfWateringAreTold(t *testing.T) {
	f := demoFixture(t)
	var v WaterOptions
	if code := f.asks("/water/options", &v); code != http.StatusOK || len(v.Zones) != 18 || len(v.Months) != 12 || v.Climate == "" || !strings.Contains(v.Columns, "tmax_c") {
		t.Fatalf("%d %+v", code, v)
	}
	if len(v.Needs) != 6 {
		t.Errorf("%d areas are watered overhead", len(v.Needs))
	}
	if want := map[string]string{"start": "22:00", "end": "06:00", "programs": "3", "starts": "4"}; !reflect.DeepEqual(v.Usual, want) {
		t.Errorf("what is taken for what the plan does not say: %v", v.Usual)
	}
	for _, n := range v.Needs {
		if n.ID == "island" && (n.Taken["roots_in"] != "6 in" || n.Taken["depletion"] != "50 %" || n.Taken["density_factor"] != "1") || len(n.Taken) != 5 {
			t.Errorf("%s: taken %v", n.Name, n.Taken)
		}
		if len(n.Facts) < 8 || n.Name == "" {
			t.Errorf("%+v", n)
		}
		for _, fact := range n.Facts {
			if fact.What == "" || fact.Value == "" || fact.Source == "" {
				t.Errorf("%s: %+v", n.Name, fact)
			}
		}
	}
}

// A page that takes lines is told how far the programs are, ever further, and then the
// plan; and the plan is one for all who ask at once.
func TestTheWateringPlanIsToldAsItGoes(t *testing.T) {
	f := demoFixture(t)
	last, told := -1.0, 0
	w := f.do("GET", "/api/plans/"+f.plan.ID+"/water?rev=1", "", "Accept: "+lines)
	for line := range strings.Lines(w.Body.String()) {
		var of struct {
			Step  string
			Share float64
			Value *WaterView
		}
		if err := json.Unmarshal([]byte(line), &of); err != nil {
			t.Fatal(err)
		}
		told++
		if of.Value != nil {
			last = 2
			if !of.Value.Offered {
				t.Errorf("%+v", of.Value)
			}
			continue
		}
		if of.Step != programming || of.Share < last || of.Share > 1 {
			t.Errorf("%+v after a share of %g", of, last)
		}
		last = of.Share
	}
	if last != 2 || told < 4 {
		t.Errorf("%d lines, the last is no value: %s", told, w.Body)
	}
	var all sync.WaitGroup
	bodies := make([]string, 6)
	for i := range bodies {
		all.Go(func() {
			path := "/plans/" + f.plan.ID + "/program"
			if i%2 == 0 {
				path = "/api/plans/" + f.plan.ID + "/water"
			}
			bodies[i] = f.do("GET", path, "").Body.String()
		})
	}
	all.Wait()
	for i := 2; i < len(bodies); i++ {
		if bodies[i] == "" || bodies[i] != bodies[i-2] {
			t.Errorf("answer %d is not that before", i)
		}
	}
}
