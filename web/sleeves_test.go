package web

import (
	"net/http"
	"os"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// The page of the sleeves has the drawing, a row for each sleeve and what care it
// takes; without a sleeve it says so, and its files are handed out.
func TestTheSleevePageHasDrawingAndList(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	f.plan = f.keep(string(doc))
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	w := f.do("GET", "/plans/"+f.plan.ID+"/sleeves", "")
	body := w.Body.String()
	if w.Code != http.StatusOK || !strings.Contains(body, `src="/plans/`+f.plan.ID+`/files/sleeves.svg"`) {
		t.Fatalf("%d %s", w.Code, body)
	}
	if n := strings.Count(body, `<th scope="row">`); n < len(p.Sleeves) || n == 0 {
		t.Errorf("%d rows for %d sleeves", n, len(p.Sleeves))
	}
	for _, words := range []string{"Drive", "Have buried lines located", "Tape both ends shut"} {
		if !strings.Contains(body, words) {
			t.Errorf("the page does not say %q", words)
		}
	}
	kinds := map[string]string{
		"sleeves.svg": "image/svg+xml", "sleeves.csv": "text/csv; charset=utf-8", "trenches.csv": "text/csv; charset=utf-8",
		"wires.csv": "text/csv; charset=utf-8", "wires.txt": "text/plain; charset=utf-8",
	}
	for name, kind := range kinds {
		got := f.do("GET", "/plans/"+f.plan.ID+"/files/"+name, "")
		if got.Code != http.StatusOK || got.Header().Get("Content-Type") != kind || got.Body.Len() < 100 || !strings.Contains(body, "/files/"+name) {
			t.Errorf("%s: %d %q", name, got.Code, got.Header().Get("Content-Type"))
		}
	}
	f.plan = f.keep(`{"format":"evenfall-plan/1","name":"Bare","show":"us"}`)
	if w := f.do("GET", "/plans/"+f.plan.ID+"/sleeves", ""); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "no sleeve is drawn") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if w := f.do("GET", "/plans/nowhere/sleeves", ""); w.Code != http.StatusNotFound {
		t.Errorf("%d", w.Code)
	}
}
