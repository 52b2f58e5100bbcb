package arrange

import (
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// BenchmarkGround is the time to find where heads may stand: on a round lawn with a
// bed in the open, and on every planting area of a yard with all there is in one.
func BenchmarkGround(b *testing.B) {
	round := yard(map[plan.ID]plan.Area{
		"l": lawn(geom.Outline{{X: -28, Y: 0, Bulge: 1}, {X: 28, Y: 0, Bulge: 1}}, geom.Outline{{X: -6, Y: 0, Bulge: 1}, {X: 6, Y: 0, Bulge: 1}}),
	})
	for _, c := range []struct {
		name string
		p    *plan.Plan
	}{{"round", round}, {"round-without-set-backs", noSetBacks(yard(round.Areas))}, {"yard", anyYard(3)}} {
		b.Run(c.name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				s, err := newSite(c.p)
				if err != nil {
					b.Fatal(err)
				}
				for _, id := range plan.SortedIDs(c.p.Areas) {
					if c.p.Areas[id].Kind != plan.Planting {
						continue
					}
					if _, err := s.ground(id); err != nil {
						b.Fatal(err)
					}
					n++
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()*1000/float64(n), "ms/area")
		})
	}
}
