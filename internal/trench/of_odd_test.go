package trench

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What is drawn oddly is read without trouble: pipe of no length, two in one place,
// bent back on itself, round a bend, at the far ends of what a plan may hold.
func TestOddDrawingsAreRead(t *testing.T) {
	t.Parallel()
	for seed := range uint64(120) {
		rng := rand.New(rand.NewPCG(seed, 9))
		d := yardAtRandom(rng, 1+rng.IntN(12))
		far := []float64{1, 1, 1e-3, 32000 / 60}[rng.IntN(4)]
		for _, id := range plan.SortedIDs(d.Nodes) {
			n := d.Nodes[id]
			switch rng.IntN(4) {
			case 0: // all in one place
				n.X, n.Y = 10, 10
			case 1:
				n.X, n.Y = n.X*units.Feet(far), n.Y*units.Feet(far)
			}
			d.Nodes[id] = n
		}
		for _, id := range plan.SortedIDs(d.Pipes) {
			v := d.Pipes[id]
			switch rng.IntN(5) {
			case 0:
				n := d.Nodes[v.From]
				v.Via = vertices(float64(n.X)+3, float64(n.Y), float64(n.X), float64(n.Y), float64(n.X)+3, float64(n.Y))
			case 1:
				v.Via = []geom.Vertex{{X: 4, Y: 4, Bulge: 0.8}, {X: 9, Y: 5, Bulge: -0.5}}
			case 2:
				v.Status = []plan.Status{plan.Existing, plan.Remove}[rng.IntN(2)]
			}
			d.Pipes[id] = v
		}
		d.sleeve("s", "", 2, 10, 10, 10, 10)
		d.sleeve("r", "wire", 0, 0, 0, 30, 30)
		net := pipework.Of(d.Plan)
		digs := Of(d.Plan, net)
		for _, f := range Check(d.Plan, net, digs) {
			if strings.Contains(f.Sentence, "NaN") || strings.Contains(f.Sentence, "Inf") || f.At == nil {
				t.Errorf("seed %d: %q at %v", seed, f.Sentence, f.At)
			}
		}
		sum := units.Feet(0)
		for _, s := range digs.Segments {
			if !(s.Length > 0) || math.IsInf(float64(s.Length), 0) {
				t.Fatalf("seed %d: %+v", seed, s)
			}
			if s.Dug {
				sum += s.Length
			}
		}
		by := units.Feet(0)
		for _, g := range soft {
			by += digs.Totals.By[g]
		}
		if math.Abs(float64(sum-digs.Totals.Trench)) > 1e-6*float64(1+sum) || math.Abs(float64(by-sum)) > 1e-6*float64(1+sum) {
			t.Errorf("seed %d: %v ft dug, in total %v, by ground %v", seed, sum, digs.Totals.Trench, by)
		}
	}
}
