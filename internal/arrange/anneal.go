package arrange

import (
	"cmp"
	"context"
	"hash/fnv"
	"math/rand/v2"
	"slices"

	"evenfall/internal/units"
)

// How a search spends its evaluations on one number of heads, as shares of the
// effort: many short runs beat a long one, and a polish from the best of them pays
// (reference, sections 6c and 7). The short runs are read on a coarser raster.
const (
	restarts    = 8
	restartPart = 0.05 // each
	carried     = 3    // the best few go on, less hot
	carryPart   = 0.1
	polished    = 2 // and the best of those are polished
	polishPart  = 0.15
	coarser     = 1.4 // cells of the short runs over those of the others
)

// Temperatures, of cost. One head more or less matters as one over their number,
// and so does the heat a search wants; how much is not known before, so that runs
// differ in it. Chosen by trials on the four reference shapes.
const (
	heatOfOne = 0.3 // over the number of heads that move by themselves
	leastHot  = 0.008
	mostHot   = 0.05
	againHot  = 0.4 // of it, for those carried on
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

// Where the list of numbers of heads begins and ends, by evenness: the search
// begins at the fewest heads that a seed is promising with, goes on to fewer until
// the best of them is poor, and to more while that still pays. Chosen.
const (
	promising = 0.70
	poor      = 0.84
	even      = 0.925
	pays      = 0.004
	// A number of heads that falls just short of what users ask for is looked at
	// once more.
	mark        = 0.90
	nearMark    = 0.035
	slackMark   = 0.002
	secondLooks = 2
	mostMore    = 4  // numbers tried above the first
	mostFewer   = 9  // and from it down
	stepOf      = 24 // of many heads not every number is tried: every 24th part
)

// anneal betters candidates one number of heads at a time. It tells each number
// as it is done, and answers all of them by rising number. Strips are not bettered:
// they stand in rows at equal intervals or not at all.
func (s *search) anneal(ctx context.Context, from []candidate, tell func(candidate)) []candidate {
	if len(s.kit.strips) > 0 {
		return nil
	}
	seeds := map[int][]candidate{}
	for _, c := range from {
		seeds[len(c.heads)] = append(seeds[len(c.heads)], c)
	}
	first, ok := s.begin(from)
	if !ok {
		return nil
	}
	on, err := s.pool()
	if err != nil {
		return nil
	}
	defer func() { s.evaluate += on.reads() }()
	found := map[int]candidate{}
	looks := secondLooks
	at := func(n int, near []candidate) bool {
		starts := slices.Concat(seeds[n], near)
		c, ok := s.solve(ctx, on, n, 0, starts)
		if du := float64(c.tried.DU); ok && looks > 0 && ctx.Err() == nil && c.h2h >= 1 && du >= mark-nearMark && (du < mark+slackMark || !s.keeps(&c)) {
			looks--
			if again, _ := s.solve(ctx, on, n, 1, append(starts, c)); again.cost < c.cost {
				c = again
			}
		}
		if ok {
			found[n] = c
			if tell != nil {
				tell(c)
			}
		}
		return ok && ctx.Err() == nil
	}
	tried := 0
	for n := first; n > len(s.stays) && tried < mostFewer; tried++ {
		if !at(n, on.fine[0].fewer(n, seeds, found)) {
			break
		}
		if c := found[n]; float64(c.tried.DU) < poor && n < first {
			break
		}
		n -= max(1, n/stepOf)
	}
	for n := first + 1; n <= first+mostMore && ctx.Err() == nil; n++ {
		c, ok := found[n-1]
		if !ok || s.enough(&c) {
			break
		}
		if more, ok := on.fine[0].added(c); !ok || !at(n, []candidate{more}) {
			break
		}
		if found[n].cost > c.cost-pays && float64(c.tried.DU) > 0.9 {
			break
		}
	}
	var out []candidate
	for n := 1; n <= first+mostMore; n++ {
		if c, ok := found[n]; ok {
			out = append(out, c)
		}
	}
	return out
}

// enough reports whether more heads would hardly pay.
func (s *search) enough(c *candidate) bool {
	return float64(c.tried.DU) >= even && s.keeps(c)
}

// keeps reports whether a candidate keeps the limits past the edge and stands head
// to head.
func (s *search) keeps(c *candidate) bool {
	flow := c.tried.Flow
	return c.h2h >= 1 && c.tried.Blamed == 0 && within1(c.tried.Hard+c.tried.Walled, flow, s.o.Hard) && within1(c.tried.Bare, flow, s.o.Bare) && within1(c.tried.Other, flow, s.o.Other)
}

func within1(past, flow units.GPM, limit units.Ratio) bool {
	return float64(past) <= float64(limit)*float64(flow)+1e-9
}

// begin is the number of heads to begin with.
func (s *search) begin(from []candidate) (int, bool) {
	best, ok := 0, false
	cost := 0.0
	for _, c := range from {
		n := len(c.heads)
		if n <= len(s.stays) {
			continue
		}
		if float64(c.tried.DU) >= promising && c.h2h > 0.99 {
			return n, true // they come by rising number
		}
		if !ok || c.cost < cost {
			best, cost, ok = n, c.cost, true
		}
	}
	return best, ok
}

// fewer is where n heads may begin from: the nearest found of more heads, or else
// seed, less the heads that cost least to lose.
func (b *bench) fewer(n int, seeds map[int][]candidate, found map[int]candidate) []candidate {
	for more := n + 1; more <= n+max(3, n/stepOf+1); more++ {
		c, ok := found[more]
		if !ok && len(seeds[n]) == 0 && len(seeds[more]) > 0 {
			c, ok = seeds[more][0], true
		}
		for ok && len(c.heads) > n {
			c, ok = b.dropped(c)
		}
		if ok {
			return []candidate{c}
		}
	}
	return nil
}

// dropped is a candidate without the head that costs least to lose.
func (b *bench) dropped(c candidate) (candidate, bool) {
	var best candidate
	ok := false
	for i := range c.heads {
		if c.heads[i].stays {
			continue
		}
		less := candidate{heads: slices.Delete(slices.Clone(c.heads), i, i+1)}
		if len(less.heads) == 0 {
			break
		}
		b.read(&less)
		if !ok || less.cost < best.cost {
			best, ok = less, true
		}
	}
	return best, ok
}

// added is a candidate with a head more where it is driest.
func (b *bench) added(c candidate) (candidate, bool) {
	b.lay(c.heads)
	h, ok := b.s.headAt(b.trial.Driest())
	if !ok {
		return c, false
	}
	h.throw = middleThrow(c.heads)
	var r rays
	if !b.s.aim(&h, &r, 1.5) {
		return c, false
	}
	more := candidate{heads: append(slices.Clone(c.heads), h)}
	b.read(&more)
	return more, true
}

func middleThrow(heads []stand) int {
	var t []int
	for i := range heads {
		if !heads[i].stays {
			t = append(t, heads[i].throw)
		}
	}
	if len(t) == 0 {
		return 0
	}
	slices.Sort(t)
	return t[len(t)/2]
}

// solve seeks the best layout of n heads from some to start from.
func (s *search) solve(ctx context.Context, on *pool, n, round int, starts []candidate) (candidate, bool) {
	if len(starts) == 0 {
		return candidate{}, false
	}
	runs := make([]candidate, restarts)
	part := func(share float64) int { return int(share * float64(s.o.Effort)) }
	benches := on.coarse
	if round > 0 { // another way: without symmetry, on the fine raster
		benches = on.fine
	}
	on.each(benches, restarts, func(b *bench, i int) {
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
		if round > 0 {
			t.hot = hot(n, 0, nil)
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
