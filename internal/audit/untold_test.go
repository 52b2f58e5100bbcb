package audit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Two heads face each other and all cans stand on the line midway, where both bring the
// same: that one of them is at fault is told, which one is not, and the wrong one is never
// sure.
func TestHeadsThatOverlapAlikeCannotBeTold(t *testing.T) {
	t.Parallel()
	told, among := 0, 0
	n := audits(24)
	for seed := range n {
		rng := rand.New(rand.NewPCG(uint64(seed), 11))
		y := labYard{heads: []labHead{
			{x: 0, y: 0, arc: 360, zone: "1", output: 1, throw: 1},
			{x: 14, y: 0, arc: 360, zone: "1", output: 1, throw: 1},
			{x: 40, y: 0, arc: 360, zone: "1", output: 1, throw: 1},
		}}
		for i := range 24 {
			y.cans = append(y.cans, [2]float64{7, -8 + 16*float64(i)/23})
		}
		for i := range 6 {
			y.cans = append(y.cans, [2]float64{35 + 2*float64(i), 3})
		}
		truth := y.set(0, rng)
		truth[0].output = 0.2
		f := fit(t, y.problem(truth, 0.05, rng))
		if f.Heads[0].accused() || f.Heads[1].accused() {
			told++
		}
		if f.Heads[0].Verdict == Fine || f.Heads[1].Verdict == Fine {
			t.Errorf("seed %d: %+v", seed, f.Heads[:2])
		}
		if d := math.Abs(f.Heads[0].fault() - f.Heads[1].fault()); d > 0.005 {
			t.Errorf("seed %d: heads that do the same to every can differ by %g", seed, d)
		}
		if len(f.Among) == 1 && slices.Equal(slices.Sorted(slices.Values(f.Among[0].Heads)), []string{"a", "b"}) {
			among++
		}
		if f.Heads[2].accused() {
			t.Errorf("seed %d: the head apart is accused", seed)
		}
	}
	if told > 0 {
		t.Errorf("in %d of %d audits one of two alike is accused", told, n)
	}
	if among*10 < 9*n {
		t.Errorf("only in %d of %d audits is it said that one of the two is at fault", among, n)
	}
}

// A head that brings no can water stays untold with what is known beforehand, and those
// beside it are told as ever.
func TestHeadWithoutCans(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 12))
	y := square3x4()
	y.heads = append(y.heads, labHead{x: 100, y: 100, arc: 360, zone: "1", output: 1, throw: 1})
	truth := y.set(0, rng)
	truth[3].output, truth[12].output = 0.3, 0
	f := fit(t, y.problem(truth, 0.08, rng))
	h := f.Heads[12]
	if h.Verdict != Untold || h.Reach != 0 || h.Output != 1 || h.Low > 0.8 || h.High < 1.1 {
		t.Errorf("a head out of reach: %+v", h)
	}
	if f.Heads[3].Verdict != Low || f.first() != 3 {
		t.Errorf("beside it: %+v", f.Heads[3])
	}

	only := fit(t, Problem{Heads: []Head{{ID: "a", Upright: []float64{0, 0, 0}}}, Catches: []float64{1, 2, 3}})
	if only.Heads[0].Verdict != Untold || only.Heads[0].Reach != 0 || !only.Few || len(only.Cans) != 3 {
		t.Errorf("no head reaches a can: %+v", only)
	}
}

// Catches that stray by 40 %, or six cans for twelve heads: sound heads stay unaccused,
// most are not told fine either, and it is said why.
func TestTooLittleToTell(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		noise float64
		cans  int
	}{{"much noise", 0.4, 24}, {"few cans", 0.08, 6}} {
		wrong, fine, said, heads := 0, 0, 0, 0
		n := audits(24)
		for seed := range n {
			rng := rand.New(rand.NewPCG(uint64(seed), 13))
			y := square3x4()
			rng.Shuffle(len(y.cans), func(i, j int) { y.cans[i], y.cans[j] = y.cans[j], y.cans[i] })
			y.cans = y.cans[:c.cans]
			truth, at := y.set(0.5, rng), rng.IntN(12)
			truth[at].output *= 0.5
			f := fit(t, y.problem(truth, c.noise, rng))
			for i := range f.Heads {
				heads++
				if i != at && f.Heads[i].accused() {
					wrong++
				}
				if f.Heads[i].Verdict == Fine {
					fine++
				}
			}
			if f.Few || f.Noisy {
				said++
			}
		}
		t.Logf("%s: of %d heads %d are wrongly accused, %d told fine; said in %d of %d audits", c.name, heads, wrong, fine, said, n)
		if wrong*10 > n || fine*100 > 40*heads || said*10 < 7*n {
			t.Errorf("%s: %d accused, %d of %d told fine, said in %d", c.name, wrong, fine, heads, said)
		}
	}
}

// Bounds of 90 % hold about nine of ten outputs where faults come as they are reckoned
// with.
func TestBoundsHold(t *testing.T) {
	t.Parallel()
	within, all, worst := 0, 0, 0
	for seed := range audits(60) {
		rng := rand.New(rand.NewPCG(uint64(seed), 18))
		y := labYards[seed%len(labYards)].make()
		truth := y.set(0.8, rng)
		bad := faulty{}
		for i := range truth {
			switch u := rng.Float64(); {
			case u < lowOdds:
				truth[i].output *= max(0, 0.45+0.27*rng.NormFloat64())
				bad[i] = Low
			case u < lowOdds+highOdds:
				truth[i].output *= 1.5 + 0.3*rng.NormFloat64()
				bad[i] = High
			}
		}
		f := fit(t, y.problem(truth, 0.08, rng))
		for i, h := range f.Heads {
			all++
			if h.Low <= truth[i].output && truth[i].output <= h.High {
				within++
			} else if bad[i] != "" {
				worst++
			}
			if !(h.Low <= h.Output && h.Output <= h.High && h.Low >= 0) {
				t.Errorf("seed %d: %+v", seed, h)
			}
		}
	}
	t.Logf("bounds hold %d of %d outputs; %d of those outside are of faults", within, all, worst)
	if within*100 < 85*all || within*1000 > 985*all {
		t.Errorf("bounds of 90 %% hold %d of %d outputs", within, all)
	}
}
