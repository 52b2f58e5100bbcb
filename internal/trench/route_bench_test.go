package trench

import (
	"context"
	"testing"
)

func BenchmarkProposeDemo(b *testing.B) {
	p := demoYard(b)
	for b.Loop() {
		if _, err := Propose(context.Background(), p, Options{Wire: true}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
