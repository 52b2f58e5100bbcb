package packs

import "testing"

// The lists of a crew of a hundred heads: trenches with the sleeve drawing, wire, cards.
func BenchmarkCrewLists(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		k, err := newBuilder(b.Context(), in, Asked{Kind: Crew})
		if err != nil {
			b.Fatal(err)
		}
		k.tell = func(string, float64) {}
		for _, make := range []func() error{k.trenchesAndSleeves, k.valvesAndWire, k.zoneCards} {
			if err := make(); err != nil {
				b.Fatal(err)
			}
		}
		if len(k.pages) < 4 {
			b.Fatal("pages are missing")
		}
	}
}
