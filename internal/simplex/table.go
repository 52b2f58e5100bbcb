package simplex

import (
	"context"
	"math"
)

// table is the problem as seen from its present basis. Each row says what one basic
// variable is: value less the sum of its entries by the variables outside the basis.
// Variables are counted on from the problem's own to the slack of each row.
type table struct {
	costs   int       // variables of the problem
	reduced []float64 // by column: what a unit of its variable adds to the cost; never negative
	outside []int     // by column: its variable
	basic   []int     // by row: its variable
	value   []float64 // by row
	entries [][]float64
	at      []int // by variable: its column, or -1 - its row
	slackOf []int // by row of the problem: its variable
	support []int // scratch: columns of a pivot's row that are not nought
}

const (
	nought    = 1e-11 // entries no larger are rounding
	tolerance = 1e-9  // values no further below nought are nought
	// perturbed is by how much, of itself and of one, a cost is raised so that no two
	// choices are equally good, which could go round for ever.
	perturbed = 1e-9
	mostPer   = 50 // pivots for each row and column before it is given up
)

func newTable(cost []float64) *table {
	t := &table{costs: len(cost)}
	for j, c := range cost {
		t.outside = append(t.outside, j)
		t.at = append(t.at, j)
		t.reduced = append(t.reduced, c+perturbed*(1+c)*spread(j))
	}
	return t
}

// spread is a number from .5 to 1.5 by an index, the same whenever it is asked: the
// golden ratio's multiples lie evenly and repeat nowhere.
func spread(j int) float64 {
	_, f := math.Modf(float64(j+1) * 0.6180339887498949)
	return 0.5 + f
}

// add puts in a row, seen from the present basis.
func (t *table) add(r row) {
	slack := t.costs + len(t.slackOf)
	entries, value := make([]float64, len(t.outside)), -r.least
	for _, term := range r.terms {
		where := t.at[term.Variable]
		if where >= 0 {
			entries[where] -= term.Factor
			continue
		}
		i := -1 - where
		value += term.Factor * t.value[i]
		for j, e := range t.entries[i] {
			entries[j] += term.Factor * e
		}
	}
	// A variable in the basis is value - entries: the slack is the sum of the terms
	// less the right side, written the same way.
	for j := range entries {
		if math.Abs(entries[j]) < nought {
			entries[j] = 0
		}
	}
	t.at = append(t.at, -1-len(t.basic))
	t.slackOf = append(t.slackOf, slack)
	t.basic = append(t.basic, slack)
	t.value = append(t.value, value)
	t.entries = append(t.entries, entries)
}

// solve pivots until no basic variable is negative.
func (t *table) solve(ctx context.Context) (int, error) {
	most := mostPer * (len(t.basic) + len(t.outside) + 1)
	for pivots := 0; ; pivots++ {
		if pivots&15 == 0 && ctx.Err() != nil {
			return pivots, ctx.Err()
		}
		if pivots > most {
			return pivots, ErrTooLong
		}
		out := t.leaving()
		if out < 0 {
			return pivots, nil
		}
		in := t.entering(out)
		if in < 0 {
			return pivots, &Infeasible{t.ofRow(out)}
		}
		t.pivot(out, in)
	}
}

// leaving is the row whose variable is furthest below nought; -1 when none is.
func (t *table) leaving() int {
	out, worst := -1, -tolerance
	for i, v := range t.value {
		if v < worst {
			out, worst = i, v
		}
	}
	return out
}

// entering is the column that can raise a row's variable at the least cost for each
// unit; of those that cost as good as the same, the one with the largest entry, which
// rounds least.
func (t *table) entering(row int) int {
	least := math.Inf(1)
	for j, e := range t.entries[row] {
		if e < -nought {
			least = min(least, t.reduced[j]/-e)
		}
	}
	in, largest := -1, 0.0
	for j, e := range t.entries[row] {
		if e < -nought && t.reduced[j]/-e <= least+tolerance*(1e-3+least) && -e > largest {
			in, largest = j, -e
		}
	}
	return in
}

// pivot changes a basic variable for one outside the basis.
func (t *table) pivot(out, in int) {
	p := t.entries[out]
	by := p[in]
	t.support = t.support[:0]
	for j, e := range p {
		if e != 0 && j != in {
			p[j] = e / by
			t.support = append(t.support, j)
		}
	}
	p[in] = 1 / by
	t.value[out] /= by
	for i, r := range t.entries {
		f := r[in]
		if i == out || f == 0 {
			continue
		}
		for _, j := range t.support {
			if r[j] -= f * p[j]; math.Abs(r[j]) < nought {
				r[j] = 0
			}
		}
		r[in] = -f * p[in]
		t.value[i] -= f * t.value[out]
	}
	f := t.reduced[in]
	for _, j := range t.support {
		t.reduced[j] = max(t.reduced[j]-f*p[j], 0)
	}
	t.reduced[in] = max(-f*p[in], 0)
	t.basic[out], t.outside[in] = t.outside[in], t.basic[out]
	t.at[t.basic[out]], t.at[t.outside[in]] = -1-out, in
}

// ofRow is the row of the problem that a row of the table tells of, as far as it is one.
func (t *table) ofRow(i int) int { return max(t.basic[i]-t.costs, 0) }

func (t *table) solution(variables, rows int) *Solution {
	s := &Solution{X: make([]float64, variables), Prices: make([]float64, rows)}
	for i, v := range t.basic {
		if v < variables {
			s.X[v] = max(t.value[i], 0)
		}
	}
	for j, v := range t.outside {
		if v >= variables {
			s.Prices[v-variables] = t.reduced[j]
		}
	}
	return s
}
