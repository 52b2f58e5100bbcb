package audit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

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
