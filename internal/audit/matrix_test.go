package audit

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// definite is a positive definite matrix by chance.
func definite(n int, rng *rand.Rand) matrix {
	m := newMatrix(n)
	for i := range n {
		m.row(i)[i] += 0.1
		v := make([]float64, n)
		for c := range v {
			v[c] = rng.NormFloat64()
		}
		m.addOuter(1, v)
	}
	return m
}

func TestInverseUndoesItsMatrix(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 31))
	for _, n := range []int{0, 1, 2, 3, 7, 40} {
		m := definite(n, rng)
		root := matrix{n, slices.Clone(m.at)}
		inv := root.inverse()
		for i := range n {
			for j := range n {
				want := 0.0
				if i == j {
					want = 1
				}
				if got := dot(m.row(i), inv.row(j)); math.Abs(got-want) > 1e-8 {
					t.Errorf("of %d, row %d by column %d comes to %g, not %g", n, i, j, got, want)
				}
				if inv.row(i)[j] != inv.row(j)[i] {
					t.Errorf("of %d, %d and %d are not the same either way", n, i, j)
				}
				if got := dot(root.row(i)[:min(i, j)+1], root.row(j)[:min(i, j)+1]); math.Abs(got-m.row(i)[j]) > 1e-8 {
					t.Errorf("of %d, its root squared has %g at %d, %d, not %g", n, got, i, j, m.row(i)[j])
				}
			}
		}
	}
}

// What is offered comes in the one order there is, however it was found.
func TestLikeliestOfferedFirst(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 31))
	var more []added
	for i := range 300 {
		more = append(more, added{i % 7, i, float64(rng.IntN(20))}) // many alike
	}
	want := slices.SortedFunc(slices.Values(more), func(a, b added) int {
		return cmp.Or(-cmp.Compare(a.weight, b.weight), cmp.Compare(a.to, b.to), cmp.Compare(a.what, b.what))
	})
	for range 3 {
		rng.Shuffle(len(more), func(i, j int) { more[i], more[j] = more[j], more[i] })
		if got := slices.Collect(likeliest(slices.Clone(more))); !slices.Equal(got, want) {
			t.Fatal("they come in another order")
		}
	}
}

func BenchmarkInverse(b *testing.B) {
	m := definite(200, rand.New(rand.NewPCG(3, 31)))
	for b.Loop() {
		(&matrix{m.n, slices.Clone(m.at)}).inverse()
	}
}
