package parts

import (
	"os"
	"testing"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// What a changed pipe costs before water is reckoned: reading the pipework of the
// demo, its checks, and the parts list.
func BenchmarkPipeworkChecksAndPartsOfTheDemo(b *testing.B) {
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		net := pipework.Of(p)
		pipework.Check(p, net)
		digs := trench.Of(p, net)
		Compute(p, net, digs, wire.Of(p, digs))
	}
}
