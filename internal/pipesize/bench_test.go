package pipesize

import (
	"context"
	"math"
	"testing"

	"evenfall/internal/units"
)

// benchTree is 60 pipes: a main of 6 pieces and six zones with laterals of
// heads in a row that branch, a spread of 20 % of 30 psi in each.
func benchTree(inlet float64) *Tree {
	t := &Tree{Inlet: units.PSI(inlet)}
	add := func(up, zone int, out bool) int {
		b := Branch{Up: up, Zone: zone}
		if out {
			b.Out = &Out{Least: 30, Most: units.PSI(math.Inf(1)), Spread: true}
		}
		t.Pipes = append(t.Pipes, b)
		return len(t.Pipes) - 1
	}
	main := -1
	for z := range 6 {
		t.Zones = append(t.Zones, Spread{Most: 6})
		main = add(main, -1, false)
		feed := add(main, z, false)
		for range 2 {
			at := feed
			for range 4 {
				at = add(at, z, true)
			}
		}
	}
	zone := make([][6]float64, len(t.Pipes))
	for i := len(t.Pipes) - 1; i >= 0; i-- {
		b := &t.Pipes[i]
		if b.Out != nil {
			zone[i][b.Zone] += 1.1 + 0.3*float64(i%5)
		}
		q := 0.0
		for z, f := range zone[i] {
			q = max(q, f)
			if b.Up >= 0 {
				zone[b.Up][z] += f
			}
		}
		ft := 15 + float64(i*7%11)
		if b.Zone < 0 {
			ft = 40 + float64(i%7)
		}
		b.Sizes = sized(q, ft, 0.05*float64(i%3), 0, 7)
	}
	return t
}

func BenchmarkSizing(b *testing.B) {
	for _, c := range []struct {
		name  string
		inlet float64
	}{{"ample", 60}, {"tight", 37}, {"tightest", 34}} {
		tree := benchTree(c.inlet)
		b.Run("pipes=60/sizes=7/"+c.name, func(b *testing.B) {
			looks, labels := 0, 0.0
			for b.Loop() {
				a, ok, err := Cheapest(context.Background(), tree)
				if err != nil || !ok || a.Above > 0 {
					b.Fatal(a, ok, err)
				}
				looks, labels = a.Looks, a.Cost
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/1e3/float64(b.N), "ms")
			b.ReportMetric(float64(looks), "looks")
			b.ReportMetric(labels, "cost")
		})
	}
}
