package proof

import (
	"context"
	"os"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/plan"
)

func demo(t testing.TB) (*plan.Plan, *design.Design) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return p, d
}

func TestLook(t *testing.T) {
	p, d := demo(t)
	s := StartUp(p, d)
	t.Log(s.Says)
	for _, st := range s.Steps {
		t.Logf("%s | %s | %s | %s", st.ID, st.Title, st.How, st.Caution)
	}
	for _, z := range s.Zones {
		t.Logf("%+v", z)
	}
	for _, w := range Walk(p, d, nil) {
		t.Logf("%+v", w)
	}
}
