package audit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// rows is a yard of a can a head, each head bringing its own can an inch, in zones.
func rows(zones ...string) Problem {
	p := Problem{Catches: make([]float64, len(zones))}
	for i, z := range zones {
		h := Head{ID: string(rune('a' + i)), Zone: z, Upright: make([]float64, len(zones))}
		h.Upright[i], p.Catches[i] = 1, 1
		p.Heads = append(p.Heads, h)
	}
	return p
}

// What one or two heads have in common cannot be told from what each does, so that a zone
// has something of its own from three heads on, beside another.
func TestZonesOfThreeHeadsHaveThingsInCommon(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		zones []string
		want  []string // of what is in common
	}{
		{[]string{"x", "x", "x", "x"}, []string{"x"}},
		{[]string{"x", "x", "y", "y"}, []string{""}},
		{[]string{"x", "x", "y", "y", "y"}, []string{"", "y"}},
	} {
		y := newYard(rows(c.zones...))
		if len(y.common) != len(c.want) {
			t.Errorf("%q have %d things in common, want %d", c.zones, len(y.common), len(c.want))
			continue
		}
		for i, want := range c.want {
			if y.common[i].zone != want {
				t.Errorf("%q: thing %d is of zone %q, want %q", c.zones, i, y.common[i].zone, want)
			}
		}
	}
}

// Where hardly anything is to be caught, throws a little longer make more of a difference
// than a share of that: a quarter of the noise goes by the mean of all cans.
func TestNoiseOfADryCanGoesByTheMean(t *testing.T) {
	t.Parallel()
	p := rows("x", "x", "x", "x")
	p.Catches = append(p.Catches, 0)
	for i := range p.Heads {
		p.Heads[i].Upright = append(p.Heads[i].Upright, 0)
	}
	p.Relative, p.Reading = 0.1, 0.03
	y, mean := newYard(p), 4.0/5
	for c, drawn := range []float64{1, 1, 1, 1, 0} {
		want := math.Hypot(0.1*(0.75*drawn+0.25*mean), 0.03)
		if math.Abs(y.noise[c]-want) > 1e-12 {
			t.Errorf("can %d strays by %g, want %g", c, y.noise[c], want)
		}
	}
}

// A head that brings next to nothing may bring nothing.
func TestBoundsOfADeadHeadReachNothing(t *testing.T) {
	t.Parallel()
	if least, _ := (mixture{{1, normal{0.2, 0.08}}}).within(); least != 0 {
		t.Errorf("it brings %g at the least, want 0", least)
	}
	least, most := mixture{{1, normal{0.5, 0.1}}}.within()
	if math.Abs(least-(0.5-1.645*0.1)) > 1e-3 || math.Abs(most-(0.5+1.645*0.1)) > 1e-3 {
		t.Errorf("bounds of 90 %% are %g and %g", least, most)
	}
}

// Of the heads one of which is at fault the likeliest are named.
func TestAmongTheLikeliestHeads(t *testing.T) {
	t.Parallel()
	y := newYard(rows("x", "x", "x"))
	lows := map[string]int{}
	for i, s := range y.suspect {
		if s.kind == low {
			lows[y.heads[s.who].ID] = i
		}
	}
	a, b, c := lows["a"], lows["b"], lows["c"]
	accounts := []account{{wrong: []int{a}, weight: 0.5}, {wrong: []int{b, c}, weight: 0.36}, {wrong: []int{b}, weight: 0.1}, {weight: 0.04}}
	heads := []FittedHead{{ID: "a", Verdict: Untold, Chance: 0.5}, {ID: "b", Verdict: Untold, Chance: 0.46}, {ID: "c", Verdict: Untold, Chance: 0.36}}
	got := y.among(heads, accounts)
	if len(got) != 1 || !slices.Equal(got[0].Heads, []string{"a", "b"}) || math.Abs(got[0].Chance-0.96) > 1e-12 {
		t.Errorf("one of %+v is at fault, want one of a and b by 0.96", got)
	}
}

// A can that tipped has nothing to explain, and hides nothing of what the heads explain.
func TestTippedCanIsNotExplained(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 31))
	y := square3x4()
	truth := y.set(0, rng)
	truth[0].output = 0.3
	p := y.problem(truth, 0.04, rng)
	far := 0 // the can that it brings least
	for c, v := range p.Heads[0].Upright {
		if v < p.Heads[0].Upright[far] {
			far = c
		}
	}
	p.Catches[far] = 0
	f := fit(t, p)
	if f.Cans[far].Spilt < 0.9 || f.Explains < 0.8 {
		t.Errorf("can %d tipped with a chance of %.2f, the fit explains %.2f of the rest", far, f.Cans[far].Spilt, f.Explains)
	}
}

// The noise is told as a share of what was caught, also where all bring half of what they
// should.
func TestNoiseIsAShareOfWhatWasCaught(t *testing.T) {
	t.Parallel()
	told, n := 0.0, 20
	for seed := range n {
		rng := rand.New(rand.NewPCG(uint64(seed), 32))
		y := square3x4()
		truth := y.set(0, rng)
		for i := range truth {
			truth[i].output *= 0.5
		}
		told += fit(t, y.problem(truth, 0.12, rng)).Sigma / float64(n)
	}
	if math.Abs(told-0.12) > 0.03 {
		t.Errorf("catches that stray by 0.12 are told to stray by %.3f", told)
	}
}
