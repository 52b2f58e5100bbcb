package plan

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// sizedPlan returns a sound plan of about so many bytes: beds of a dozen corners
// with the heads that water them.
func sizedPlan(size int) *Plan {
	p := fullPlan()
	r := rand.New(rand.NewPCG(1, 2))
	p.Areas, p.Heads = map[ID]Area{}, map[ID]Head{}
	p.Nodes, p.Pipes, p.Accepted = nil, nil, nil
	for n := range size / 2000 { // what a bed with its heads comes to
		x, y := float64(n%50)*60, float64(n/50)*60
		var bed geom.Outline
		for i := range 12 {
			at := geom.Vertex{X: x + 20, Y: y + 20}
			away := 10 + 8*r.Float64()
			at.X += away * cosTwelfth[i]
			at.Y += away * cosTwelfth[(i+9)%12]
			bed = append(bed, at)
		}
		p.Areas[ID(fmt.Sprintf("a%04d", n))] = Area{Name: fmt.Sprintf("Bed %d", n), Kind: Planting, Outline: bed}
		for h := range 10 {
			p.Heads[ID(fmt.Sprintf("h%04d-%d", n, h))] = Head{
				Tag: fmt.Sprintf("%d-%d", n%12+1, h), Nozzle: "n1", Body: "o1", X: units.Feet(x + 40*r.Float64()), Y: units.Feet(y + 40*r.Float64()),
				StartDeg: units.Degrees(float64(int(3600*r.Float64())) / 10), SweepDeg: 90, Zone: "z1",
			}
		}
	}
	return p
}

// cosTwelfth are the cosines of the twelfths of a turn.
var cosTwelfth = [12]float64{1, 0.866, 0.5, 0, -0.5, -0.866, -1, -0.866, -0.5, 0, 0.5, 0.866}

func benchmarkSizes(b *testing.B, run func(b *testing.B, p *Plan, doc []byte)) {
	for _, size := range []int{200_000, 2_000_000} {
		p := sizedPlan(size)
		doc := p.Encode()
		b.Run(fmt.Sprintf("%d_kB", len(doc)/1000), func(b *testing.B) {
			b.SetBytes(int64(len(doc)))
			b.ReportAllocs()
			run(b, p, doc)
		})
	}
}

func BenchmarkDecode(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, _ *Plan, doc []byte) {
		for b.Loop() {
			if _, err := Decode(doc); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkEncode(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, p *Plan, _ []byte) {
		for b.Loop() {
			p.Encode()
		}
	})
}

var oneMove = Patch(`{"heads":{"h0001-3":{"x_ft":63.5,"y_ft":4.25}}}`)

func BenchmarkApply(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, _ *Plan, doc []byte) {
		for b.Loop() {
			if _, _, err := Apply(doc, oneMove); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkPreview(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, _ *Plan, doc []byte) {
		for b.Loop() {
			if _, err := Preview(doc, oneMove); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkDiff(b *testing.B) {
	benchmarkSizes(b, func(b *testing.B, _ *Plan, doc []byte) {
		next, _, err := Apply(doc, oneMove)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if _, err := Diff(doc, next); err != nil {
				b.Fatal(err)
			}
		}
	})
}
