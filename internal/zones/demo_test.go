package zones

import (
	"context"
	"os"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

func load(t testing.TB, name string) *plan.Plan {
	t.Helper()
	b, err := os.ReadFile("../../testdata/plans/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// unestimated stands in for the field estimate, which takes longest.
func unestimated(coverage.Progress) ([]coverage.Estimate, error) { return nil, nil }

func proposed(t testing.TB, p *plan.Plan, o Options) *Offer {
	t.Helper()
	of, err := propose(context.Background(), p, o, nil, unestimated)
	if err != nil {
		t.Fatal(err)
	}
	return of
}

func apply(t testing.TB, p *plan.Plan, o *Offer) *plan.Plan {
	t.Helper()
	next, err := plan.Preview(p.Encode(), o.Patch)
	if err != nil {
		t.Fatalf("the patch is not accepted: %v\n%s", err, o.Patch)
	}
	return next
}

// bare is a plan without zones and without pipes.
func bare(p *plan.Plan) *plan.Plan {
	for id, h := range p.Heads {
		h.Zone, h.Tag = "", ""
		p.Heads[id] = h
	}
	p.Zones, p.Nodes, p.Pipes = nil, nil, nil
	return p
}

func TestTheDemo(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"demo-mended.json", "demo.json"} {
		p := load(t, name)
		o := proposed(t, p, Options{})
		t.Log(name, o.Says, o.Notes)
		t.Log(string(o.Patch))
	}
	p := bare(load(t, "demo-mended.json"))
	o := proposed(t, p, Options{})
	t.Log(o.Says)
	t.Log(o.Evaluations)
}
