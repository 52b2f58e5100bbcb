package zones

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// tour is an order in which to walk places from a start: always to the nearest that
// is left, then turned round piece by piece while that is shorter (2-opt, G. A.
// Croes, A method for solving traveling-salesman problems, Operations Research 6,
// 1958). The end is wherever the last one is. Equal choices go by index.
func tour(start orb.Point, at []orb.Point) []int {
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	from := start
	for k := range order {
		best := k
		for j := k + 1; j < len(order); j++ {
			a, b := gap(from, at[order[j]]), gap(from, at[order[best]])
			if a < b || a == b && order[j] < order[best] {
				best = j
			}
		}
		order[k], order[best] = order[best], order[k]
		from = at[order[k]]
	}
	place := func(k int) orb.Point {
		if k < 0 {
			return start
		}
		return at[order[k]]
	}
	const rounds, least = 20, 1e-6
	for range rounds {
		better := false
		for i := range order {
			for k := i + 1; k < len(order); k++ {
				was, is := gap(place(i-1), place(i)), gap(place(i-1), place(k))
				if k+1 < len(order) {
					was += gap(place(k), place(k+1))
					is += gap(place(i), place(k+1))
				}
				if is < was-least {
					slices.Reverse(order[i : k+1])
					better = true
				}
			}
		}
		if !better {
			break
		}
	}
	return order
}

func gap(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
