package coverage

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// shapes are the four on which layouts are measured: a rectangle, an L, a curved
// lawn with a bed cut out of it, and a narrow strip.
func shapes() map[string]*yard {
	lawn := func(corners ...float64) *yard {
		y := newYard().lip(0).area("lawn", plan.Planting, corners...)
		return y.nozzle("n", 15, 1.6, linear)
	}
	curved := lawn()
	var out, hole geom.Outline
	for k := range 120 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 120)
		phi := 2 * math.Pi * float64(k) / 120
		r := 28 + 3*math.Cos(2*phi) + 1.5*math.Sin(3*phi)
		out = append(out, geom.Vertex{X: r * cos, Y: r * sin})
		hole = append(hole, geom.Vertex{X: 6 * cos, Y: 4 * sin})
	}
	a := curved.Areas["lawn"]
	a.Outline, a.Holes = out, []geom.Outline{hole}
	curved.Areas["lawn"] = a
	return map[string]*yard{
		"rect":  lawn(0, 0, 30, 0, 30, 20, 0, 20),
		"L":     lawn(0, 0, 60, 0, 60, 20, 30, 20, 30, 45, 0, 45),
		"lawn":  curved,
		"strip": lawn(0, 0, 60, 0, 60, 7, 0, 7),
		"house": fenced(lawn(0, 0, 60, 0, 60, 20, 30, 20, 30, 45, 0, 45)),
	}
}

// fenced has a house in the corner cut out of the L, a fence along two sides and
// two trees.
func fenced(y *yard) *yard {
	y.area("house", plan.Building, 31, 21, 60, 21, 60, 45, 31, 45)
	y.Barriers["fence"] = plan.Barrier{Line: geom.Line{{X: 60, Y: -0.5}, {X: -0.5, Y: -0.5}, {X: -0.5, Y: 46}}, HeightFt: 6}
	y.Trees["elm"] = plan.Tree{X: 12, Y: 30, TrunkIn: 12}
	y.Trees["oak"] = plan.Tree{X: 40, Y: 9, TrunkIn: 18}
	return y
}

// BenchmarkTrial sets one head of several elsewhere, reads, and takes every second
// one back: what a search does.
func BenchmarkTrial(b *testing.B) {
	for _, c := range []struct {
		name  string
		cell  units.Feet
		throw float64
		heads int
	}{
		{"rect", 0.5, 12, 8}, {"L", 0.5, 15, 16}, {"L", 0.75, 15, 16}, {"lawn", 0.5, 15, 18}, {"lawn", 0.75, 15, 18}, {"strip", 0.5, 8, 12}, {"house", 0.75, 15, 16},
	} {
		b.Run(c.name+fmt.Sprintf("/cell=%g", float64(c.cell)), func(b *testing.B) {
			y := shapes()[c.name]
			tr, err := NewTrial(&y.Plan, "lawn", c.cell, units.Feet(c.throw))
			if err != nil {
				b.Fatal(err)
			}
			r := rand.New(rand.NewPCG(1, 2))
			fall := FallOf(y.Nozzles["n"], y.Bodies[""])
			next := func() Thrown {
				at := tr.Dry(r)
				sweep := 90 * float64(1+r.IntN(4))
				return Thrown{
					At: orb.Point{at[0] + 0.3*r.Float64(), at[1]}, Start: units.Degrees(15 * float64(r.IntN(24))),
					Sweep: units.Degrees(sweep), Throw: units.Feet(c.throw), Flow: units.GPM(1.6 * c.throw * c.throw * sweep / 360 / 96.25), Fall: fall,
				}
			}
			for i := range c.heads {
				tr.Set(i, next())
			}
			var moves []Thrown
			for range 256 {
				moves = append(moves, next())
			}
			b.ReportAllocs()
			k := 0
			for b.Loop() {
				tr.Set(k%c.heads, moves[k%256])
				tr.Read()
				if k++; k%2 == 0 {
					tr.Undo()
				}
			}
			b.ReportMetric(float64(tr.Cells()), "cells")
			b.ReportMetric(1e9/(float64(b.Elapsed().Nanoseconds())/float64(b.N)), "evaluations/s")
		})
	}
}

// BenchmarkTrialAstray draws a field estimate.
func BenchmarkTrialAstray(b *testing.B) {
	y := shapes()["L"]
	tr, err := NewTrial(&y.Plan, "lawn", 0.5, 15)
	if err != nil {
		b.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	fall := FallOf(y.Nozzles["n"], y.Bodies[""])
	for i := range 16 {
		tr.Set(i, Thrown{At: tr.Dry(r), Sweep: 180, Throw: 15, Flow: 1.87, Fall: fall})
	}
	for b.Loop() {
		tr.Astray(1, 20)
	}
}
