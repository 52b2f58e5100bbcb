package zones

import "slices"

// The heads of a zone are matched when each one's own rate is within matched of
// the zone's (common practice, ±10 %; trade finding 1). The zone's rate is the
// middle of its heads', the lower of two in the middle, as coverage has it.
const matched = 0.10

const (
	// wide is the most that rates of one zone may differ, the fastest over the
	// slowest: a tenth to either side of the zone's.
	wide = (1 + matched) / (1 - matched)
	// narrow is the ratio within which heads match whichever of them are grouped.
	narrow = 1 + matched
	// rateSlack is what rounding may do to a rate.
	rateSlack = 1e-9
)

// unmatched counts the heads of a zone whose rates are off the zone's.
func unmatched(rates []float64) int {
	if len(rates) < 2 {
		return 0
	}
	slices.Sort(rates)
	middle, off := rates[(len(rates)-1)/2], 0
	for _, r := range rates {
		if r > middle*(1+matched+rateSlack) || r < middle*(1-matched-rateSlack) {
			off++
		}
	}
	return off
}

// classes parts rising rates into runs whose ratio is within most: the fewest
// runs, and of those the ones that spread least. It returns the first index of
// each run.
func classes(rising []float64, most float64) []int {
	type part struct {
		runs   int
		spread float64
		from   int
	}
	best := make([]part, len(rising)+1)
	for end := 1; end <= len(rising); end++ {
		best[end] = part{runs: len(rising) + 1}
		for from := end - 1; from >= 0; from-- {
			lo, hi := rising[from], rising[end-1]
			if hi > lo*most*(1+rateSlack) {
				break
			}
			spread := 0.0
			if lo > 0 {
				spread = hi/lo - 1
			}
			p := part{best[from].runs + 1, best[from].spread + spread, from}
			if p.runs < best[end].runs || p.runs == best[end].runs && p.spread < best[end].spread {
				best[end] = p
			}
		}
	}
	var starts []int
	for end := len(rising); end > 0; end = best[end].from {
		starts = append(starts, best[end].from)
	}
	slices.Reverse(starts)
	return starts
}
