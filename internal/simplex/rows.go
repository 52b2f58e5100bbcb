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
	for len(t.taken) < len(rows) {
		t.taken = append(t.taken, false)
	}
	var broken []brokenRow
	for i, r := range rows {
		if t.taken[i] {
			continue
		}
		sum, length := -r.least, 0.0
		for _, term := range r.terms {
			sum += term.Factor * x[term.Variable]
			f := term.Factor * t.unit[term.Variable]
			length += f * f
		}
		// A row without factors is broken by its right side alone.
		if length = math.Sqrt(length); length == 0 {
			length = 1
		}
		if sum < -tolerance*length {
			broken = append(broken, brokenRow{i, -sum / length})
		}
	}
	slices.SortStableFunc(broken, func(a, b brokenRow) int { return cmp.Compare(b.by, a.by) })
	broken = broken[:min(len(broken), max(roundRows, len(t.at)/roundShare))]
	for _, b := range broken {
		t.taken[b.index] = true
		t.add(b.index, rows[b.index])
	}
	return len(broken)
}
