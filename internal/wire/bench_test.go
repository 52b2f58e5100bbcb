package wire

import (
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/trench"
)

// BenchmarkWiring is the wiring of a yard of 32 valves in eight boxes along three
// thousand feet of trench in 300 pieces, with its rules.
func BenchmarkWiring(b *testing.B) {
	y := newYard()
	station := 0
	for arm := range 4 {
		place := 0
		for i := range 75 {
			place = y.dig(place, orb.Point{float64(arm%2*2-1) * float64(10*i+10), float64(arm * 20)}, trench.Lawn)
			if i == 37 || i == 74 {
				box := y.box(place, trench.JumboBox)
				for range 4 {
					station++
					y.valve(station, place, box)
				}
			}
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		Check(y.Plan, y.digs, Of(y.Plan, y.digs))
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/1e6/float64(b.N), "ms")
}
