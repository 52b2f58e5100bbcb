package audit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// normals draws a least-squares problem: what fits it best may be below nothing in many
// of its unknowns.
func drawNormals(rng *rand.Rand, n int) (matrix, []float64) {
	h, f := newMatrix(n), make([]float64, n)
	rows := n + 2
	if rng.IntN(4) == 0 {
		rows = max(n/2, 1) // fewer than unknowns: only the ridge below parts them
	}
	for range rows {
		row := make([]float64, n)
		for i := range row {
			if rng.IntN(3) > 0 {
				row[i] = rng.NormFloat64()
			}
		}
		h.addOuter(1, row)
		want := rng.NormFloat64()
		for i, v := range row {
			f[i] += want * v
		}
	}
	for i := range n {
		h.row(i)[i] += 1e-3
	}
	return h, f
}

func objective(h matrix, f, x []float64) float64 {
	s := 0.0
	for i, v := range x {
		s += v*dot(h.row(i), x)/2 - f[i]*v
	}
	return s
}

// What is found meets the conditions of Karush, Kuhn and Tucker: nothing below nothing,
// no slope at what is above it, and no way down at what is not.
func TestNonNegativeIsLeast(t *testing.T) {
	t.Parallel()
	bound := 0
	for seed := range uint64(600) {
		rng := rand.New(rand.NewPCG(seed, 6))
		n := 1 + rng.IntN(40)
		h, f := drawNormals(rng, n)
		x, free, rising := nonNegative(h, f)
		for i := range n {
			slope := dot(h.row(i), x) - f[i]
			switch {
			case x[i] < 0 || math.IsNaN(x[i]):
				t.Fatalf("seed %d: unknown %d is %g", seed, i, x[i])
			case !free[i] && x[i] != 0:
				t.Fatalf("seed %d: unknown %d is held at nothing and is %g", seed, i, x[i])
			case free[i] && math.Abs(slope) > 1e-7:
				t.Fatalf("seed %d: unknown %d has a slope of %g", seed, i, slope)
			case !free[i] && slope < -1e-7:
				t.Fatalf("seed %d: unknown %d would lower the sum by %g", seed, i, slope)
			case math.Abs(rising[i]-max(slope, 0)) > 1e-6:
				t.Fatalf("seed %d: slope %g told as %g", seed, slope, rising[i])
			}
			if !free[i] {
				bound++
			}
		}
	}
	if bound < 1000 {
		t.Errorf("only %d unknowns at nothing: too easy", bound)
	}
}

// Small problems have all their sets of free unknowns gone through: none is lower.
func TestNonNegativeAgainstAllSets(t *testing.T) {
	t.Parallel()
	for seed := range uint64(200) {
		rng := rand.New(rand.NewPCG(seed, 7))
		n := 1 + rng.IntN(6)
		h, f := drawNormals(rng, n)
		x, _, _ := nonNegative(h, f)
		got, best := objective(h, f, x), 0.0
		for set := range 1 << n {
			free := make([]bool, n)
			for i := range n {
				free[i] = set>>i&1 == 1
			}
			z := constrained(h, f, free)
			if least(z, free) >= 0 {
				best = min(best, objective(h, f, z))
			}
		}
		if math.Abs(got-best) > 1e-8*(1+math.Abs(best)) {
			t.Fatalf("seed %d: %g, the best set has %g", seed, got, best)
		}
	}
}

func BenchmarkNonNegative(b *testing.B) {
	h, f := drawNormals(rand.New(rand.NewPCG(1, 8)), 40)
	for b.Loop() {
		nonNegative(h, f)
	}
}
