// Package simplex finds the least cost of linear programs whose costs are not negative:
//
//	least c·x with every row a·x ≥ b, and x ≥ 0
//
// by the dual simplex method. Since no cost is negative, doing nothing is a basis that
// no cost can be below, so there is no first phase; a row that is added later keeps it
// so, and the solution goes on from where it was. That is also how rows given at once are
// kept: one is taken in when a solution breaks it, so that the many which never bind cost
// nothing. The prices of the rows say which of them bind and what it would be worth to
// ease them. Every answer is proven before it is given (see kept and proven).
package simplex

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Term is one variable of a row with its factor.
type Term struct {
	Variable int
	Factor   float64
}

// Problem is a linear program. Rows and variables can be added between solutions.
type Problem struct {
	cost  []float64
	rows  []row
	table *table // nil: not begun
}

type row struct {
	terms []Term
	least float64
}

// Solution is the least cost and what it takes.
type Solution struct {
	X      []float64 // by variable
	Prices []float64 // by row: what the cost rises for each unit that its right side does; 0 where it does not bind
	Cost   float64
	Pivots int // of this solution
}

// Infeasible says that no x keeps all rows: those it names contradict each other.
type Infeasible struct {
	Rows  []int           // ascending
	share map[int]float64 // by row: how often it is taken to prove it (Farkas)
}

func (e *Infeasible) Error() string {
	return fmt.Sprintf("simplex: rows %v cannot be kept together", e.Rows)
}

// ErrLost is a solution that rounding spoiled, also when worked out anew: it does not
// keep its rows, or its cost is not that of its prices, or rows that are said to
// contradict each other do not.
var ErrLost = errors.New("simplex: lost by rounding")

// anewMost is how often a solution that does not prove itself is worked out anew from
// its basis before it is given up. Chosen.
const anewMost = 3

// ErrTooLong is a solution that did not end in many times the pivots it ought to take.
var ErrTooLong = errors.New("simplex: too many pivots")

// Variable adds a variable of so much cost, and gives its index.
func (p *Problem) Variable(cost float64) (int, error) {
	if !(cost >= 0) || math.IsInf(cost, 0) {
		return 0, fmt.Errorf("simplex: a variable costs %g; costs are 0 or more", cost)
	}
	p.cost = append(p.cost, cost)
	return len(p.cost) - 1, nil
}

// AtLeast adds a row: the sum of its terms is at least so much. It gives its index.
func (p *Problem) AtLeast(least float64, terms ...Term) (int, error) {
	if math.IsNaN(least) || math.IsInf(least, 0) {
		return 0, fmt.Errorf("simplex: a row is at least %g", least)
	}
	for _, t := range terms {
		if t.Variable < 0 || t.Variable >= len(p.cost) {
			return 0, fmt.Errorf("simplex: there is no variable %d", t.Variable)
		}
		if math.IsNaN(t.Factor) || math.IsInf(t.Factor, 0) {
			return 0, fmt.Errorf("simplex: the factor of variable %d is %g", t.Variable, t.Factor)
		}
	}
	p.rows = append(p.rows, row{append([]Term(nil), terms...), least})
	return len(p.rows) - 1, nil
}

// AtMost adds a row the other way round: the sum of its terms is at most so much.
func (p *Problem) AtMost(most float64, terms ...Term) (int, error) {
	turned := make([]Term, len(terms))
	for i, t := range terms {
		turned[i] = Term{t.Variable, -t.Factor}
	}
	return p.AtLeast(-most, turned...)
}

// Elastic lets a row that is yet to be added be broken at so much cost for each unit: it
// gives the term to add to it, whose variable is by how much it is broken.
func (p *Problem) Elastic(penalty float64) (Term, error) {
	v, err := p.Variable(penalty)
	return Term{v, 1}, err
}

// Solve finds the least cost. The error is the context's, *Infeasible, ErrLost or
// ErrTooLong.
func (p *Problem) Solve(ctx context.Context) (*Solution, error) {
	if p.table == nil {
		p.table = newTable(p.cost, unitsOf(len(p.cost), p.rows))
	}
	for j := len(p.table.at); j < len(p.cost); j++ {
		p.table.variable(p.cost[j], 1) // in its own unit: rows are stretched to it
	}
	pivots, anew := 0, 0
	for {
		took, err := p.table.solve(ctx)
		pivots += took
		var not *Infeasible
		switch {
		case errors.As(err, &not):
			if not.proven(len(p.cost), p.rows) {
				return nil, not
			}
		case err != nil:
			return nil, err
		default:
			s := p.table.solution(len(p.cost), len(p.rows))
			if p.table.takeBroken(p.rows, s.X) > 0 {
				continue
			}
			if took, err = p.table.finish(ctx); err != nil {
				return nil, err
			}
			if pivots += took; took > 0 {
				if s = p.table.solution(len(p.cost), len(p.rows)); p.table.takeBroken(p.rows, s.X) > 0 {
					continue
				}
			}
			s.Pivots = pivots
			for j, v := range s.X {
				s.Cost += p.cost[j] * v
			}
			if p.kept(s) {
				return s, nil
			}
		}
		if anew++; anew > anewMost {
			p.table = nil
			return nil, ErrLost
		}
		p.table = p.table.anew(p.cost, p.rows)
	}
}

// kept reports whether a solution keeps the rows, its prices make no more of a variable
// than it costs, and its cost is what the prices make of the rows: all three together
// prove that there is none cheaper.
func (p *Problem) kept(s *Solution) bool {
	bound, bounds := 0.0, 0.0
	made, makes := make([]float64, len(p.cost)), make([]float64, len(p.cost))
	for i, r := range p.rows {
		sum, size := 0.0, math.Abs(r.least)
		for _, t := range r.terms {
			v := t.Factor * s.X[t.Variable]
			sum += v
			size += math.Abs(v)
			made[t.Variable] += t.Factor * s.Prices[i]
			makes[t.Variable] += math.Abs(t.Factor * s.Prices[i])
		}
		if sum < r.least-1e-7*(1+size) {
			return false
		}
		bound += r.least * s.Prices[i]
		bounds += math.Abs(r.least * s.Prices[i])
	}
	for j, c := range p.cost {
		if made[j] > c+1e-7*(1+c+makes[j]) {
			return false
		}
	}
	return math.Abs(s.Cost-bound) <= 1e-6*(1+math.Abs(s.Cost))+1e-9*bounds
}
