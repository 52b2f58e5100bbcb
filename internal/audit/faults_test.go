package audit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
)

func fit(t testing.TB, p Problem) *Fitted {
	t.Helper()
	f, err := Fit(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// audits is how many audits of a sort are drawn: more when there is time.
func audits(usual int) int {
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		return 5 * usual
	}
	return usual
}

// accused tells whether the head is surely at fault.
func (h *FittedHead) accused() bool {
	return h.Verdict == Low || h.Verdict == High || h.Verdict == Leaning
}

// fault is the chance of it.
func (h *FittedHead) fault() float64 {
	if h.Verdict == Fine {
		return 1 - h.Chance
	}
	return h.Chance
}

// first is the head likeliest at fault.
func (f *Fitted) first() int {
	best := 0
	for i := range f.Heads {
		if f.Heads[i].fault() > f.Heads[best].fault() {
			best = i
		}
	}
	return best
}

// tally counts what is told of audits with known faults.
type tally struct {
	audits, faults int
	first          int       // audits whose likeliest head is at fault
	sure, kind     int       // faults told, and of the right kind
	wrong          int       // heads accused that are not at fault
	hidden         int       // faults told fine
	among          int       // faults of which it is said that one of some heads it is
	sound, fine    int       // heads not at fault, and told fine
	within, all    int       // outputs within their bounds
	held           int       // of them, those of heads at fault
	wide           float64   // all bounds of heads at fault, one after the other
	accusing       int       // audits that accuse a head that is not at fault
	table          [4][5]int // heads by what they are, and what is told of them
}

func (c tally) String() string {
	share := func(n, of int) float64 { return 100 * float64(n) / float64(max(of, 1)) }
	return fmt.Sprintf("%4d audits, %4d faults: first %.1f %%, sure %.1f %% (right kind %.1f %%), told fine %.1f %%, one of several %.1f %% | accused of %d sound heads %d, in %.1f %% of audits; fine %.1f %% | outputs within bounds %.1f %%, of faults %.1f %% (%.2f wide)",
		c.audits, c.faults, share(c.first, c.audits), share(c.sure, c.faults), share(c.kind, c.faults), share(c.hidden, c.faults), share(c.among, c.faults),
		c.sound, c.wrong, share(c.accusing, c.audits), share(c.fine, c.sound), share(c.within, c.all), share(c.held, c.faults), c.wide/float64(max(c.faults, 1)))
}

// kinds are what a head is, and what may be told of it.
var kinds = []Verdict{Fine, Low, High, Leaning, Untold}

// confusion is the table of what heads are and what is told of them.
func (c tally) confusion() string {
	var s strings.Builder
	fmt.Fprintf(&s, "%-10s", "is \\ told")
	for _, k := range kinds {
		fmt.Fprintf(&s, "%9s", k)
	}
	for i, row := range c.table {
		fmt.Fprintf(&s, "\n%-10s", kinds[i])
		for _, n := range row {
			fmt.Fprintf(&s, "%9d", n)
		}
	}
	return s.String()
}

// faulty are the heads that are at fault and how.
type faulty map[int]Verdict

func (c *tally) count(f *Fitted, drawn, truth []labHead, bad faulty) {
	c.audits++
	c.faults += len(bad)
	if _, is := bad[f.first()]; is {
		c.first++
	}
	accusing := false
	for i := range f.Heads {
		h := &f.Heads[i]
		kind, is := bad[i]
		if !is {
			kind = Fine
		}
		c.table[slices.Index(kinds, kind)][slices.Index(kinds, h.Verdict)]++
		switch {
		case is && h.accused():
			c.sure++
			if h.Verdict == kind {
				c.kind++
			}
		case is && h.Verdict == Fine:
			c.hidden++
		case !is && h.accused():
			c.wrong++
			accusing = true
		case !is && h.Verdict == Fine:
			c.fine++
		}
		if is && !h.accused() {
			for _, a := range f.Among {
				if slices.Contains(a.Heads, h.ID) {
					c.among++
				}
			}
		}
		if is {
			c.wide += h.High - h.Low
		} else {
			c.sound++
		}
		c.all++
		if o := truth[i].output / drawn[i].output; h.Low <= o && o <= h.High {
			c.within++
			if is {
				c.held++
			}
		}
	}
	if accusing {
		c.accusing++
	}
}

// The bar: twelve heads, 24 cans, catches that stray by 8 %, one head half-blocked. It is
// first on the list and sure in nine audits of ten; where nothing is wrong nobody is
// accused in 19 of 20. Heads are as drawn, or set as a crew sets them.
func TestHalfBlockedHeadIsFound(t *testing.T) {
	t.Parallel()
	for _, off := range []float64{0, 1} {
		var all, none tally
		for _, layout := range labYards {
			var one tally
			for seed := range audits(50) {
				rng := rand.New(rand.NewPCG(uint64(seed), 1))
				y := layout.make()
				truth, at := y.set(off, rng), rng.IntN(len(y.heads))
				truth[at].output *= 0.5
				f := fit(t, y.problem(truth, 0.08, rng))
				one.count(f, y.heads, truth, faulty{at: Low})
				all.count(f, y.heads, truth, faulty{at: Low})
				truth = y.set(off, rng)
				none.count(fit(t, y.problem(truth, 0.08, rng)), y.heads, truth, nil)
			}
			t.Logf("%-28s set %g: %v", layout.name, off, one)
		}
		t.Logf("%-28s set %g: %v", "all", off, all)
		t.Logf("%-28s set %g: %v", "nothing wrong", off, none)
		t.Logf("one half-blocked, set %g:\n%s", off, all.confusion())
		if off == 0 && (all.first*100 < 97*all.audits || all.sure*100 < 90*all.audits) {
			t.Errorf("found first in %d and sure in %d of %d audits", all.first, all.sure, all.audits)
		}
		if all.first*100 < 90*all.audits || all.sure*100 < 85*all.audits || all.hidden*100 > 3*all.audits {
			t.Errorf("set %g: found first in %d, sure in %d, told fine in %d of %d audits", off, all.first, all.sure, all.hidden, all.audits)
		}
		if none.accusing*20 > none.audits || all.accusing*20 > all.audits {
			t.Errorf("set %g: sound heads are accused in %d and %d of %d audits", off, none.accusing, all.accusing, none.audits)
		}
		if none.fine*100 < 70*none.sound {
			t.Errorf("set %g: %d of %d sound heads are told fine", off, none.fine, none.sound)
		}
		if all.within*100 < 87*all.all || none.within*100 < 87*none.all {
			t.Errorf("set %g: bounds of 90 %% hold %d and %d of %d outputs", off, all.within, none.within, none.all)
		}
	}
}

// Other faults, one or two in a yard.
func TestOtherFaultsAreFound(t *testing.T) {
	var together tally
	t.Cleanup(func() { t.Logf("all other faults:\n%s", together.confusion()) })
	for _, c := range []struct {
		name                     string
		spoil                    func(h []labHead, at []int, y labYard, rng *rand.Rand)
		faults                   int
		kinds                    [2]Verdict
		first, sure, kind, wrong int // least, least, least, most of a hundred
	}{
		{"dead", func(h []labHead, at []int, _ labYard, _ *rand.Rand) { h[at[0]].output = 0 }, 1, [2]Verdict{Low}, 98, 98, 98, 5},
		{"a third blocked", func(h []labHead, at []int, _ labYard, _ *rand.Rand) { h[at[0]].output *= 0.66 }, 1, [2]Verdict{Low}, 70, 40, 35, 6},
		{"over-sized nozzle", func(h []labHead, at []int, _ labYard, _ *rand.Rand) { h[at[0]].output *= 1.6 }, 1, [2]Verdict{High}, 90, 75, 70, 6},
		{"leaning 12°, where it shows", func(h []labHead, at []int, y labYard, rng *rand.Rand) {
			labYard{h, y.cans}.lean(at, 12, rng)
		}, 1, [2]Verdict{Leaning}, 80, 55, 50, 8},
		{"two half-blocked", func(h []labHead, at []int, _ labYard, _ *rand.Rand) { h[at[0]].output *= 0.5; h[at[1]].output *= 0.5 }, 2, [2]Verdict{Low, Low}, 95, 75, 70, 8},
		{"one dead, one over-sized", func(h []labHead, at []int, _ labYard, _ *rand.Rand) { h[at[0]].output = 0; h[at[1]].output *= 1.6 }, 2, [2]Verdict{Low, High}, 95, 80, 75, 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			var all tally
			for _, layout := range labYards {
				for seed := range audits(20) {
					rng := rand.New(rand.NewPCG(uint64(seed), 5))
					y := layout.make()
					truth, at := y.set(0.5, rng), rng.Perm(len(y.heads))
					c.spoil(truth, at, y, rng)
					bad := faulty{}
					for i := range c.faults {
						bad[at[i]] = c.kinds[i]
					}
					all.count(fit(t, y.problem(truth, 0.08, rng)), y.heads, truth, bad)
				}
			}
			t.Log(all)
			for i, row := range all.table {
				for j, n := range row {
					together.table[i][j] += n
				}
			}
			if all.first*100 < c.first*all.audits || all.sure*100 < c.sure*all.faults || all.kind*100 < c.kind*all.faults || all.accusing*100 > c.wrong*all.audits {
				t.Errorf("too little is found, or too much: %v", all)
			}
		})
	}
}

// near is how far apart two directions are.
func apart(a, b float64) float64 { return math.Abs(math.Mod(a-b+540, 360) - 180) }

func BenchmarkFit(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	y := square3x4()
	truth := y.set(1, rng)
	truth[5].output = 0.5
	p := y.problem(truth, 0.08, rng)
	for b.Loop() {
		fit(b, p)
	}
}
