package audit

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// little is a yard of four heads and eight cans, whose sets of faults can be gone through.
func little(seed uint64) *yard {
	rng := rand.New(rand.NewPCG(seed, 9))
	y := square3x4()
	y.heads = []labHead{y.heads[0], y.heads[1], y.heads[4], y.heads[5]}
	y.cans = nil
	for range 8 {
		y.cans = append(y.cans, [2]float64{labThrow * rng.Float64(), labThrow * rng.Float64()})
	}
	truth := y.set(1, rng)
	truth[rng.IntN(4)].output *= 0.4
	return newYard(y.problem(truth, 0.08, rng))
}

// density is the logarithm of that of a normal distribution of mean 0 at v, less what is
// the same for all: by elimination, sharing no code with the package.
func density(cov [][]float64, v []float64) float64 {
	n := len(v)
	a, b := make([][]float64, n), slices.Clone(v)
	for i := range cov {
		a[i] = slices.Clone(cov[i])
	}
	logDet := 0.0
	for i := range n {
		p := i
		for r := i + 1; r < n; r++ {
			if math.Abs(a[r][i]) > math.Abs(a[p][i]) {
				p = r
			}
		}
		a[i], a[p], b[i], b[p] = a[p], a[i], b[p], b[i]
		logDet += math.Log(math.Abs(a[i][i]))
		for r := i + 1; r < n; r++ {
			by := a[r][i] / a[i][i]
			for c := i; c < n; c++ {
				a[r][c] -= by * a[i][c]
			}
			b[r] -= by * b[i]
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = b[i]
		for c := i + 1; c < n; c++ {
			x[i] -= a[i][c] * x[c]
		}
		x[i] /= a[i][i]
	}
	s := 0.0
	for i := range n {
		s += x[i] * v[i]
	}
	return -s/2 - logDet/2
}

// The weight of a set of faults is the density of the catches by the variance of all that
// may be, worked out from nothing, with its odds and the signs of its amounts.
func TestWeightIsADensity(t *testing.T) {
	t.Parallel()
	for seed := range uint64(12) {
		y := little(seed)
		rng := rand.New(rand.NewPCG(seed, 10))
		for level := range levels {
			f := newField(y, level)
			for range 6 {
				var wrong []int
				for len(wrong) < rng.IntN(4) {
					x := rng.IntN(len(y.suspect))
					fits := true
					for _, o := range wrong {
						fits = fits && x != o && y.suspect[x].with(&y.suspect[o])
					}
					if fits {
						wrong = append(wrong, x)
					}
				}
				slices.Sort(wrong)
				n := len(y.caught)
				cov, v := make([][]float64, n), make([]float64, n)
				for c := range n {
					cov[c] = make([]float64, n)
					s := levels[level] * y.noise[c]
					cov[c][c] = s * s
					v[c] = y.caught[c] - y.drawn[c]
				}
				spread := func(by float64, p []float64) {
					for i := range n {
						for j := range n {
							cov[i][j] += by * by * p[i] * p[j]
						}
					}
				}
				for _, s := range y.common {
					spread(s.spread, s.pattern)
				}
				for _, h := range y.heads {
					spread(headVaries, h.Upright)
					for k := range h.Leaning {
						d := make([]float64, n)
						for c := range d {
							d[c] = h.Leaning[k][c] - h.Upright[c]
						}
						spread(tiltVaries/float64(StandardTilt)*math.Sqrt(2/float64(len(h.Leaning))), d)
					}
				}
				want := logLevel(level)
				for _, x := range wrong {
					s := &y.suspect[x]
					want += s.odds
					spread(s.spread, s.pattern)
					for c := range v {
						v[c] -= s.mean * s.pattern[c]
					}
				}
				want += density(cov, v)
				got := f.weigh(wrong)
				for i, x := range wrong {
					want += logNormal(y.suspect[x].sign() * got.amount[i] / math.Sqrt(got.spread.row(i)[i]))
				}
				if math.Abs(got.weight-want) > 1e-6*(1+math.Abs(want)) {
					t.Fatalf("seed %d, level %g, %v: %g, the density has %g", seed, levels[level], wrong, got.weight, want)
				}
			}
		}
	}
}

// Seeking by the best sets of each size tells what going through all sets of up to three
// faults tells, within a hundredth or two: it misses no likely one.
func TestSeekingMissesNothingLikely(t *testing.T) {
	t.Parallel()
	for seed := range uint64(audits(4)) {
		y := little(seed)
		found, _, err := y.accounts(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		unlike := make([]float64, 4)
		blame := func(into []float64, wrong []int, share float64) {
			seen := map[int]bool{}
			for _, x := range wrong {
				if s := &y.suspect[x]; !s.onCan() && !seen[s.who] {
					seen[s.who] = true
					into[s.who] += share
				}
			}
		}
		for _, a := range found {
			blame(unlike, a.wrong, a.weight)
		}
		all, sum := make([]float64, 4), 0.0
		top := math.Inf(-1)
		type one struct {
			wrong  []int
			weight float64
		}
		var every []one
		for level := range levels {
			f := newField(y, level)
			var go3 func(from int, wrong []int)
			go3 = func(from int, wrong []int) {
				w := f.weigh(slices.Clone(wrong)).weight
				every = append(every, one{slices.Clone(wrong), w})
				top = max(top, w)
				if len(wrong) == 3 {
					return
				}
			next:
				for x := from; x < len(y.suspect); x++ {
					for _, o := range wrong {
						if !y.suspect[x].with(&y.suspect[o]) {
							continue next
						}
					}
					go3(x+1, append(wrong, x))
				}
			}
			go3(0, nil)
		}
		for _, e := range every {
			w := math.Exp(e.weight - top)
			sum += w
			blame(all, e.wrong, w)
		}
		for j := range all {
			if d := math.Abs(all[j]/sum - unlike[j]); d > 0.05 {
				t.Errorf("seed %d, head %d: at fault by %.3f, by all sets %.3f", seed, j, unlike[j], all[j]/sum)
			}
		}
	}
}
