package simplex

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A table that rounding has spoiled (here by hand, far worse than it does) is found out
// by the solution's own proof, and worked out anew.
func TestSpoiledTableIsWorkedOutAnew(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 9))
		p := yardOf(rng, 8, 7)
		want, err := p.Solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		spoiled := p.table
		for i := range spoiled.value {
			spoiled.value[i] += 0.01 * rng.Float64()
			for j := range spoiled.entries[i] {
				spoiled.entries[i][j] *= 1 + 1e-3*rng.Float64()
			}
		}
		got, err := p.Solve(context.Background())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if p.table == spoiled {
			t.Errorf("seed %d: the spoiled table was believed", seed)
		}
		if math.Abs(got.Cost-want.Cost) > 1e-6*(1+want.Cost) {
			t.Errorf("seed %d: %g, before it was spoiled %g", seed, got.Cost, want.Cost)
		}
	}
}

// Rows that contradict each other are named, those that have nothing to do with it are
// not, and a contradiction that a spoiled table sees where there is none is not told.
func TestContradictionIsNamed(t *testing.T) {
	t.Parallel()
	var p Problem
	x, _ := p.Variable(1)
	y, _ := p.Variable(1)
	_, _ = p.AtLeast(1, Term{y, 1})
	lower, _ := p.AtLeast(3, Term{x, 1}, Term{y, 1})
	_, _ = p.AtMost(9, Term{y, 2})
	one, _ := p.AtMost(1, Term{x, 1})
	two, _ := p.AtMost(1.5, Term{y, 1})
	var not *Infeasible
	if _, err := p.Solve(context.Background()); !errors.As(err, &not) || !slices.Equal(not.Rows, []int{lower, one, two}) {
		t.Errorf("%v", err)
	}
	var q Problem
	z, _ := q.Variable(1)
	_, _ = q.AtLeast(3, Term{z, 1})
	if _, err := q.Solve(context.Background()); err != nil {
		t.Fatal(err)
	}
	q.table.entries[0][0], q.table.value[0] = 1, -1
	if s, err := q.Solve(context.Background()); err != nil || math.Abs(s.X[z]-3) > 1e-9 {
		t.Errorf("%+v, %v", s, err)
	}
}

// The units in which a problem is put change neither cost nor minutes: gallons by the
// minute, or by the million.
func TestUnitsDoNotMatter(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		p := yardOf(rand.New(rand.NewPCG(seed, 10)), 8, 7)
		want, err := p.Solve(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		rng, q := rand.New(rand.NewPCG(seed, 11)), Problem{cost: slices.Clone(p.cost)}
		unit := make([]float64, len(p.cost))
		for j := range unit {
			unit[j] = math.Pow(10, 6*rng.Float64()-3)
			q.cost[j] *= unit[j]
		}
		for _, r := range p.rows {
			by := math.Pow(10, 6*rng.Float64()-3)
			terms := make([]Term, len(r.terms))
			for i, term := range r.terms {
				terms[i] = Term{term.Variable, term.Factor * unit[term.Variable] * by}
			}
			_, _ = q.AtLeast(r.least*by, terms...)
		}
		got, err := q.Solve(context.Background())
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if math.Abs(got.Cost-want.Cost) > 1e-5*(1+want.Cost) {
			t.Errorf("seed %d: %g in other units, %g", seed, got.Cost, want.Cost)
		}
	}
}

// Costs that are perturbed by half of themselves lead elsewhere; the finish goes on from
// there to the least by the costs as they are, and rows added after it are kept, too.
func TestFinishUndoesWhatPerturbedCostsDid(t *testing.T) {
	t.Parallel()
	elsewhere := 0
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 13))
		p := yardOf(rng, 8, 7)
		bent := Problem{cost: p.cost, rows: p.rows}
		bent.table = newTable(p.cost, unitsOf(len(p.cost), p.rows))
		for j := range bent.table.reduced {
			bent.table.reduced[j] *= 1 + rng.Float64()/2
		}
		for range 3 {
			want, err := p.Solve(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			got, err := bent.Solve(context.Background())
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if math.Abs(got.Cost-want.Cost) > 1e-6*(1+want.Cost) {
				t.Errorf("seed %d: %g by bent costs, %g", seed, got.Cost, want.Cost)
			}
			if got.Pivots != want.Pivots {
				elsewhere++
			}
			terms := []Term{{rng.IntN(20), 1}, {rng.IntN(20), rng.Float64()}}
			_, _ = p.AtLeast(20, terms...)
			_, _ = bent.AtLeast(20, terms...)
		}
	}
	if elsewhere < 20 {
		t.Errorf("bent costs led another way only %d times", elsewhere)
	}
}
