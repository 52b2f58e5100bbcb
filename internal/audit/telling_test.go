package audit

import (
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/units"
)

// What catches stray by is told within a third, whatever was reckoned with.
func TestNoiseIsTold(t *testing.T) {
	t.Parallel()
	for _, noise := range []float64{0.08, 0.16, 0.3} {
		sum, n := 0.0, audits(12)
		for seed := range n {
			rng := rand.New(rand.NewPCG(uint64(seed), 25))
			y := labYards[seed%4].make()
			truth := y.set(0.5, rng)
			truth[3].output *= 0.5
			sum += fit(t, y.problem(truth, noise, rng)).Sigma
		}
		if told := sum / float64(n); math.Abs(told-noise) > noise/3 {
			t.Errorf("catches that stray by %g are told to stray by %.3f", noise, told)
		}
	}
}

// A tipped can is told, and accuses no head.
func TestTippedCan(t *testing.T) {
	t.Parallel()
	told, wrong := 0, 0
	n := audits(30)
	for seed := range n {
		rng := rand.New(rand.NewPCG(uint64(seed), 14))
		y := labYards[seed%len(labYards)].make()
		p := y.problem(y.set(0.5, rng), 0.08, rng)
		can := rng.IntN(len(p.Catches))
		p.Catches[can] *= 0.1
		f := fit(t, p)
		if f.Cans[can].Spilt > 0.5 {
			told++
		}
		for i := range f.Heads {
			if f.Heads[i].accused() {
				wrong++
			}
		}
	}
	t.Logf("of %d tipped cans %d are told, %d heads accused", n, told, wrong)
	if told*100 < 80*n || wrong*100 > 8*n {
		t.Errorf("of %d tipped cans %d are told, %d heads accused", n, told, wrong)
	}
}

// What a valve, a pressure or wrong minutes do to all heads is laid at the zone.
func TestWholeZoneIsNotItsHeads(t *testing.T) {
	t.Parallel()
	wrong, off := 0, 0
	n := audits(30)
	for seed := range n {
		rng := rand.New(rand.NewPCG(uint64(seed), 15))
		y, want := square3x4(), map[string]float64{"1": 0.7}
		if seed%2 == 1 {
			y, want = twoZones(), map[string]float64{"1": 1, "2": 0.75}
		}
		truth := y.set(0.3, rng)
		for i := range truth {
			truth[i].output *= want[truth[i].zone]
		}
		f := fit(t, y.problem(truth, 0.08, rng))
		own := 0.0 // of its water beside the zone's
		for _, h := range f.Heads {
			if h.accused() {
				wrong++
			}
			own += h.Output / float64(len(f.Heads))
		}
		if math.Abs(own-1) > 0.08 {
			t.Errorf("seed %d: beside their zones heads bring %.2f, in truth 1", seed, own)
		}
		if len(f.Zones) != len(want) {
			t.Fatalf("zones: %+v", f.Zones)
		}
		for _, z := range f.Zones {
			if math.Abs(z.Output-want[z.ID]) > 0.13 {
				off++
			}
			if math.Abs(z.Output-want[z.ID]) > 0.25 || z.Low > z.Output || z.High < z.Output {
				t.Errorf("seed %d: zone %s brings %.2f (%.2f to %.2f), in truth %.2f", seed, z.ID, z.Output, z.Low, z.High, want[z.ID])
			}
		}
		if f.Explains < 0.5 {
			t.Errorf("seed %d: explains %.2f", seed, f.Explains)
		}
	}
	if off*20 > n {
		t.Errorf("%d zones are told to bring what they do not", off)
	}
	if wrong*20 > n {
		t.Errorf("%d heads accused of what their zone does", wrong)
	}
}

