package watering

import (
	"cmp"
	"slices"
)

// A pattern takes the longer to look at the more zones there are, about by their square,
// and all that fit cost much the same: of many zones fewer patterns are looked at, times
// that square so many (chosen, so that sixty zones are through in a few seconds; up to
// nineteen zones have all of a week).
const (
	lookedAt = 100_000 // at first: those of one program, then of most days, which take least water, and evenest gaps
	lookedBy = 50_000  // again, when better cuts are known
	lookMost = 30      // patterns at least
)

// looked is those patterns that a yard of so many zones is asked of.
func looked(all []*pattern, zones int) []*pattern {
	most := max(lookMost, lookedAt/max(zones*zones, 1))
	if len(all) <= most {
		return all
	}
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(x, y *pattern) int {
		if x.alone() != y.alone() {
			if x.alone() {
				return -1
			}
			return 1
		}
		return cmp.Or(y.days()-x.days(), x.uneven()-y.uneven())
	})
	return all[:most]
}

// alone reports whether there is one program.
func (p *pattern) alone() bool { return p.count[1]+p.count[2] == 0 }

// days is on how many something runs.
func (p *pattern) days() int { return p.count[0] + p.count[1] + p.count[2] }

// uneven is how far the gaps of the programs are from even, in days.
func (p *pattern) uneven() int {
	sum := 0
	for c, n := range p.count {
		if n > 0 {
			sum += p.longest[c] - p.shortest[c]
		}
	}
	return sum
}

// again is those of candidates near the least, the cheapest first, that are worth to be
// looked at again: so many of the cheapest, and the simplest of the others.
func again(near []*candidate, sure, zones int) []*candidate {
	most := max(lookMost, lookedBy/max(zones*zones, 1))
	if len(near) <= most {
		return near
	}
	rest := slices.Clone(near[sure:])
	slices.SortStableFunc(rest, func(x, y *candidate) int {
		return cmp.Or(x.visits-y.visits, x.programs-y.programs, x.days-y.days)
	})
	return slices.Concat(near[:sure], rest[:most-sure])
}
