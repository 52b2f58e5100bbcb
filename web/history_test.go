package web

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// step makes one step of the yard.
func (f *fixture) step(patch, label string) {
	f.t.Helper()
	w := f.do("PATCH", "/api/plans/"+f.plan.ID, patch, patchType, "If-Match: "+tag(f.now().Rev), "Evenfall-Label: "+pathEscape(label))
	if w.Code != 200 {
		f.t.Fatalf("step %s: got %d %s", label, w.Code, w.Body)
	}
}

func TestRowA31_TheHistoryIsListedLookedAtAndGoneBackTo(t *testing.T) {
	f := newFixture(t)
	f.step(`{"heads":{"h1":{"x_ft":1},"h2":{"x_ft":14},"h3":null},"areas":{"a2":{"name":"Path"}}}`, "Tidy up")
	f.step(`{"name":"Back yard"}`, "Rename")
	var point string
	f.play(t, []scenario{
		{name: "the list", method: "GET", path: "/api/plans/PLAN/history", status: 200,
			has: []string{`"rev":1,"label":"Plan made"`, `"number":1,"what":"3 heads, 1 area"`, `"number":2,"what":"settings"`, `"older":false`, `"points":[]`}},
		{name: "before a step", method: "GET", path: "/api/plans/PLAN/history?before=2", status: 200,
			has: []string{`"number":0`, `"number":1`}, hasNot: []string{`"number":2`}},
		{name: "before nonsense", method: "GET", path: "/api/plans/PLAN/history?before=soon", status: 400, has: []string{"number of a step"}},
		{name: "before the first", method: "GET", path: "/api/plans/PLAN/history?before=0", status: 400},
		{name: "look at the making", method: "GET", path: "/api/plans/PLAN/steps/0", status: 200,
			has: []string{`"label":"Plan made"`, `"at":"`, `"name":"Walk"`, `"h3":{`}},
		{name: "look at a step", method: "GET", path: "/api/plans/PLAN/steps/1", status: 200, has: []string{`"name":"Path"`, `"name":"Yard"`}, hasNot: []string{`"h3":{`}},
		{name: "no such step", method: "GET", path: "/api/plans/PLAN/steps/9", status: 404, has: []string{"no such earlier state"}},
		{name: "no number", method: "GET", path: "/api/plans/PLAN/steps/last", status: 404},
		{name: "looking changed nothing", method: "GET", path: "/api/plans/PLAN", status: 200, has: []string{`"rev":3`}},
		{name: "keep a point", method: "POST", path: "/api/plans/PLAN/points", status: 201, header: []string{jsonType, `If-Match: "3"`},
			body: `{"step":1,"name":"As agreed"}`, has: []string{`"name":"As agreed"`, `"kind":"named"`, `"number":1`}},
		{name: "without a name", method: "POST", path: "/api/plans/PLAN/points", status: 422, header: []string{jsonType, `If-Match: "3"`}, body: `{"step":1,"name":" "}`, has: []string{"has no name"}},
		{name: "without a revision", method: "POST", path: "/api/plans/PLAN/points", status: 428, header: []string{jsonType}, body: `{"step":1,"name":"x"}`},
		{name: "the list with the point", method: "GET", path: "/api/plans/PLAN/history", status: 200, has: []string{`"points":[{"id":`, `"As agreed"`}},
		{name: "go back without a revision", method: "POST", path: "/api/plans/PLAN/back", status: 428, header: []string{jsonType}, body: `{"step":0}`},
		{name: "on an old one", method: "POST", path: "/api/plans/PLAN/back", status: 412, header: []string{jsonType, `If-Match: "2"`}, body: `{"step":0}`, has: []string{`"rev":3`}},
		{name: "to nothing", method: "POST", path: "/api/plans/PLAN/back", status: 422, header: []string{jsonType, `If-Match: "3"`}, body: `{}`, has: []string{"which step"}},
		{name: "to both", method: "POST", path: "/api/plans/PLAN/back", status: 422, header: []string{jsonType, `If-Match: "3"`}, body: `{"step":0,"point":1}`},
		{name: "with what is not asked for", method: "POST", path: "/api/plans/PLAN/back", status: 400, header: []string{jsonType, `If-Match: "3"`}, body: `{"step":0,"now":true}`},
		{name: "to the making", method: "POST", path: "/api/plans/PLAN/back", status: 200, header: []string{jsonType, `If-Match: "3"`}, body: `{"step":0}`,
			has: []string{`"rev":4`, `"undo":"Go back to “Plan made”"`, `"name":"Walk"`}, hasHeader: []string{`ETag: "4"`}},
		{name: "the answer lost and sent again", method: "POST", path: "/api/plans/PLAN/back", status: 200, header: []string{jsonType, `If-Match: "3"`}, body: `{"step":0}`, has: []string{`"rev":4`}},
		{name: "the old steps are still there", method: "GET", path: "/api/plans/PLAN/history", status: 200, has: []string{"Tidy up", "Rename", "Go back to", `"kind":"before"`}},
	})
	var said struct {
		Points []historyPoint `json:"points"`
	}
	if err := json.Unmarshal(f.do("GET", "/api/plans/"+f.plan.ID+"/history", "").Body.Bytes(), &said); err != nil || len(said.Points) != 2 {
		t.Fatalf("points: got %+v, %v; want the named one and that before going back", said.Points, err)
	}
	for _, p := range said.Points {
		if p.Kind == "named" {
			point = fmt.Sprint(p.ID)
		}
	}
	f.play(t, []scenario{
		{name: "look at the point", method: "GET", path: "/api/plans/PLAN/points/" + point, status: 200, has: []string{`"label":"As agreed"`, `"name":"Path"`}},
		{name: "go back to it", method: "POST", path: "/api/plans/PLAN/back", status: 200, header: []string{jsonType, `If-Match: "4"`}, body: `{"point":` + point + `}`,
			has: []string{`"rev":5`, `Go back to “As agreed”`}},
		{name: "remove it without a revision", method: "DELETE", path: "/api/plans/PLAN/points/" + point, status: 428},
		{name: "remove it", method: "DELETE", path: "/api/plans/PLAN/points/" + point, status: 204, header: []string{`If-Match: "5"`}},
		{name: "it is gone", method: "GET", path: "/api/plans/PLAN/points/" + point, status: 404},
		{name: "going back is taken back like any step", method: "POST", path: "/api/plans/PLAN/undo", status: 200, header: []string{`If-Match: "5"`}, has: []string{`"rev":6`, `"name":"Walk"`}},
	})
}

func TestRowB27_TimesAreSentInUTC(t *testing.T) {
	f := newFixture(t)
	f.step(`{"name":"Back yard"}`, "Rename")
	var said struct {
		Steps []historyStep `json:"steps"`
	}
	if err := json.Unmarshal(f.do("GET", "/api/plans/"+f.plan.ID+"/history", "").Body.Bytes(), &said); err != nil || len(said.Steps) != 2 {
		t.Fatal(said, err)
	}
	for _, st := range said.Steps {
		if !strings.HasSuffix(st.At, "Z") {
			t.Errorf("%s: got %q, want it in UTC", st.Label, st.At)
		}
	}
	if page := f.do("GET", "/", "").Body.String(); !strings.Contains(page, "UTC</time>") || !strings.Contains(page, `datetime="2`) {
		t.Errorf("the list says no zone: %.300s", page)
	}
}
