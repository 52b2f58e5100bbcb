package web

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// Asked for real, an offer of layouts is one step that the plan takes, then a
// grouping of its heads is another, and undone both are gone. Each answer names the
// revision it was made from.
func TestOffersTakenAreStepsOfThePlan(t *testing.T) {
	f := newFixture(t)
	bare := strings.Replace(yard, `"heads":{`, `"heads":{},"unused":{`, 1)
	start, end := strings.Index(bare, `,"unused":{`), strings.Index(bare, `"zones":`)
	f.plan = f.keep(bare[:start] + "," + bare[end:])
	take := func(patch json.RawMessage, rev string) {
		t.Helper()
		if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(patch), patchType, `If-Match: "`+rev+`"`); w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	stored := func() *plan.Plan {
		t.Helper()
		saved, err := f.store.Load(t.Context(), f.plan.ID)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Decode(saved.Doc)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	var v ArrangeView
	if code := f.asks("/arrange?rev=1&areas=a1&effort=200", &v); code != http.StatusOK || !v.Offered || v.Rev != 1 || !v.Whole {
		t.Fatalf("%d %+v", code, v)
	}
	pick := v.Offers[0].Picks[0]
	heads := v.Answers[0].Layouts[pick.Layout].Heads
	if y := v.Answers[0].Layouts[pick.Layout]; y.Map == nil || y.Says == "" || len(y.Figures) != len(v.Columns) {
		t.Errorf("%+v", y)
	}
	take(v.Offers[0].Patch, "1")
	p := stored()
	if len(p.Heads) != len(heads) || len(heads) == 0 {
		t.Fatalf("%d heads are stored, %d were offered", len(p.Heads), len(heads))
	}
	for _, h := range heads {
		if got, ok := p.Heads[h.ID]; !ok || float64(got.X) != h.X || float64(got.Y) != h.Y || got.Nozzle != h.Nozzle {
			t.Errorf("offered %+v, stored %+v", h, got)
		}
	}
	if code := f.asks("/arrange?rev=1&areas=a1", &v); code != http.StatusPreconditionFailed {
		t.Errorf("for the revision before: %d", code)
	}
	var g GroupView
	if code := f.asks("/group?rev=2", &g); code != http.StatusOK || !g.Offered || g.Rev != 2 || len(g.Patch) == 0 || g.Bound == "" {
		t.Fatalf("%d %+v", code, g)
	}
	take(g.Patch, "2")
	p = stored()
	for id, h := range p.Heads {
		if h.Zone == "" {
			t.Errorf("head %s is in no zone", id)
		}
	}
	var again GroupView
	if code := f.asks("/group?rev=3", &again); code != http.StatusOK || !again.Offered || len(again.Zones) != len(g.Zones) {
		t.Errorf("%d: grouped again %d zones after %d", code, len(again.Zones), len(g.Zones))
	}
	for _, rev := range []string{"3", "4"} {
		if w := f.do("POST", "/api/plans/"+f.plan.ID+"/undo", "", `If-Match: "`+rev+`"`); w.Code != http.StatusOK {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	if p := stored(); len(p.Heads) != 0 {
		t.Errorf("undone, %d heads are left", len(p.Heads))
	}
}
