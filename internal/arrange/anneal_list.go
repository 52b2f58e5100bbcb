package arrange

import (
	"context"
	"slices"

	"evenfall/internal/units"
)

// Where the list of numbers of heads begins and ends, by evenness: the search
// begins at the fewest heads that a seed is promising with, goes on to fewer until
// the best of them is poor or no longer keeps the limits, and to more while that still
// pays. Chosen.
const (
	promising  = 0.70
	poor       = 0.84
	even       = 0.925
	pays       = 0.004
	mostMisses = 2  // numbers in a row that keep no limit
	mostMore   = 4  // numbers tried above the first
	mostFewer  = 9  // and from it down
	mostUntil  = 10 // and above the first as long as none reaches the mark
	stepOf     = 24 // of many heads not every number is tried: every 24th part

	// The number of heads just short of the fewest that reach what users ask for is
	// looked at again, differently each time.
	mark       = 0.90
	nearMark   = 0.035
	moreLooks  = 4 // all together
	looksOfOne = 3

	// By how much a layout must do better than the mark and the limits to be taken as one
	// that reaches them: cells of yet another size read it as much worse.
	surely     = 0.0015 // DU
	surelyPast = 0.0005 // of the flow
)

// numbers is what a search has found, by number of heads.
type numbers struct {
	s      *search
	on     *pool
	seeds  map[int][]candidate
	found  map[int]candidate
	good   map[int]bool // of those, the ones that reach the mark
	looked map[int]int
	most   int // that there is
	tell   func(candidate)
}

// anneal betters candidates one number of heads at a time. It tells each number
// as it is done, and answers all of them by rising number. Strips are not bettered:
// they stand in rows at equal intervals or not at all.
func (s *search) anneal(ctx context.Context, from []candidate, tell func(candidate)) []candidate {
	if len(s.kit.strips) > 0 {
		return nil
	}
	l := &numbers{s: s, seeds: map[int][]candidate{}, found: map[int]candidate{}, good: map[int]bool{}, looked: map[int]int{}, tell: tell}
	for _, c := range from {
		l.seeds[len(c.heads)] = append(l.seeds[len(c.heads)], c)
	}
	first, ok := s.begin(from)
	if !ok {
		return nil
	}
	var err error
	if l.on, err = s.pool(); err != nil {
		return nil
	}
	defer func() { s.evaluate += l.on.reads() }()
	l.down(ctx, first)
	l.up(ctx, first)
	l.again(ctx)
	var out []candidate
	for n := range l.most + 1 {
		if c, ok := l.found[n]; ok {
			out = append(out, c)
		}
	}
	return out
}

// down goes from a number of heads to fewer.
func (l *numbers) down(ctx context.Context, first int) {
	n, misses := first, 0
	for tried := 0; n > len(l.s.stays) && tried < mostFewer && misses < mostMisses; tried++ {
		if !l.try(ctx, n, l.on.fine[0].fewer(n, l.seeds, l.found)) {
			return
		}
		c := l.found[n]
		if float64(c.tried.DU) < poor && n < first {
			return
		}
		if misses++; l.s.keeps(&c) {
			misses = 0
		}
		n -= max(1, n/stepOf)
	}
}

// up goes on to more heads.
func (l *numbers) up(ctx context.Context, first int) {
	for n := first + 1; ctx.Err() == nil && (n <= first+mostMore || n <= first+mostUntil && l.fewest() == 0); n++ {
		c, ok := l.found[n-1]
		if !ok || l.s.enough(&c) {
			return
		}
		if more, ok := l.on.fine[0].added(c); !ok || !l.try(ctx, n, []candidate{more}) {
			return
		}
		if is := l.found[n]; is.cost > c.cost-pays && l.good[n] {
			return
		}
	}
}

// again looks once more at the number of heads just short of the fewest that reach
// the mark, or else at the best there is.
func (l *numbers) again(ctx context.Context) {
	for range moreLooks {
		n := l.fewest() - 1
		if n < 0 {
			n = l.nearest()
		}
		c, ok := l.found[n]
		if !ok || l.looked[n] == looksOfOne || c.h2h < 1 || float64(c.tried.DU) < mark-nearMark || ctx.Err() != nil {
			return
		}
		l.looked[n]++
		better, _ := l.s.solve(ctx, l.on, n, l.looked[n], append(slices.Clip(l.seeds[n]), c))
		if better.cost < c.cost {
			l.keep(n, better)
		}
	}
}

// try searches one number of heads. It reports whether there is more to be done.
func (l *numbers) try(ctx context.Context, n int, near []candidate) bool {
	c, ok := l.s.solve(ctx, l.on, n, 0, slices.Concat(l.seeds[n], near))
	if ok {
		l.keep(n, c)
	}
	return ok && ctx.Err() == nil
}

func (l *numbers) keep(n int, c candidate) {
	l.found[n], l.good[n], l.most = c, l.reaches(&c), max(l.most, n)
	if l.tell != nil {
		l.tell(c)
	}
}

// fewest is the least number of heads that reaches the mark; 0 for none.
func (l *numbers) fewest() int {
	for n := range l.most + 1 {
		if l.good[n] {
			return n
		}
	}
	return 0
}

// nearest is the number of heads whose layout costs least; 0 for none.
func (l *numbers) nearest() int {
	best := 0
	for n := range l.most + 1 {
		if c, ok := l.found[n]; ok && (best == 0 || c.cost < l.found[best].cost) {
			best = n
		}
	}
	return best
}

// reaches reports whether a layout is surely as even as users ask for, within the
// limits: read on finer cells, which the search did not lay it out by.
func (l *numbers) reaches(c *candidate) bool {
	if float64(c.tried.DU) < mark || !l.s.keeps(c) {
		return false
	}
	again := *c
	l.on.sharp.read(&again)
	return float64(again.tried.DU) >= mark+surely && l.s.keepsBy(&again, surelyPast)
}

// enough reports whether more heads would hardly pay.
func (s *search) enough(c *candidate) bool {
	return float64(c.tried.DU) >= even && s.keeps(c)
}

// keeps reports whether a candidate keeps the limits past the edge, stands head to
// head and leaves no corner bare.
func (s *search) keeps(c *candidate) bool { return s.keepsBy(c, 0) }

// keepsBy is keeps with the limits lower by a share of the flow, those of nothing as
// they are.
func (s *search) keepsBy(c *candidate, share units.Ratio) bool {
	t, flow := &c.tried, c.tried.Flow
	under := func(past units.GPM, limit units.Ratio) bool {
		if limit > share {
			limit -= share
		}
		return within1(past, flow, limit)
	}
	return c.h2h >= 1 && t.Blamed == 0 && t.BareCorners == 0 && under(t.Hard+t.Walled, s.o.Hard) && under(t.Bare, s.o.Bare) && under(t.Other, s.o.Other)
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
