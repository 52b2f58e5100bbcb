package simplex

import (
	"math"
	"slices"
)

// stretch is by how much a row is multiplied so that its greatest factor is about one:
// a power of two, which rounds nothing.
func (r row) stretch(unit []float64) float64 {
	most := 0.0
	for _, t := range r.terms {
		most = max(most, math.Abs(t.Factor)*unit[t.Variable])
	}
	return powerOfTwo(1 / most)
}

func powerOfTwo(v float64) float64 {
	if !(v > 1e-30 && v < 1e30) { // a row of noughts, or units that are none
		return 1
	}
	_, e := math.Frexp(v)
	return math.Ldexp(1, e-1)
}

// unitsOf are the units of the variables by which the factors of rows are most alike:
// rows and columns in turn are divided by the geometric mean of their extremes, as is
// common practice, by powers of two.
func unitsOf(variables int, rows []row) []float64 {
	unit := make([]float64, variables)
	for j := range unit {
		unit[j] = 1
	}
	for range 3 {
		least, most := make([]float64, variables), make([]float64, variables)
		for _, r := range rows {
			low, high := math.Inf(1), 0.0
			for _, t := range r.terms {
				if f := math.Abs(t.Factor) * unit[t.Variable]; f > 0 {
					low, high = min(low, f), max(high, f)
				}
			}
			for _, t := range r.terms {
				f := math.Abs(t.Factor) / math.Sqrt(low*high)
				if j := t.Variable; f > 0 {
					if least[j] == 0 || f < least[j] {
						least[j] = f
					}
					most[j] = max(most[j], f)
				}
			}
		}
		for j := range unit {
			if most[j] > 0 {
				unit[j] = powerOfTwo(1 / math.Sqrt(least[j]*most[j]))
			}
		}
	}
	return unit
}

// anew is the table of the same basis worked out from the problem itself, without what
// rounding has gathered in this one. Each variable of the problem takes the place of the
// slack that it rounds least with; one that has no place left stays outside.
func (t *table) anew(cost []float64, rows []row) *table {
	u := newTable(cost, t.unit)
	u.taken, u.length = t.taken, t.length
	var free []int // rows of the table whose slack is to go
	for slack, i := range t.rowOf {
		u.add(i, rows[i])
		if t.slackAt[slack] >= 0 {
			free = append(free, slack)
		}
	}
	for j := range t.at {
		if t.at[j] >= 0 {
			continue
		}
		best, largest := -1, 1e-7
		for n, i := range free {
			if e := math.Abs(u.entries[i][u.at[j]]); e > largest {
				best, largest = n, e
			}
		}
		if best < 0 {
			continue
		}
		u.pivot(free[best], u.at[j])
		free = slices.Delete(free, best, best+1)
	}
	for j := range u.reduced {
		u.reduced[j] = max(u.reduced[j], 0)
	}
	return u
}

// conflict names the rows of the problem that a row of the table adds up to one that no
// x keeps.
func (t *table) conflict(out int) *Infeasible {
	e := &Infeasible{share: map[int]float64{}}
	take := func(v int, share float64) {
		if v < 0 {
			i := t.rowOf[^v]
			e.Rows = append(e.Rows, i)
			e.share[i] = share * t.stretch[^v]
		}
	}
	take(t.basic[out], 1)
	for j, v := range t.outside {
		if t.entries[out][j] > nought {
			take(v, t.entries[out][j])
		}
	}
	slices.Sort(e.Rows)
	return e
}

// proven reports whether the rows it names, each taken as often as it says, add up to
// one that asks more than nought of factors that are none above it.
func (e *Infeasible) proven(variables int, rows []row) bool {
	sum, size := make([]float64, variables), make([]float64, variables)
	least, asked := 0.0, 0.0
	for _, i := range e.Rows {
		share := e.share[i]
		least += share * rows[i].least
		asked += math.Abs(share * rows[i].least)
		for _, t := range rows[i].terms {
			sum[t.Variable] += share * t.Factor
			size[t.Variable] += math.Abs(share * t.Factor)
		}
	}
	for j := range sum {
		if sum[j] > 1e-7*size[j] {
			return false
		}
	}
	return least > 1e-9*asked
}
