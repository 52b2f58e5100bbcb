package web

import (
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// pipedYard is a plan with pipes, one of which grows downstream.
func pipedYard(t *testing.T) string {
	t.Helper()
	doc, err := os.ReadFile("../testdata/plans/mistakes/33-size-grows.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(doc)
}

func (f *fixture) sizes(id, query string) (SizesView, int) {
	f.t.Helper()
	w := f.do("GET", "/api/plans/"+id+"/sizes"+query, "")
	var v SizesView
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		f.t.Fatal(err)
	}
	return v, w.Code
}

func TestRowA25_SizesAreOfferedWholeAndChangeNothingByThemselves(t *testing.T) {
	f := newFixture(t)
	kept := f.keep(pipedYard(t))
	v, code := f.sizes(kept.ID, "?rev=1")
	if code != http.StatusOK || !v.Offered || !v.Holds || v.Rev != 1 || len(v.Patch) == 0 || len(v.Checks) == 0 || v.Caution == "" {
		t.Fatalf("%d %+v", code, v)
	}
	pipes := 0
	for _, g := range v.Groups {
		pipes += g.Pipes
		if g.Where == "" || g.To == "" || g.Length == "" || !strings.HasSuffix(g.Speed, " ft/s") {
			t.Errorf("%+v", g)
		}
	}
	if pipes != len(v.Changes) || pipes == 0 {
		t.Errorf("%d pipes in rows, %d changes", pipes, len(v.Changes))
	}
	if now, err := f.store.Load(t.Context(), kept.ID); err != nil || now.Rev != 1 {
		t.Errorf("revision %d, %v", now.Rev, err)
	}
	// Taken, it is one step, and asked again it has nothing to change.
	w := f.do("PATCH", "/api/plans/"+kept.ID, string(v.Patch), patchType, `If-Match: "1"`)
	if w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	again, _ := f.sizes(kept.ID, "?rev=2")
	if !again.Offered || again.Patch != nil || len(again.Groups) != 0 || !again.Holds {
		t.Errorf("%+v", again)
	}
	if _, code := f.sizes(kept.ID, "?rev=1"); code != http.StatusPreconditionFailed {
		t.Errorf("for the revision before: %d", code)
	}
}

func TestRowA25_SeekingSizesTellsHowFarItIs(t *testing.T) {
	f := newFixture(t)
	kept := f.keep(pipedYard(t))
	w := f.do("GET", "/api/plans/"+kept.ID+"/sizes", "", asLines)
	list := linesOf(t, w.Body.String())
	share := -1.0
	for _, l := range list[:len(list)-1] {
		if l.Step != weighing || !(l.Share > share && l.Share <= 1) {
			t.Errorf("after a share of %g comes %+v", share, l)
		}
		share = l.Share
	}
	if last := list[len(list)-1]; last.Value == nil || len(list) < 4 || f.site.Jobs() != 0 {
		t.Errorf("%d lines, the last %+v", len(list), last)
	}
}

func TestRowA28_NoSizesIsAnAnswerWithItsReason(t *testing.T) {
	f := newFixture(t)
	v, code := f.sizes(f.plan.ID, "")
	if code != http.StatusOK || v.Offered || v.Patch != nil || !strings.Contains(v.Says, "No pipe is drawn yet") {
		t.Errorf("%d %+v", code, v)
	}
	p, err := plan.Decode([]byte(pipedYard(t)))
	if err != nil {
		t.Fatal(err)
	}
	p.Supply.StaticPSI, p.Supply.ResidualPSI = 20, 14
	weak := f.keep(string(p.Encode()))
	if v, _ := f.sizes(weak.ID, ""); v.Offered || !strings.Contains(v.Says, "What binds is the pressure of the supply") || v.Groups == nil {
		t.Errorf("%+v", v)
	}
}

// Sizes for a supply that nobody measured say so where they are offered.
func TestSizesSayThatTheSupplyIsAssumed(t *testing.T) {
	f := newFixture(t)
	kept := f.keep(pipedYard(t))
	said := func(rev string) bool {
		v, _ := f.sizes(kept.ID, "?rev="+rev)
		return v.Offered && strings.Contains(strings.Join(v.Notes, " "), "ASSUMED")
	}
	if said("1") {
		t.Error("a measured supply is called assumed")
	}
	if w := f.do("PATCH", "/api/plans/"+kept.ID, `{"supply":{"measured":false}}`, patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if !said("2") {
		t.Error("an assumed supply is not called so")
	}
}
