package coverage

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Of all pairs, those with no head between are the same as when every pair is
// held against every head.
func TestOpenPairsAreThoseOfEveryPairTried(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 0))
	met := 0
	for round := range 60 {
		heads := make([]spot, 2+r.IntN(40))
		for i := range heads {
			h := &heads[i]
			h.id = plan.ID(fmt.Sprintf("h%02d", i))
			h.at = orb.Point{float64(r.IntN(40)), float64(r.IntN(40))} // on a lattice: equal distances, shared places
			h.StartDeg, h.SweepDeg = units.Degrees(r.IntN(4)*90), units.Degrees(90*(1+r.IntN(4)))
			h.reading.Throw = units.Feet(2 + r.IntN(8))
		}
		got, want := pairNames(openPairs(heads, placesOf(heads))), pairNames(everyOpenPair(heads))
		if !slices.Equal(got, want) {
			t.Fatalf("round %d: got %v, want %v", round, got, want)
		}
		met += len(want)
	}
	if met < 200 {
		t.Errorf("only %d open pairs were met: the rounds show too little", met)
	}
}

func everyOpenPair(heads []spot) []wide {
	var out []wide
	for i := range heads {
		for j := i + 1; j < len(heads); j++ {
			h, k := &heads[i], &heads[j]
			d := apart(h.at, k.at)
			reach := max(h.throw(), k.throw())
			open := d > 1.1*reach+1e-6 && d <= 4*reach && h.faces(k.at, 0) && k.faces(h.at, 0)
			for _, o := range heads {
				middle := orb.Point{(h.at[0] + k.at[0]) / 2, (h.at[1] + k.at[1]) / 2}
				if o.id != h.id && o.id != k.id && apart(o.at, middle) < 1.01*d/2 {
					open = false
				}
			}
			if open {
				out = append(out, wide{a: h, b: k, distance: d})
			}
		}
	}
	slices.SortStableFunc(out, func(x, y wide) int {
		if x.distance < y.distance {
			return -1
		}
		if x.distance > y.distance {
			return 1
		}
		return 0
	})
	return out
}

func pairNames(pairs []wide) []string {
	out := make([]string, len(pairs))
	for i, w := range pairs {
		out[i] = string(w.a.id + "-" + w.b.id)
	}
	return out
}
