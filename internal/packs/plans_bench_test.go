package packs

import (
	"context"
	"testing"
)

func BenchmarkLayoutPlanHundredHeads(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		made, err := newBuilder(context.Background(), in, Asked{Kind: Crew})
		if err != nil {
			b.Fatal(err)
		}
		made.tell = func(string, float64) {}
		if err := made.layoutPlan(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPipePlanHundredHeads(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		made, err := newBuilder(context.Background(), in, Asked{Kind: Crew})
		if err != nil {
			b.Fatal(err)
		}
		made.tell = func(string, float64) {}
		if err := made.pipePlan(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChartOf(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		ChartOf(in)
	}
}
