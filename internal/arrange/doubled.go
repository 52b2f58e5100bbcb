package arrange

import (
	"slices"

	"evenfall/internal/coverage"
)

// doubled are the heads that stand on or beside others and throw the same way, as the
// finding about them has it: of two the later one, but none that stays.
func doubled(heads []stand) []int {
	var extra []int
	for i := range heads {
		for k := range i {
			a, b := i, k
			if heads[a].stays {
				a, b = b, a
			}
			if heads[a].stays || slices.Contains(extra, a) || slices.Contains(extra, b) || !coverage.Doubles(heads[a].thrown(), heads[b].thrown()) {
				continue
			}
			extra = append(extra, a)
		}
	}
	return extra
}

// thinned is a candidate without its doubled heads; ok is false when it has none.
func (s *search) thinned(c candidate) (thin candidate, ok bool) {
	extra := doubled(c.heads)
	if len(extra) == 0 {
		return c, false
	}
	thin = candidate{tidy: c.tidy}
	for i, h := range c.heads {
		if !slices.Contains(extra, i) {
			thin.heads = append(thin.heads, h)
		}
	}
	thin.h2h = s.headToHead(thin.heads)
	return thin, true
}

// doubledBetween is how many heads stand on or beside one of another layout and throw
// the same way: where two areas meet.
func doubledBetween(layouts []*Layout) int {
	n := 0
	for i, l := range layouts {
		for _, h := range l.Heads {
			if slices.ContainsFunc(layouts[:i], func(m *Layout) bool {
				return slices.ContainsFunc(m.Heads, func(k Placed) bool { return coverage.Doubles(h.thrown(), k.thrown()) })
			}) {
				n++
			}
		}
	}
	return n
}

func (h *Placed) thrown() coverage.Thrown {
	return coverage.Thrown{At: h.At, Start: h.Start, Sweep: h.Sweep, Throw: h.Throw, Flow: h.Flow}
}
