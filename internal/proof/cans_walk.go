package proof

import (
	"cmp"
	"math"
	"slices"
)

// walked puts sites in the order they are walked: row by row, there and back, from
// whichever corner makes the shortest way.
func walked(sites []site, along float64) []site {
	var best []site
	least := math.Inf(1)
	for _, turn := range []float64{0, 90} {
		for _, down := range []bool{false, true} {
			for _, back := range []bool{false, true} {
				w := byRows(sites, along+turn, down, back)
				if l := wayOf(w); l < least-1e-9 {
					best, least = w, l
				}
			}
		}
	}
	return best
}

// byRows sorts sites into rows that lie along a direction and joins them there and back.
func byRows(sites []site, along float64, down, back bool) []site {
	sin, cos := math.Sincos(along * math.Pi / 180)
	type placed struct {
		site
		u, v float64
		row  int
	}
	list := make([]placed, len(sites))
	low, high := math.Inf(1), math.Inf(-1)
	left, right := math.Inf(1), math.Inf(-1)
	for i, s := range sites {
		u, v := s.at[0]*cos+s.at[1]*sin, s.at[1]*cos-s.at[0]*sin
		list[i] = placed{s, u, v, 0}
		low, high = min(low, v), max(high, v)
		left, right = min(left, u), max(right, u)
	}
	// As many rows as cans of one distance both ways would stand in.
	apart := math.Sqrt(max((high-low+1)*(right-left+1), 1) / float64(len(sites)))
	slices.SortStableFunc(list, func(a, b placed) int { return cmp.Compare(a.v, b.v) })
	row, from := 0, low
	for i := range list {
		if list[i].v-from > 0.6*apart {
			row, from = row+1, list[i].v
		}
		list[i].row = row
	}
	slices.SortStableFunc(list, func(a, b placed) int {
		byRow, byPlace := cmp.Compare(a.row, b.row), cmp.Compare(a.u, b.u)
		if down {
			byRow = -byRow
		}
		if (a.row%2 == 1) != back {
			byPlace = -byPlace
		}
		return cmp.Or(byRow, byPlace)
	})
	out := make([]site, len(list))
	for i := range list {
		out[i] = list[i].site
	}
	return out
}

// wayOf is the length of a walk.
func wayOf(sites []site) float64 {
	sum := 0.0
	for i := 1; i < len(sites); i++ {
		sum += math.Hypot(sites[i].at[0]-sites[i-1].at[0], sites[i].at[1]-sites[i-1].at[1])
	}
	return sum
}
