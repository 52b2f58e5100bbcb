package web

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/catalog"
)

// Catches come in by a file: the answer is the step that writes them, the plan stays as it
// is until it is taken, and mistakes are told line by line.
func TestCatchesOfAFile(t *testing.T) {
	f := demoFixture(t)
	at := "/api/plans/" + f.plan.ID + "/catches?audit=a1"
	cans := f.do("GET", "/api/plans/"+f.plan.ID+"/cans?area=side-lawn&by=grid&count=24", "")
	var offer CansView
	if err := json.Unmarshal(cans.Body.Bytes(), &offer); err != nil || cans.Code != http.StatusOK {
		t.Fatalf("%d %v", cans.Code, err)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(offer.Patch), patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	read := func(file string) (v CatchesRead) {
		t.Helper()
		w := f.do("POST", at, file, csvHeader)
		if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil || w.Code != http.StatusOK || strings.Contains(w.Body.String(), "null") {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
		return v
	}
	v := read("can,catch_ml\n1,20\n2,31\n")
	if len(v.Errors) > 0 || v.Rev != 2 || f.now().Rev != 2 || v.Says != "2 catches read for 24 cans." {
		t.Fatalf("%+v at revision %d", v, f.now().Rev)
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(v.Patch), patchType, `If-Match: "2"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if a := f.demoPlan().Proof.Audits["a1"]; a.Cans["c2"].ML == nil || *a.Cans["c2"].ML != 31 {
		t.Errorf("the second can is %+v", a.Cans["c2"])
	}
	if v := read("can,catch_ml\n1,wet\n"); v.Patch != nil || len(v.Errors) != 1 || v.Errors[0].Line != 2 || !strings.Contains(v.Errors[0].Sentence, "catch_ml") {
		t.Errorf("%+v", v)
	}
	if v := read("can,catch_ml,who\n1,22,me\n"); len(v.Errors) > 0 || len(v.Notes) != 1 || !strings.Contains(v.Notes[0], "“who” is passed over") {
		t.Errorf("of a column that says nothing: %+v", v)
	}
	for path, want := range map[string]int{
		strings.Replace(at, "a1", "gone", 1):      http.StatusUnprocessableEntity,
		strings.Replace(at, f.plan.ID, "none", 1): http.StatusNotFound,
	} {
		if w := f.do("POST", path, "1\n", csvHeader); w.Code != want {
			t.Errorf("%s: %d %s", path, w.Code, w.Body)
		}
	}
	if w := f.do("POST", at, strings.Repeat("x", catalog.MaxTableBytes+1), csvHeader); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a file too large: %d", w.Code)
	}
}
