package arrange

import (
	"cmp"
	"context"
	"hash/fnv"
	"math/rand/v2"
	"slices"
)

// How a search spends its evaluations on one number of heads, as shares of the
// effort: many short runs beat a long one, and a polish from the best of them pays
// (reference, sections 6c and 7). The short runs are read on a coarser raster.
const (
	restarts    = 6
	restartPart = 0.07 // each
	carried     = 4    // the best few go on, less hot
	carryPart   = 0.08
	polished    = 2 // and the best of those are polished
	polishPart  = 0.13
	coarser     = 1.4 // cells of the short runs over those of the others
)

// Temperatures, of cost. One head more or less matters as one over their number,
// and so does the heat a search wants; how much is not known before, so that runs
// differ in it. Chosen by trials on the four reference shapes.
const (
	heatOfOne = 0.3 // over the number of heads that move by themselves
	leastHot  = 0.008
	mostHot   = 0.05
	againHot  = 0.7 // of it, for those carried on
	warm      = 0.004
	cold      = 0.0002
)

var heats = [...]float64{1, 0.6, 1.5, 1}

// hot is the temperature run i of n heads begins at.
func hot(n, i int, sym *symmetry) float64 {
	free := float64(n)
	if sym != nil {
		free *= 0.6
	}
	return min(max(heatOfOne/free*heats[i%len(heats)], leastHot), mostHot)
}

// solve seeks the best layout of n heads from some to start from.
func (s *search) solve(ctx context.Context, on *pool, n, round int, starts []candidate) (candidate, bool) {
	if len(starts) == 0 {
		return candidate{}, false
	}
	runs := make([]candidate, restarts)
	part := func(share float64) int { return int(share * float64(s.o.Effort)) }
	on.each(on.coarse, restarts, func(b *bench, i int) {
		from := starts[i/2%len(starts)]
		if i >= restarts/2 && len(starts) > 1 {
			from = starts[len(starts)-1] // the answer of one head more, half of the time
		}
		t := task{from: from, rnd: s.random(n, 64*round+i), evaluations: part(restartPart)}
		if len(s.syms) > 0 && i%2 == 0 && round == 0 {
			t.sym, t.n = s.syms[i/2%len(s.syms)], n
			t.own = n%2 + 2*(i/2/len(s.syms)%2)
			if t.sym.turn {
				t.own = n % 2
			}
		}
		t.hot = hot(n, i, t.sym)
		if round > 0 { // another way: without symmetry, and some of the heads elsewhere
			t.hot, t.scattered = hot(n, 0, nil), n*(i%3)/3
		}
		runs[i] = b.run(ctx, t)
	})
	best := slices.Concat(runs, starts)
	for i := range best {
		on.fine[0].read(&best[i])
	}
	first := 64*round + restarts
	better := func(few int, share, heat float64) {
		slices.SortStableFunc(best, func(a, b candidate) int { return compareCost(&a, &b) })
		best = best[:min(few, len(best))]
		on.each(on.fine, len(best), func(b *bench, i int) {
			t := task{from: best[i], rnd: s.random(n, first+i), sym: best[i].sym, evaluations: part(share), hot: heat}
			if heat == 0 {
				t.hot = max(againHot*hot(n, 0, t.sym), warm)
			}
			best[i] = b.run(ctx, t)
		})
		first += len(best)
	}
	better(carried, carryPart, 0)
	better(polished, polishPart, warm)
	slices.SortStableFunc(best, func(a, b candidate) int { return compareCost(&a, &b) })
	c := best[0]
	if ctx.Err() == nil {
		c = on.fine[0].tidied(c)
	}
	return c, true
}

// compareCost puts the cheaper first; a symmetric one may cost a little more.
func compareCost(a, b *candidate) int { return cmp.Compare(a.worth(), b.worth()) }

// symmetric is what a layout may cost more for being its own image. Chosen.
const symmetric = 0.003

func (c *candidate) worth() float64 {
	if c.sym != nil {
		return c.cost - symmetric
	}
	return c.cost
}

// random is the randomness of one run: its own, whatever core it runs on.
func (s *search) random(n, run int) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(s.ground.id))
	h.Write([]byte(s.kit.family))
	return rand.New(rand.NewPCG(s.seed^h.Sum64(), uint64(n)<<16|uint64(run)))
}
