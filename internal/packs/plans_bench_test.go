package packs

import "testing"

// The two plans of a crew of a hundred heads.
func BenchmarkPlansHundredHeads(b *testing.B) {
	in := designed(b, hundredHeads())
	for name, sheet := range map[string]func(*builder) error{"layout": (*builder).layoutPlan, "pipes": (*builder).pipePlan} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				made, err := newBuilder(b.Context(), in, Asked{Kind: Crew})
				if err != nil {
					b.Fatal(err)
				}
				made.tell = func(string, float64) {}
				if err := sheet(made); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkChartOf(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		chartOf(in)
	}
}
