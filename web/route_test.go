package web

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// Asked for real, routes for the demo are one step that the plan takes.
func TestRoutesTakenAreAStepOfThePlan(t *testing.T) {
	doc, err := os.ReadFile("../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	f := newFixture(t)
	f.plan = f.keep(string(doc))
	var o RouteOptions
	if code := f.asks("/route/options", &o); code != http.StatusOK || len(o.Zones) < 3 || len(o.Figures) == 0 || o.Wire != "" || o.Caution == "" {
		t.Fatalf("%d %+v", code, o)
	}
	var v RouteView
	if code := f.asks("/route?rev=1&wire=yes", &v); code != http.StatusOK || !v.Offered || v.Rev != 1 || len(v.Blocked) > 0 {
		t.Fatalf("%d %+v", code, v)
	}
	for _, offer := range v.Offers {
		if offer.Name == "" || offer.Says == "" || offer.Label == "" || len(offer.Figures) != len(v.Rows) || len(offer.Least) != len(v.Rows) {
			t.Errorf("%+v", offer)
		}
	}
	first := v.Offers[0]
	if len(first.Patch) == 0 {
		t.Fatal("the drawn routes of the demo are offered again")
	}
	if w := f.do("PATCH", "/api/plans/"+f.plan.ID, string(first.Patch), patchType, `If-Match: "1"`); w.Code != http.StatusOK {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if code := f.asks("/route?rev=1", &v); code != http.StatusPreconditionFailed {
		t.Errorf("for the revision before: %d", code)
	}
	for _, q := range []string{"zones=nowhere", "wire=maybe", "valves=there", "seed=x"} {
		if code := f.asks("/route?"+q, &v); code != http.StatusBadRequest && code != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", q, code)
		}
	}
}

func TestRoutesInWords(t *testing.T) {
	t.Parallel()
	p := readPlan(t, "../testdata/plans/demo.json")
	v := routeWords(p, 7, &trench.Proposal{
		Offers: []trench.Offer{
			{Name: "Grouped", Says: "Short.", Label: "Route", Patch: plan.Patch(`{"name":"x"}`), Measures: trench.Measures{
				Cost: 812.4, Bound: 800, Trench: 300, By: map[trench.Ground]units.Feet{trench.Lawn: 280, trench.Roots: 20, trench.Bed: 0.2}, Crossings: 2, Longest: 18.4, Boxes: 1,
			}},
			{Name: "Spread", Says: "Long.", Label: "Route", Measures: trench.Measures{Cost: 900, Bound: 900, Trench: 290, Crossings: 2, Boxes: 3}},
		},
		Blocked:     []trench.Blocked{{What: "heads/h1", At: orb.Point{3, 4}, Why: "the house is in the way"}},
		Evaluations: 1234,
	})
	row := func(title string) int {
		for i, r := range v.Rows {
			if r == title {
				return i
			}
		}
		t.Fatalf("no row %q", title)
		return -1
	}
	for _, c := range []struct {
		title, first, second  string
		leastFirst, leastNext bool
	}{
		{"Cost by your figures", "812", "900", true, false},
		{"Trench", "300 ft", "290 ft", false, true},
		{"Of it", "lawn 280 ft, among roots 20 ft", "none", false, false},
		{"Longest bore", "18' 5\"", "none", false, true},
		{"Crossings of paving", "2", "2", true, true},
		{"Against the least there can be", "at most 1.6 % more", "proved least", false, false},
	} {
		i := row(c.title)
		a, b := v.Offers[0], v.Offers[1]
		if a.Figures[i] != c.first || b.Figures[i] != c.second || a.Least[i] != c.leastFirst || b.Least[i] != c.leastNext {
			t.Errorf("%s: %q %v, %q %v", c.title, a.Figures[i], a.Least[i], b.Figures[i], b.Least[i])
		}
	}
	if !strings.Contains(v.Says, "2 ways") || !strings.Contains(v.Says, "No way leads to 1 place.") || v.Offers[1].Patch != nil {
		t.Errorf("%+v", v)
	}
	if b := v.Blocked[0]; b.Name == "" || b.Why != "The house is in the way." || b.At != (orb.Point{3, 4}) {
		t.Errorf("%+v", b)
	}
	if b, err := json.Marshal(v); err != nil || strings.Contains(string(b), "null") {
		t.Errorf("%s %v", b, err)
	}
}

// A plan that cannot be routed gets the sentence, and what it is about.
func TestNoRoutesAreSaid(t *testing.T) {
	f := newFixture(t)
	site, _ := f.site, f.plan
	site.search.route = func(context.Context, *plan.Plan, trench.Options, func(done, total int)) (*trench.Proposal, error) {
		return nil, &trench.Refusal{At: "supply", Sentence: "the point of connection is not placed"}
	}
	var v RouteView
	if code := f.asks("/route", &v); code != http.StatusOK || v.Offered || v.At != "supply" || v.Says != "The point of connection is not placed." {
		t.Errorf("%d %+v", code, v)
	}
}
