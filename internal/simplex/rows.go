package simplex

import (
	"cmp"
	"math"
	"slices"
)

// roundRows is how many of the rows that a solution breaks are taken in at a time, at
// least, and as a share of the variables. Chosen by BenchmarkYard: most rows of a
// watering problem never bind, and a row that is not in the table costs nothing.
const (
	roundRows  = 16
	roundShare = 8
)

// brokenRow is a row that x does not keep, and by how much for the length of its factors.
type brokenRow struct {
	index int
	by    float64
}

// takeBroken takes into the table the rows outside of it that x breaks worst, and tells
// how many they are: 0 where x keeps all.
func (t *table) takeBroken(rows []row, x []float64) int {
	for i := len(t.taken); i < len(rows); i++ {
		t.taken = append(t.taken, false)
		t.length = append(t.length, rows[i].length(t.unit))
	}
	most := max(roundRows, len(t.at)/roundShare)
	least := 0.0 // by which as many as are taken are broken already
	var broken []brokenRow
	for i, r := range rows {
		if t.taken[i] {
			continue
		}
		sum := -r.least
		for _, term := range r.terms {
			sum += term.Factor * x[term.Variable]
		}
		if by := -sum / t.length[i]; by > tolerance && by > least {
			broken = append(broken, brokenRow{i, by})
			if len(broken) == 4*most { // many times more are broken than are taken
				broken = worst(broken, most)
				least = broken[most-1].by
			}
		}
	}
	broken = worst(broken, most)
	for _, b := range broken {
		t.taken[b.index] = true
		t.add(b.index, rows[b.index])
	}
	return len(broken)
}

// length is that of its factors, by the units of the variables; 1 for a row without any,
// which is broken by its right side alone.
func (r row) length(unit []float64) float64 {
	sum := 0.0
	for _, t := range r.terms {
		f := t.Factor * unit[t.Variable]
		sum += f * f
	}
	if sum == 0 {
		return 1
	}
	return math.Sqrt(sum)
}

// worst is the most of rows that are broken worst, those first; of those broken by the
// same, the first.
func worst(broken []brokenRow, most int) []brokenRow {
	slices.SortFunc(broken, func(a, b brokenRow) int { return cmp.Or(cmp.Compare(b.by, a.by), a.index-b.index) })
	return broken[:min(len(broken), most)]
}
