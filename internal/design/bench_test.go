package design

import (
	"context"
	"os"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// BenchmarkDrag is one head of the demo moved, all stages and findings.
func BenchmarkDrag(b *testing.B) {
	doc, err := os.ReadFile(plans + "/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	var e Engine
	i := 0
	for b.Loop() {
		h := p.Heads["h2-8"]
		h.X += units.Feet(1 - 2*(i%2))
		i++
		p.Heads["h2-8"] = h
		if _, err := e.Run(context.Background(), p); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCheck is the findings of the demo alone.
func BenchmarkCheck(b *testing.B) {
	doc, err := os.ReadFile(plans + "/demo.json")
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		b.Fatal(err)
	}
	f := coverage.New()
	r, _, err := f.Update(context.Background(), p)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		coverage.Check(p, r, f)
	}
}
