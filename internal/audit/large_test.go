package audit

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// park is a lawn of cols × rows heads, 15 ft apart, with cans at the middles of cells.
func park(cols, rows, across, along int) labYard {
	var y labYard
	for row := range rows {
		for col := range cols {
			y.heads = append(y.heads, labHead{x: float64(col) * labThrow, y: float64(row) * labThrow, arc: 360, zone: fmt.Sprint(row / 2), output: 1, throw: 1})
		}
	}
	for i := range across {
		for j := range along {
			y.cans = append(y.cans, [2]float64{(float64(i) + 0.5) * labThrow * float64(cols-1) / float64(across), (float64(j) + 0.5) * labThrow * float64(rows-1) / float64(along)})
		}
	}
	return y
}

// An old park: sixty heads, every sixth or every other one at fault, 126 cans. Nearly all
// faults are told, of the sound heads hardly any is accused, though all low and half of
// them high would look much the same.
func TestManyFaultsOfManyHeads(t *testing.T) {
	t.Parallel()
	for _, faults := range []int{10, 30} {
		var all tally
		for seed := range audits(1) {
			rng := rand.New(rand.NewPCG(uint64(seed), 22))
			y := park(10, 6, 14, 9)
			truth := y.set(0.7, rng)
			bad := faulty{}
			for _, i := range rng.Perm(60)[:faults] {
				truth[i].output *= 0.4
				bad[i] = Low
			}
			all.count(fit(t, y.problem(truth, 0.08, rng)), y.heads, truth, bad)
		}
		t.Log(all)
		if all.sure*100 < 85*all.faults || all.wrong*100 > 4*all.sound || all.hidden*20 > all.faults {
			t.Errorf("of many heads too little is told, or too much: %v", all)
		}
	}
}

func BenchmarkFitPark(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 23))
	y := park(10, 6, 14, 9)
	truth := y.set(1, rng)
	for _, i := range rng.Perm(60)[:10] {
		truth[i].output *= 0.4
	}
	p := y.problem(truth, 0.08, rng)
	for b.Loop() {
		fit(b, p)
	}
}

func BenchmarkFit300Heads(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 24))
	y := park(20, 15, 20, 15)
	p := y.problem(y.set(1, rng), 0.08, rng)
	for b.Loop() {
		fit(b, p)
	}
}
