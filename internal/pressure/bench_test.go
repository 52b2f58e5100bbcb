package pressure

import (
	"os"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// BenchmarkDemo is supply, all zones, budgets and findings of the demo, its pipes
// read anew.
func BenchmarkDemo(b *testing.B) {
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if r, _ := Compute(p, pipework.Of(p)); !r.Zones[0].Solved {
			b.Fatal(r.Zones[0].Says)
		}
	}
}
