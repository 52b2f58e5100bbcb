package trench

import (
	"math"
	"os"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

func demoYard(t testing.TB) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The demo is routed whole: every head, wire and sleeves, with nothing found fault
// with, and what is dug comes to what was told.
func TestDemoIsRouted(t *testing.T) {
	t.Parallel()
	p := demoYard(t)
	found := propose(t, p, Options{Wire: true, Effort: 6000})
	if len(found.Blocked) > 0 || len(found.Offers) != 1 {
		t.Fatalf("%+v", found)
	}
	o := found.Offers[0]
	next := routedWell(t, p, found, o)
	net := pipework.Of(next)
	digs := Of(next, net)
	for _, f := range Check(next, net, digs) {
		t.Errorf("%s: %s", f.Code, f.Title)
		t.Logf("%+v", f)
	}
	for _, w := range digs.Ways {
		if c, _ := w.To.Split(); w.Missing != "" && c == "zones" {
			t.Errorf("%s: %s", w.To, w.Missing)
		}
	}
	if told, dug := float64(o.Measures.Trench), float64(digs.Totals.Trench); math.Abs(told-dug) > 0.03*told {
		t.Errorf("told %.1f ft of trench, dug are %.1f ft", told, dug)
	}
	if m := o.Measures; m.Cost > 1.25*m.Bound || m.Boxes != 3 || m.Crossings > 4 {
		t.Errorf("%+v", m)
	}
}