// The way a head leans is told within 45°, and about how far.
func TestLeaningHeadTellsItsWay(t *testing.T) {
	t.Parallel()
	leaning, right, far, sure, within := 0, 0, 0.0, 0.0, 0
	for seed := range audits(80) {
		rng := rand.New(rand.NewPCG(uint64(seed), 16))
		y := labYards[seed%3].make()
		truth, at := y.set(0.3, rng), rng.Perm(12)
		labYard{truth, y.cans}.lean(at, 12, rng)
		f := fit(t, y.problem(truth, 0.08, rng))
		if h := f.Heads[at[0]]; h.Verdict == Leaning {
			leaning++
			far += float64(h.TiltDeg)
			sure += h.WayChance
			if h.TiltLow <= 12 && 12 <= h.TiltHigh {
				within++
			}
			if apart(float64(h.TiltToward), truth[at[0]].toward) <= 45 {
				right++
			}
		}
	}
	t.Logf("of %d told to lean the way of %d is right within 45°, by its chances of %.0f; %.1f° on average of 12°, within the bounds of %d", leaning, right, sure, far/float64(leaning), within)
	if math.Abs(sure-float64(right)) > 0.2*float64(leaning) || within*100 < 75*leaning {
		t.Errorf("chances of the way come to %.1f of %d, bounds hold %d", sure, right, within)
	}
	if leaning < 36 || right*100 < 85*leaning || math.Abs(far/float64(leaning)-12) > 3 {
		t.Errorf("of %d told to lean the way of %d is right", leaning, right)
	}
}

// Heads whose water falls otherwise than is drawn, all alike, are no heads at fault.
func TestOtherProfileAccusesFewHeads(t *testing.T) {
	t.Parallel()
	accusing := 0
	n := audits(30)
	for seed := range n {
		rng := rand.New(rand.NewPCG(uint64(seed), 17))
		y := labYards[seed%3].make()
		p := y.problem(y.set(0.5, rng), 0.08, rng)
		for c, at := range y.cans {
			v := 0.0
			for _, h := range y.heads {
				// Flat to half of the throw, then falling: the same water in all.
				r := math.Hypot(at[0]-h.x, at[1]-h.y) / labThrow
				if h.depth(at[0], at[1]) > 0 {
					v += min(1, 2*(1-r)) * (1.0 / 3) / (7.0 / 12)
				}
			}
			p.Catches[c] = v * (1 + 0.08*rng.NormFloat64())
		}
		f := fit(t, p)
		for i := range f.Heads {
			if f.Heads[i].accused() {
				accusing++
				break
			}
		}
	}
	t.Logf("in %d of %d audits a head is accused of another profile", accusing, n)
	if accusing*100 > 15*n {
		t.Errorf("in %d of %d audits a head is accused of another profile", accusing, n)
	}
}

// Leaning patterns are not asked for: then heads are low or high, and none leans.
func TestFitWithoutLeaning(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 21))
	y := square3x4()
	truth := y.set(0.5, rng)
	truth[6].output *= 0.4
	p := y.problem(truth, 0.08, rng)
	for i := range p.Heads {
		p.Heads[i].Leaning = nil
	}
	f := fit(t, p)
	if f.Heads[6].Verdict != Low || f.Heads[6].LeanChance != 0 || f.first() != 6 {
		t.Errorf("%+v", f.Heads[6])
	}
}

func TestLeanedThrow(t *testing.T) {
	t.Parallel()
	near(t, "upright", LeanedThrow(25, 0, 70), 1, 1e-12)
	near(t, "across", LeanedThrow(25, 12, 90), 1, 1e-12)
	near(t, "towards, 25° less 10°", LeanedThrow(25, 10, 0), math.Sin(math.Pi/6)/math.Sin(5*math.Pi/18), 1e-12)
	near(t, "flat", LeanedThrow(15, 15, 0), LeastLeaned, 1e-12)
	near(t, "away", LeanedThrow(25, 15, 180), MostLeaned, 1e-12)
	near(t, "no angle given", LeanedThrow(0, 10, 0), LeanedThrow(25, 10, 0), 1e-12)
	for away := units.Degrees(5); away <= 180; away += 5 {
		if LeanedThrow(28, 9, away) < LeanedThrow(28, 9, away-5) {
			t.Errorf("%g° away from where it leans it throws less far", float64(away))
		}
		near(t, "either side", LeanedThrow(28, 9, -away), LeanedThrow(28, 9, away), 1e-12)
	}
}
