package simplex

import (
	"context"
	"errors"
	"math"
	"testing"
)

// Whatever is asked: an answer that proves itself, or rows that contradict each other,
// and the same from rows given one by one. The proof is reckoned here anew.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{2, 3, 2, 2, 1, 64, 1, 2, 64})
	f.Add([]byte{3, 0, 0, 1, 8, 0, 248, 0, 8, 8, 8, 8, 248, 0, 8, 0, 16})
	f.Add([]byte{1, 1, 8, 24, 248, 240})
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) < 2 {
			return
		}
		n := 1 + int(b[0])%9
		if b = b[1:]; len(b) < n || len(b) > 600 {
			return
		}
		var whole, one Problem
		for _, c := range b[:n] {
			_, _ = whole.Variable(float64(c) / 4)
			_, _ = one.Variable(float64(c) / 4)
		}
		rows := 0
		var last *Solution
		var lastErr error
		for b = b[n:]; len(b) > n; b = b[n+1:] {
			var terms []Term
			for j, v := range b[:n] {
				if v != 0 {
					terms = append(terms, Term{j, float64(int8(v)) / 8})
				}
			}
			least := float64(int8(b[n])) / 4
			_, _ = whole.AtLeast(least, terms...)
			_, _ = one.AtLeast(least, terms...)
			if rows++; lastErr == nil {
				last, lastErr = one.Solve(context.Background())
			}
		}
		s, err := whole.Solve(context.Background())
		var not *Infeasible
		if errors.As(err, &not) {
			if rows > 0 && !errors.As(lastErr, &not) {
				t.Fatalf("%v; one by one: %v", err, lastErr)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if rows > 0 && lastErr != nil {
			t.Fatalf("one by one: %v", lastErr)
		}
		if rows > 0 && math.Abs(last.Cost-s.Cost) > 1e-5*(1+s.Cost) {
			t.Fatalf("%g at once, %g one by one", s.Cost, last.Cost)
		}
		below := make([]float64, n) // what the prices make of each column
		bound := 0.0
		for i, r := range whole.rows {
			if s.Prices[i] < 0 {
				t.Fatalf("row %d has the price %g", i, s.Prices[i])
			}
			bound += s.Prices[i] * r.least
			for _, term := range r.terms {
				below[term.Variable] += s.Prices[i] * term.Factor
			}
		}
		for j, v := range below {
			if v > whole.cost[j]+1e-5*(1+whole.cost[j]) {
				t.Fatalf("variable %d costs %g, the prices make %g of it", j, whole.cost[j], v)
			}
		}
		if math.Abs(bound-s.Cost) > 1e-5*(1+s.Cost) {
			t.Fatalf("%g, by the prices %g", s.Cost, bound)
		}
	})
}
