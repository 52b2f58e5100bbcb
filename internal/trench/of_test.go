package trench

import (
	"os"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

func demo(t testing.TB) *plan.Plan {
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

func BenchmarkOfDemo(b *testing.B) {
	p := demo(b)
	net := pipework.Of(p)
	for b.Loop() {
		Of(p, net)
	}
}
