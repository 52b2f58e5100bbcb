package simplex

import (
	"context"
	"math"
)

const (
	// finishMost is how many pivots a finish may take before what it has is left as it
	// is, and finishBland from how many on it takes the first choice instead of the best,
	// which cannot go round. Chosen: it takes a few where penalties are high.
	finishMost  = 2000
	finishBland = 200
)

// finish goes on to the least by the costs as they are, from where the perturbed ones
// led, and from what a basis that was worked out anew may be short of. All basic
// variables are nought or more, so these are pivots of the primal simplex method. It
// leaves the costs perturbed anew, since none may be below nought when rows are added.
func (t *table) finish(ctx context.Context) (int, error) {
	pivots := 0
	for ; pivots < finishMost; pivots++ {
		if pivots&15 == 0 && ctx.Err() != nil {
			return pivots, ctx.Err()
		}
		in := t.cheapens(pivots >= finishBland)
		if in < 0 {
			break
		}
		out := t.limits(in)
		if out < 0 { // no cost is below nought, so this is rounding
			break
		}
		t.pivot(out, in)
		for i, v := range t.value {
			t.value[i] = max(v, 0)
		}
	}
	if pivots > 0 {
		for j, v := range t.outside {
			least := max(t.exact[j], 0)
			t.reduced[j] = least + perturbed*(1+min(least, 1))*spread(v&math.MaxInt16)
		}
	}
	return pivots, nil
}

// cheapens is the column that lowers the cost most for each unit, or the first that
// does; -1 for none.
func (t *table) cheapens(first bool) int {
	in, least, lowest := -1, 0.0, math.MaxInt
	for j, e := range t.exact {
		v := t.outside[j]
		most := -tolerance
		if v >= 0 {
			most *= 1 + t.cost[v]
		}
		if e >= most {
			continue
		}
		if first && v < lowest || !first && e < least {
			in, least, lowest = j, e, v
		}
	}
	return in
}

// limits is the row whose variable is nought first as the variable of a column grows; of
// those that are so at as good as the same, the one with the largest entry.
func (t *table) limits(in int) int {
	least := math.Inf(1)
	for i, r := range t.entries {
		if r[in] > tolerance {
			least = min(least, max(t.value[i], 0)/r[in])
		}
	}
	out, largest := -1, 0.0
	for i, r := range t.entries {
		if r[in] > largest && r[in] > tolerance && max(t.value[i], 0)/r[in] <= least*(1+tolerance) {
			out, largest = i, r[in]
		}
	}
	return out
}
