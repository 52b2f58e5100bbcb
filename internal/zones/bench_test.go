package zones

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
)

func BenchmarkPropose(b *testing.B) {
	for _, heads := range []int{60, 400, 3000} {
		p := read(b, yard(rand.New(rand.NewPCG(1, 1)), heads))
		p.Supply.DesignFlowGPM = 15
		b.Run(fmt.Sprintf("heads=%d", heads), func(b *testing.B) {
			looked := 0
			for b.Loop() {
				o := proposed(b, p, Options{Seed: 1})
				looked = o.Evaluations
			}
			b.ReportMetric(float64(looked)*float64(b.N)/b.Elapsed().Seconds(), "evaluations/s")
		})
		if heads > 400 {
			continue // the estimate is coverage's own
		}
		b.Run(fmt.Sprintf("heads=%d/with-estimate", heads), func(b *testing.B) {
			for b.Loop() {
				if _, err := Propose(context.Background(), p, Options{Seed: 1}, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
