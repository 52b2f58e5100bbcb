package trench

import (
	"context"
	"fmt"
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

func TestDemoRoute(t *testing.T) {
	p := demoYard(t)
	found, err := Propose(context.Background(), p, Options{Wire: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range found.Blocked {
		t.Log(b)
	}
	o := found.Offers[0]
	t.Log(o.Says, found.Evaluations)
	t.Log(fmt.Sprintf("%+v", o.Measures))
	next, err := plan.Preview(p.Encode(), o.Patch)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range pipework.Check(next, pipework.Of(next)) {
		t.Log(f.Code, f)
	}
	again, err := Propose(context.Background(), next, Options{Wire: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a := again.Offers[0]; a.Patch != nil {
		t.Errorf("%s", a.Patch)
	}
}
