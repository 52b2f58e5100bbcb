package web

import (
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

func TestRowB29_NumbersInTheAddressAreReadStrictly(t *testing.T) {
	f := newFixture(t)
	var list []scenario
	for _, x := range []string{"", "NaN", "Inf", "-Infinity", "0x1p4", "1_000", "1e999", "1,5", "abc", "1%00", "1;2", "%EF%BC%91"} {
		list = append(list,
			scenario{name: "rate at " + x, method: "GET", path: "/api/plans/PLAN/rate?y=1&x=" + x, status: 422, hasNot: []string{"NaN in/h"}},
			scenario{name: "import at " + x, method: "POST", path: "/api/import/geojson?lat=40&lon=" + x, header: []string{"Content-Type: application/geo+json"}, body: "{}", status: 422},
		)
	}
	for _, patch := range []string{
		`{"heads":{"h1":{"x_ft":NaN}}}`, `{"heads":{"h1":{"x_ft":Infinity}}}`, `{"heads":{"h1":{"x_ft":1e999}}}`, `{"heads":{"h1":{"x_ft":-1e999}}}`,
		`{"heads":{"h1":{"x_ft":"1"}}}`, `{"heads":{"h1":{"x_ft":1e9}}}`, `{"heads":{"h1":{"sweep_deg":-5}}}`, `{"heads":{"h1":{"throw_ft":0}}}`,
		`{"areas":{"a1":{"outline":[[0,0],[1,1]]}}}`, `{"areas":{"a1":{"outline":[[0,0],[0,0],[0,0]]}}}`, `{"areas":{"a1":{"outline":[]}}}`,
	} {
		list = append(list, scenario{name: patch, method: "PATCH", path: "/api/plans/PLAN", header: []string{patchType, `If-Match: "1"`}, body: patch, status: 422})
	}
	f.play(t, list)
}

func TestTheBoardIsAllWords(t *testing.T) {
	f := newFixture(t)
	f.play(t, []scenario{
		{name: "board", method: "GET", path: "/api/plans/PLAN/board", status: 200, has: []string{`"rev":1`, `"frame":{"x_ft":`, `"readings":{"evenness":`, `"findings":[`}, hasNot: []string{"null", "NaN"}},
		{name: "of the revision", method: "GET", path: "/api/plans/PLAN/board?rev=1", status: 200},
		{name: "of another revision", method: "GET", path: "/api/plans/PLAN/board?rev=2", status: 412, has: []string{`"rev":1`}},
		{name: "rate in the lawn", method: "GET", path: "/api/plans/PLAN/rate?x=7&y=7", status: 200, has: []string{" in/h", " % of the mean on Front lawn"}},
		{name: "rate on the walk", method: "GET", path: "/api/plans/PLAN/rate?x=17&y=7", status: 200, has: []string{" in/h on Walk"}},
		{name: "rate far away", method: "GET", path: "/api/plans/PLAN/rate?x=900&y=7", status: 200, has: []string{`"text":"`}},
		{name: "estimate", method: "GET", path: "/api/plans/PLAN/estimate", status: 200, has: []string{`"areas":[{"id":"a1","name":"Front lawn","text":"`, `"p10":"`, `"scheduling":[{"id":"a1","name":"Front lawn","windows":[{"share":"1 %","text":"`, `{"share":"10 %","text":"`}},
	})
}

// TestTheDemoReadsAsItShould looks at the words of the demo as it opens.
func TestTheDemoReadsAsItShould(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	demo := f.keep(string(doc))
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	var b Board
	if err := json.Unmarshal(f.do("GET", "/api/plans/"+demo.ID+"/board", "").Body.Bytes(), &b); err != nil {
		t.Fatal(err)
	}
	if len(b.Heads) != len(p.Heads) || len(b.Zones) != len(p.Zones) {
		t.Errorf("got %d heads and %d zones, want %d and %d", len(b.Heads), len(b.Zones), len(p.Heads), len(p.Zones))
	}
	for what, text := range map[string]string{
		"evenness": b.Readings.Evenness.Text, "driest": b.Readings.Driest.Text, "rate": b.Readings.Rate.Text, "flow": b.Readings.Flow.Text,
	} {
		if text == "" || strings.Contains(text, "–") {
			t.Errorf("%s: got %q", what, text)
		}
	}
	if b.Readings.Driest.At == nil || len(b.Gaps) == 0 || b.Readings.Evenness.Rank == good {
		t.Errorf("the dry patch does not show: %+v, %d gaps", b.Readings, len(b.Gaps))
	}
	stops := 0
	for _, finding := range b.Findings {
		if finding.Rank == plan.Stop {
			stops++
		}
	}
	if stops == 0 {
		t.Error("no finding says stop")
	}
	ranks := map[string]int{}
	for _, z := range b.Zones {
		ranks[z.MatchedRank]++
		if z.ID == "z6" && (z.Matched != "within 0 %; 4 turned down" || z.MatchedRank != good) {
			t.Errorf("zone 6, four heads turned down, reads %q, %s", z.Matched, z.MatchedRank)
		}
	}
	if ranks["stop"] != 1 || ranks[good] < 4 {
		t.Errorf("ranks of matched rates: got %v, want one stop and the others good", ranks)
	}
	t.Logf("%+v", b.Readings)
}

func TestMetricPlansReadInMetric(t *testing.T) {
	f := newFixture(t)
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, `{"show":"metric"}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatal(w.Body)
	}
	f.play(t, []scenario{
		{name: "board", method: "GET", path: "/api/plans/PLAN/board", status: 200, has: []string{" mm/h", " L/min", " m"}, hasNot: []string{" gpm", " in/h", " psi", "ft²"}},
	})
}

func TestAnEmptyPlanHasABoard(t *testing.T) {
	f := newFixture(t)
	w := f.do("POST", "/api/plans", `{"name":"New","show":"us"}`, jsonType)
	var made struct{ ID string }
	if err := json.Unmarshal(w.Body.Bytes(), &made); err != nil {
		t.Fatal(err)
	}
	f.plan.ID = made.ID
	f.play(t, []scenario{
		{name: "board", method: "GET", path: "/api/plans/PLAN/board", status: 200, has: []string{`"areas":[]`, `"zones":[]`, `"heads":{}`, `"gaps":[]`, `"off_target":[]`, `"total":[]`}, hasNot: []string{"null"}},
		{name: "page", method: "GET", path: "/plans/PLAN", status: 200},
		{name: "estimate", method: "GET", path: "/api/plans/PLAN/estimate", status: 200, has: []string{`"areas":[]`, `"scheduling":[]`}},
		{name: "rate", method: "GET", path: "/api/plans/PLAN/rate?x=0&y=0", status: 200},
		{name: "parts", method: "GET", path: "/plans/PLAN/files/parts.csv", status: 200},
		{name: "outlines without a place", method: "GET", path: "/plans/PLAN/files/outlines.geojson", status: 422, has: []string{"where on the earth"}},
	})
}

func TestIdlePlansAreClearedAway(t *testing.T) {
	d := desk{open: map[string]*opened{}}
	now := day
	for _, id := range []string{"a", "b", "c", "d", "e", "f", "g", "h"} {
		d.take(id, now)
		now = now.Add(time.Minute)
	}
	watched := d.take("a", now)
	watched.watch(&viewer{})
	for _, c := range []struct {
		after time.Duration
		take  string
		want  string
	}{
		{time.Minute, "i", "a c d e f g h i"}, // one too many: the one idle longest goes
		{6 * time.Minute, "j", "a f g h i j"}, // c, d and e were idle too long
		{time.Hour, "k", "a k"},               // a is watched
	} {
		now = now.Add(c.after)
		d.take(c.take, now)
		if got := strings.Join(sorted(d.open), " "); got != c.want {
			t.Errorf("after taking %s: got %s, want %s", c.take, got, c.want)
		}
	}
	watched.unwatch(&viewer{}, func() time.Time { return now })
}

func sorted(m map[string]*opened) []string {
	ids := make([]plan.ID, 0, len(m))
	for id := range m {
		ids = append(ids, plan.ID(id))
	}
	set := map[plan.ID]bool{}
	for _, id := range ids {
		set[id] = true
	}
	var list []string
	for _, id := range plan.SortedIDs(set) {
		list = append(list, string(id))
	}
	return list
}

// TestWaterOffItsTargetIsNamed turns a corner head all the way round, so that
// most of its water leaves the lawn.
func TestWaterOffItsTargetIsNamed(t *testing.T) {
	lot := `"lot":[[-5,-5],[40,-5],[40,30],[-5,30]]`
	round := strings.Replace(yard, `"y_ft":0,"sweep_deg":90,"zone":"z1"`, `"y_ft":0,"sweep_deg":360,"zone":"z1"`, 1)
	for _, row := range []struct {
		name, doc, want string
	}{
		{"most falls within the property line", strings.Replace(round, lot, `"lot":[[-20,-20],[40,-20],[40,30],[-20,30]]`, 1), "Ground not drawn"},
		{"most falls beyond it", round, "Off the lot"},
		{"no property line is drawn", strings.Replace(round, lot, `"lot":[]`, 1), "Past what is drawn"},
	} {
		t.Run(row.name, func(t *testing.T) {
			f := newFixture(t)
			id := f.keep(row.doc).ID
			var b Board
			if err := json.Unmarshal(f.do("GET", "/api/plans/"+id+"/board", "").Body.Bytes(), &b); err != nil {
				t.Fatal(err)
			}
			if len(b.Off) == 0 {
				t.Fatal("no water off its target")
			}
			if o := b.Off[0]; o.Name != row.want || !strings.HasPrefix(o.Text, row.want+": ") {
				t.Errorf("got %q, %q, want the name %q", o.Name, o.Text, row.want)
			}
		})
	}
}

func TestSmallSharesKeepADecimal(t *testing.T) {
	m := &maker{}
	for _, row := range []struct {
		share units.Ratio
		want  string
	}{
		{0.0005, "0.1 %"}, {0.0042, "0.4 %"}, {0.0994, "9.9 %"}, {0.0996, "10 %"}, {0.5, "50 %"},
	} {
		if got := m.smallShare(row.share); got != row.want {
			t.Errorf("%v: got %q, want %q", row.share, got, row.want)
		}
	}
}

func TestTracesOffTargetAreNotListed(t *testing.T) {
	m := &maker{p: &plan.Plan{}, d: &design.Design{}, r: &coverage.Result{OffTarget: []coverage.OffTarget{
		{Surface: coverage.Outside, GPM: 1, Share: 0.0006}, {Surface: "a1", GPM: 0.1, Share: 0.0004},
	}}}
	if got := m.offTarget(); len(got) != 1 || got[0].ID != coverage.Outside {
		t.Errorf("got %+v, want only the water outside", got)
	}
}
