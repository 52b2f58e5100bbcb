package web

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
)

// bedEnd is a fixture with the yard of a bed at the end of a lawn's arcs.
func bedEnd(t *testing.T) *fixture {
	t.Helper()
	doc, err := os.ReadFile("../testdata/plans/bed-end.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	f.plan = f.keep(string(doc))
	return f
}

// Asked for real, heads kept off a bed are one step that the plan takes; then there is
// nothing more to turn off.
func TestE22_HeadsKeptOffABedAreAStepOfThePlan(t *testing.T) {
	f := bedEnd(t)
	var v TurnOffView
	if code := f.asks("/turnoff?rev=1&area=bed", &v); code != http.StatusOK || !v.Offered || v.Rev != 1 || v.Area != "bed" || v.AreaName != "Flower bed" || v.Caution == "" {
		t.Fatalf("%d %+v", code, v)
	}
	if len(v.Changes) != 3 || len(v.Rows) != 2 || len(v.Notes) != 1 || v.Label != "Keep heads 1-12, 1-4 and 1-8 off Flower bed" || !strings.HasSuffix(v.Evaluations, "changes weighed") {
		t.Errorf("%+v", v)
	}
	for _, c := range v.Changes {
		if c.Head == "" || c.Head != c.From.ID || c.From.Sweep <= c.To.Sweep || c.Says == "" || c.From.X != c.To.X {
			t.Errorf("%+v", c)
		}
	}
	if r := v.Rows[0]; r.Area != "bed" || r.Name != "Flower bed" || r.Readings[0] != (BeforeAfter{"others", "Water from other zones, a mean", "0.26 in/h", "none", "better"}) {
		t.Errorf("%+v", r)
	}
	if ids := readingIDs(v.Rows[1]); v.Rows[1].Name != "Lawn" || !slices.Equal(ids, []string{"evenness", "field_low", "dry", "hard", "rate"}) {
		t.Errorf("%+v", v.Rows[1])
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(v.Patch), patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if code := f.asks("/turnoff?rev=1&area=bed", &v); code != http.StatusPreconditionFailed {
		t.Errorf("for the revision before: %d", code)
	}
	var again TurnOffView
	if code := f.asks("/turnoff?rev=2&area=bed", &again); code != http.StatusOK || again.Offered || again.Patch != nil || again.Label != "" || !strings.Contains(again.Says, "nothing to turn off") {
		t.Errorf("%d %+v", code, again)
	}
	for _, q := range []string{"", "area=", "area=nowhere", "area=bed,lawn", "area=bed&angle=x"} {
		if code := f.asks("/turnoff?"+q, &v); code != http.StatusBadRequest && code != http.StatusUnprocessableEntity {
			t.Errorf("%q: %d", q, code)
		}
	}
}

func readingIDs(r TurnRow) (ids []string) {
	for _, b := range r.Readings {
		ids = append(ids, b.ID)
	}
	return ids
}

// What is not worth it is told with what it would do, and without a step; a refusal is a
// sentence with what it is about. Nothing on the wire is null.
func TestWhatIsNotTurnedOffIsSaid(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.turnOff = func(_ context.Context, p *plan.Plan, area plan.ID, o arrange.Options, tell func(done, total int)) (*arrange.TurnOff, error) {
			tell(1, 2)
			if o.AngleStep == 5 {
				return nil, &arrange.Refusal{At: plan.RefTo("areas", area), Sentence: "front lawn is too odd"}
			}
			return &arrange.TurnOff{
				Area: area, Says: "Not worth it: it lies amid the throw.", Evaluations: 1,
				Before: arrange.BedWater{Others: 0.3}, After: arrange.BedWater{Others: 0.4},
			}, nil
		}
	})
	var v TurnOffView
	if code := f.asks("/turnoff?area=a1", &v); code != http.StatusOK || v.Offered || v.Patch != nil || v.Says != "Not worth it: it lies amid the throw." || v.Evaluations != "1 change weighed" || v.Rows[0].Readings[0].Change != "worse" {
		t.Errorf("%d %+v", code, v)
	}
	if b, err := json.Marshal(v); err != nil || strings.Contains(string(b), "null") {
		t.Errorf("%s %v", b, err)
	}
	var no TurnOffView
	if code := f.asks("/turnoff?area=a1&angle=5", &no); code != http.StatusOK || no.Offered || no.At != "areas/a1" || no.Says != "Front lawn is too odd." || no.AreaName != "Front lawn" {
		t.Errorf("%d %+v", code, no)
	}
	if b, err := json.Marshal(no); err != nil || strings.Contains(string(b), "null") {
		t.Errorf("%s %v", b, err)
	}
}
