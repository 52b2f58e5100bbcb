package simplex

import (
	"context"
	"math"
)

// table is the problem as seen from its present basis. Each row says what one basic
// variable is: value less the sum of its entries by the variables outside the basis.
// A variable of the problem goes by its index, the slack of a row by ^ its index among
// the rows of the table, below nought, so that either can grow.
type table struct {
	reduced []float64 // by column: what a unit of its variable adds to the cost, perturbed; never negative
	exact   []float64 // the same by the costs as they are; below nought by what was perturbed, at most
	outside []int     // by column: its variable
	basic   []int     // by row: its variable
	value   []float64 // by row
	entries [][]float64
	weight  []float64 // by row: one and the squares of its entries, as good as
	at      []int     // by variable of the problem: its column, or ^ its row
	slackAt []int     // by slack: the same
	rowOf   []int     // by slack: its row of the problem
	taken   []bool    // by row of the problem: it is in the table
	length  []float64 // by row of the problem: that of its factors
	support []int     // scratch: columns of a pivot's row that are not nought

	// Entries are about one, whatever the units of the problem: a variable is counted in
	// so many of its own, and a row is stretched by so much.
	unit    []float64 // by variable of the problem
	cost    []float64 // by variable, of such a unit
	stretch []float64 // by slack
}

const (
	nought    = 1e-11 // entries no larger are rounding
	tolerance = 1e-9  // values no further below nought are nought
	// perturbed is by how much, of one and of itself as far as one, a cost is raised so
	// that no two choices are equally good, which could go round for ever.
	perturbed = 1e-9
	mostPer   = 50 // pivots for each row and column before it is given up
)

func newTable(cost, unit []float64) *table {
	t := &table{}
	for j, c := range cost {
		t.variable(c, unit[j])
	}
	return t
}

// variable puts in a variable that no row of the table has: it stays outside the basis.
func (t *table) variable(cost, unit float64) {
	j, c := len(t.at), cost*unit
	t.at = append(t.at, len(t.outside))
	t.outside = append(t.outside, j)
	t.unit = append(t.unit, unit)
	t.cost = append(t.cost, c)
	t.reduced = append(t.reduced, c+perturbed*(1+min(c, 1))*spread(j))
	t.exact = append(t.exact, c)
	for i := range t.entries {
		t.entries[i] = append(t.entries[i], 0)
	}
}

// spread is a number from .5 to 1.5 by an index, the same whenever it is asked: the
// golden ratio's multiples lie evenly and repeat nowhere.
func spread(j int) float64 {
	_, f := math.Modf(float64(j+1) * 0.6180339887498949)
	return 0.5 + f
}

// add puts in a row, seen from the present basis.
func (t *table) add(index int, r row) {
	slack := ^len(t.rowOf)
	stretch := r.stretch(t.unit)
	entries, value := make([]float64, len(t.outside)), -r.least*stretch
	for _, term := range r.terms {
		where, factor := t.at[term.Variable], term.Factor*t.unit[term.Variable]*stretch
		if where >= 0 {
			entries[where] -= factor
			continue
		}
		i := ^where
		value += factor * t.value[i]
		for j, e := range t.entries[i] {
			entries[j] += factor * e
		}
	}
	// A variable in the basis is value - entries: the slack is the sum of the terms
	// less the right side, written the same way.
	weight := 1.0
	for j, e := range entries {
		if math.Abs(e) < nought {
			entries[j] = 0
		}
		weight += entries[j] * entries[j]
	}
	t.stretch = append(t.stretch, stretch)
	t.weight = append(t.weight, weight)
	t.slackAt = append(t.slackAt, ^len(t.basic))
	t.rowOf = append(t.rowOf, index)
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
			return pivots, t.conflict(out)
		}
		t.pivot(out, in)
		for _, j := range t.support {
			t.reduced[j] = max(t.reduced[j], 0)
		}
		t.reduced[in] = max(t.reduced[in], 0)
	}
}

// leaving is the row whose variable is below nought and up from where the way is the
// steepest, for its length among the prices; -1 when none is below.
func (t *table) leaving() int {
	out, steepest := -1, 0.0
	for i, v := range t.value {
		if v < -tolerance && v*v > steepest*t.weight[i] {
			out, steepest = i, v*v/t.weight[i]
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
	t.weight[out] = 1 + p[in]*p[in]
	for _, j := range t.support {
		t.weight[out] += p[j] * p[j]
	}
	for i, r := range t.entries {
		f := r[in]
		if i == out || f == 0 {
			continue
		}
		change := 0.0
		for _, j := range t.support {
			was := r[j]
			now := was - f*p[j]
			if math.Abs(now) < nought {
				now = 0
			}
			r[j] = now
			change += now*now - was*was
		}
		r[in] = -f * p[in]
		t.weight[i] = max(t.weight[i]+change+r[in]*r[in]-f*f, 1+r[in]*r[in])
		t.value[i] -= f * t.value[out]
	}
	f, exactly := t.reduced[in], t.exact[in]
	for _, j := range t.support {
		t.reduced[j] -= f * p[j]
		t.exact[j] -= exactly * p[j]
	}
	t.reduced[in], t.exact[in] = -f*p[in], -exactly*p[in]
	t.basic[out], t.outside[in] = t.outside[in], t.basic[out]
	t.stands(t.basic[out], ^out)
	t.stands(t.outside[in], in)
}

// stands notes the place of a variable or slack.
func (t *table) stands(v, at int) {
	if v < 0 {
		t.slackAt[^v] = at
		return
	}
	t.at[v] = at
}

func (t *table) solution(variables, rows int) *Solution {
	s := &Solution{X: make([]float64, variables), Prices: make([]float64, rows)}
	for i, v := range t.basic {
		if v >= 0 {
			s.X[v] = max(t.value[i], 0) * t.unit[v]
		}
	}
	for j, v := range t.outside {
		if v < 0 {
			s.Prices[t.rowOf[^v]] = max(t.exact[j], 0) * t.stretch[^v]
		}
	}
	return s
}
