package arrange

import (
	"context"
	"testing"

	"evenfall/internal/catalog"
)

// BenchmarkToTheTable searches the published shapes with sprays until a layout of no
// more heads than were published reaches a DU of 0.90 within 5 % past the edge, read
// again on cells that no head lines up with; heads/published is of that layout, 2
// where there is none.
func BenchmarkToTheTable(b *testing.B) {
	for _, ref := range references {
		if ref.family != catalog.Spray || ref.past < 0.05 {
			continue
		}
		sh := referenceShapes[ref.shape]
		b.Run(sh.name, func(b *testing.B) {
			p := referencePlan(sh.outline, sh.holes)
			heads := 0
			for b.Loop() {
				heads = 2 * ref.heads
				s := searchOn(b, p, referenceOptions(ref.family, ref.past))
				ctx, cancel := context.WithCancel(context.Background())
				s.anneal(ctx, s.constructive(ctx), func(c candidate) {
					if len(c.heads) > ref.heads || c.h2h < 1 {
						return
					}
					if r := reread(b, s, c, readingCell); r.DU >= 0.90 && past(r) <= float64(ref.past) {
						heads = min(heads, len(c.heads))
						cancel()
					}
				})
				cancel()
			}
			b.ReportMetric(float64(heads)/float64(ref.heads), "heads/published")
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s")
		})
	}
}
