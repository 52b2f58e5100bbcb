package audit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/units"
)

// Two heads face each other and all cans stand on the line midway, where both bring the
// same: that one of them is at fault is told, which one is not, and the wrong one is never
// sure.
func TestHeadsThatOverlapAlikeCannotBeTold(t *testing.T) {
	t.Parallel()
	told, among := 0, 0
	n := audits(60)
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
		n := audits(40)
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
		if wrong*10 > n || fine*100 > 40*heads || said*10 < 8*n {
			t.Errorf("%s: %d accused, %d of %d told fine, said in %d", c.name, wrong, fine, heads, said)
		}
	}
}

// A tipped can is told, and accuses no head.
func TestTippedCan(t *testing.T) {
	t.Parallel()
	told, wrong := 0, 0
	n := audits(60)
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
	wrong := 0
	n := audits(40)
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
		for _, h := range f.Heads {
			if h.accused() {
				wrong++
			}
		}
		if len(f.Zones) != len(want) {
			t.Fatalf("zones: %+v", f.Zones)
		}
		for _, z := range f.Zones {
			if math.Abs(z.Output-want[z.ID]) > 0.13 || z.Low > z.Output || z.High < z.Output {
				t.Errorf("seed %d: zone %s brings %.2f (%.2f to %.2f), in truth %.2f", seed, z.ID, z.Output, z.Low, z.High, want[z.ID])
			}
		}
		if f.Explains < 0.5 {
			t.Errorf("seed %d: explains %.2f", seed, f.Explains)
		}
	}
	if wrong*20 > n {
		t.Errorf("%d heads accused of what their zone does", wrong)
	}
}

// The way a head leans is told within 45°, and about how far.
func TestLeaningHeadTellsItsWay(t *testing.T) {
	t.Parallel()
	leaning, right, far := 0, 0, 0.0
	for seed := range audits(100) {
		rng := rand.New(rand.NewPCG(uint64(seed), 16))
		y := labYards[seed%3].make()
		truth, at := y.set(0.3, rng), rng.Perm(12)
		labYard{truth, y.cans}.lean(at, 12, rng)
		f := fit(t, y.problem(truth, 0.08, rng))
		if h := f.Heads[at[0]]; h.Verdict == Leaning {
			leaning++
			far += float64(h.TiltDeg)
			if apart(float64(h.TiltToward), truth[at[0]].toward) <= 45 {
				right++
			}
		}
	}
	t.Logf("of %d told to lean the way of %d is right within 45°; %.1f° on average of 12°", leaning, right, far/float64(leaning))
	if leaning < 40 || right*100 < 85*leaning || math.Abs(far/float64(leaning)-12) > 3 {
		t.Errorf("of %d told to lean the way of %d is right", leaning, right)
	}
}

// Heads whose water falls otherwise than is drawn, all alike, are no heads at fault.
func TestOtherProfileAccusesFewHeads(t *testing.T) {
	t.Parallel()
	accusing := 0
	n := audits(60)
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

// Bounds of 90 % hold about nine of ten outputs where faults come as they are reckoned
// with.
func TestBoundsHold(t *testing.T) {
	t.Parallel()
	within, all, worst := 0, 0, 0
	for seed := range audits(80) {
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

// The unit of depths, the order of cans and that of heads change nothing, and the same
// problem has the same answer.
func TestFitDoesNotDependOnOrderOrUnit(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 19))
		y := labYards[seed%4].make()
		truth := y.set(1, rng)
		truth[seed].output *= 0.5
		p := y.problem(truth, 0.08, rng)
		p.Reading = 0
		want := fit(t, p)
		if again := fit(t, p); !reflect.DeepEqual(want, again) {
			t.Fatal("asked twice, told two things")
		}
		cans, heads := rng.Perm(len(p.Catches)), rng.Perm(len(p.Heads))
		moved := Problem{Heads: make([]Head, len(p.Heads)), Catches: make([]float64, len(p.Catches))}
		turn := func(v []float64) []float64 {
			w := make([]float64, len(v))
			for i, c := range cans {
				w[i] = 254 * v[c]
			}
			return w
		}
		moved.Catches = turn(p.Catches)
		for i, j := range heads {
			h := Head{ID: p.Heads[j].ID, Zone: p.Heads[j].Zone, Upright: turn(p.Heads[j].Upright)}
			for _, l := range p.Heads[j].Leaning {
				h.Leaning = append(h.Leaning, turn(l))
			}
			moved.Heads[i] = h
		}
		got := fit(t, moved)
		for i, j := range heads {
			a, b := got.Heads[i], want.Heads[j]
			if a.ID != b.ID || a.Verdict != b.Verdict || math.Abs(a.Output-b.Output) > 0.01 || math.Abs(a.Chance-b.Chance) > 0.01 || math.Abs(a.Reach-b.Reach) > 1e-6 {
				t.Errorf("seed %d: %+v, before it was turned %+v", seed, a, b)
			}
		}
	}
}

func TestFitRefuses(t *testing.T) {
	t.Parallel()
	good := func() Problem {
		return square3x4().problem(square3x4().heads, 0, rand.New(rand.NewPCG(1, 20)))
	}
	for _, c := range []struct {
		spoil func(p *Problem)
		want  string
	}{
		{func(p *Problem) { p.Catches = nil }, "no can was read"},
		{func(p *Problem) { p.Heads = nil }, "no head is drawn"},
		{func(p *Problem) { p.Catches[2] = math.NaN() }, "can 3: NaN is no amount"},
		{func(p *Problem) { p.Catches[0] = -1 }, "can 1: a catch of -1 is below nothing"},
		{func(p *Problem) { p.Relative = -1 }, "the noise of a catch is -1"},
		{func(p *Problem) { p.Reading = math.Inf(1) }, "the noise of a catch is +Inf"},
		{func(p *Problem) { p.Heads[1].Upright = p.Heads[1].Upright[1:] }, "head b has a pattern of 23 cans; 24 were read"},
		{func(p *Problem) { p.Heads[1].Leaning[3] = nil }, "head b has a pattern of 0 cans; 24 were read"},
		{func(p *Problem) { p.Heads[2].Leaning = p.Heads[2].Leaning[:5] }, "head c has patterns for 5 directions"},
		{func(p *Problem) { p.Heads[2].Leaning = nil }, "head c has patterns for 0 directions"},
		{func(p *Problem) { p.Heads[0].Leaning[1][4] = math.Inf(1) }, "of the pattern of head a, can 5: +Inf"},
	} {
		p := good()
		c.spoil(&p)
		if f, err := Fit(context.Background(), p); f != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.want, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Fit(ctx, good()); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
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
