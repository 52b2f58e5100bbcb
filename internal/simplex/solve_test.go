package simplex

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func must(t testing.TB, _ int, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// The diet of two foods every textbook has: 2x + y ≥ 8, x + 2y ≥ 8, at 3 and 2.
func TestSolvesByHand(t *testing.T) {
	t.Parallel()
	var p Problem
	x, _ := p.Variable(3)
	y, _ := p.Variable(2)
	one, _ := p.AtLeast(8, Term{x, 2}, Term{y, 1})
	two, _ := p.AtLeast(8, Term{x, 1}, Term{y, 2})
	s, err := p.Solve(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.X[x]-8.0/3) > 1e-6 || math.Abs(s.X[y]-8.0/3) > 1e-6 || math.Abs(s.Cost-40.0/3) > 1e-6 {
		t.Errorf("%+v", s)
	}
	if math.Abs(s.Prices[one]-4.0/3) > 1e-6 || math.Abs(s.Prices[two]-1.0/3) > 1e-6 {
		t.Errorf("prices %v", s.Prices)
	}
	// A row added later, and one that is eased for a price.
	must(t, 0, func() error { _, err := p.AtMost(2, Term{x, 1}); return err }())
	if s, err = p.Solve(context.Background()); err != nil || math.Abs(s.X[x]-2) > 1e-6 || math.Abs(s.X[y]-4) > 1e-6 {
		t.Errorf("%+v, %v", s, err)
	}
}

func TestSaysWhatCannotBe(t *testing.T) {
	t.Parallel()
	var p Problem
	x, _ := p.Variable(1)
	_, _ = p.AtLeast(3, Term{x, 1})
	_, _ = p.AtMost(2, Term{x, 1})
	var not *Infeasible
	if _, err := p.Solve(context.Background()); !errors.As(err, &not) {
		t.Errorf("%v", err)
	}
	if _, err := p.Variable(-1); err == nil {
		t.Error("a cost below nought is taken")
	}
	if _, err := p.AtLeast(math.NaN(), Term{x, 1}); err == nil {
		t.Error("NaN is taken")
	}
	if _, err := p.AtLeast(1, Term{7, 1}); err == nil {
		t.Error("a variable that is not there is taken")
	}
	var soft Problem
	y, _ := soft.Variable(1)
	_, _ = soft.AtMost(2, Term{y, 1})
	e, _ := soft.Elastic(10)
	_, _ = soft.AtLeast(3, Term{y, 1}, e)
	s, err := soft.Solve(context.Background())
	if err != nil || math.Abs(s.X[e.Variable]-1) > 1e-6 {
		t.Errorf("%+v, %v", s, err)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	var q Problem
	z, _ := q.Variable(1)
	_, _ = q.AtLeast(1, Term{z, 1})
	if _, err := q.Solve(stopped); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// covering is a problem of rows to be covered, degenerate on purpose: equal costs,
// equal rows, right sides that tie or are nought.
func covering(rng *rand.Rand, rows, columns int) *Problem {
	var p Problem
	for range columns {
		_, _ = p.Variable(float64(1 + rng.IntN(3)))
	}
	for range rows {
		var terms []Term
		for j := range columns {
			if rng.IntN(6) == 0 {
				terms = append(terms, Term{j, float64(1 + rng.IntN(2))})
			}
		}
		if len(terms) == 0 {
			terms = append(terms, Term{rng.IntN(columns), 1})
		}
		least := float64(rng.IntN(3))
		_, _ = p.AtLeast(least, terms...)
		if rng.IntN(4) == 0 {
			_, _ = p.AtLeast(least, terms...)
		}
	}
	return &p
}

// Every solution proves itself: it keeps its rows, and the prices bound the cost from
// below by the same figure (kept). What is left to hold is that all are solved, and that
// rows added one by one end where they end when given at once.
func TestDegenerateProblemsAreSolved(t *testing.T) {
	t.Parallel()
	for seed := range uint64(60) {
		p := covering(rand.New(rand.NewPCG(seed, 8)), 60, 200)
		s, err := p.Solve(context.Background())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		one := Problem{cost: p.cost}
		var last *Solution
		for _, r := range p.rows {
			_, _ = one.AtLeast(r.least, r.terms...)
			if last, err = one.Solve(context.Background()); err != nil {
				t.Fatalf("seed %d, one by one: %v", seed, err)
			}
		}
		if math.Abs(last.Cost-s.Cost) > 1e-5*(1+s.Cost) {
			t.Errorf("seed %d: %g at once, %g one by one", seed, s.Cost, last.Cost)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for b.Loop() {
		p := covering(rand.New(rand.NewPCG(1, 8)), 300, 120)
		if _, err := p.Solve(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

// A variable that is added between solutions, as by how much a new row is broken, leaves
// the solution where it was: what comes after costs what it costs from the beginning, in
// far fewer pivots.
func TestVariablesAreAddedToWhatIsSolved(t *testing.T) {
	t.Parallel()
	warm, cold := 0, 0
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 12))
		p := yardOf(rng, 8, 7)
		if _, err := p.Solve(context.Background()); err != nil {
			t.Fatal(err)
		}
		for range 5 {
			over, err := p.Elastic(30 + 300*rng.Float64())
			if err != nil {
				t.Fatal(err)
			}
			terms := []Term{over}
			for range 3 {
				terms = append(terms, Term{rng.IntN(20), rng.Float64()})
			}
			_, _ = p.AtLeast(2+8*rng.Float64(), terms...)
			got, err := p.Solve(context.Background())
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			fresh := Problem{cost: p.cost, rows: p.rows}
			want, err := fresh.Solve(context.Background())
			if err != nil {
				t.Fatalf("seed %d, from the beginning: %v", seed, err)
			}
			if math.Abs(got.Cost-want.Cost) > 1e-6*(1+want.Cost) {
				t.Errorf("seed %d: %g, from the beginning %g", seed, got.Cost, want.Cost)
			}
			warm, cold = warm+got.Pivots, cold+want.Pivots
		}
	}
	if warm*4 > cold {
		t.Errorf("%d pivots from where it was, %d from the beginning", warm, cold)
	}
	t.Logf("%d pivots from where it was, %d from the beginning", warm, cold)
}
