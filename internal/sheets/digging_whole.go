package sheets

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// whole makes one point of the ends of pieces between which a pipe goes from a trench
// of its own into another's beside it, and of the ends of pipes at their joint: they lie
// no farther apart than trenches are wide.
func (w *walk) whole() {
	width, _ := w.p.Figure(plan.TrenchWidth)
	reach := 2*width/12 + float64(Spade)
	ending := map[plan.ID][]int{} // spots by node
	for _, id := range plan.SortedIDs(w.p.Pipes) {
		v := w.p.Pipes[id]
		ends := w.looseEnds(w.pipes[id])
		for _, node := range []plan.ID{v.From, v.To} {
			n := w.p.Nodes[node]
			at := orb.Point{float64(n.X), float64(n.Y)}
			if k := w.nearest(at, ends, reach); k >= 0 {
				ending[node] = append(ending[node], ends[k])
				ends = slices.Delete(ends, k, k+1)
			}
		}
		w.pairUp(ends, reach)
	}
	for _, node := range plan.SortedIDs(w.p.Nodes) {
		for _, spot := range ending[node] {
			w.unite(ending[node][0], spot)
		}
	}
}

// looseEnds are the spots at which an odd number of some pieces end: the ends of their
// pipe, and where it leaves one trench for another.
func (w *walk) looseEnds(pieces []int) []int {
	times := map[int]int{}
	var order []int
	for _, k := range pieces {
		for _, e := range w.pieces[k].ends {
			if times[e]++; times[e] == 1 {
				order = append(order, e)
			}
		}
	}
	return slices.DeleteFunc(order, func(e int) bool { return times[e]%2 == 0 })
}

// nearest is which of some spots is nearest to a place within reach; -1 none.
func (w *walk) nearest(at orb.Point, spots []int, reach float64) int {
	best := -1
	for k, e := range spots {
		if far := spanned(w.spots[e].at, at); far <= reach && (best < 0 || far < spanned(w.spots[spots[best]].at, at)) {
			best = k
		}
	}
	return best
}

// pairUp unites ends with the nearest of the others, each with one.
func (w *walk) pairUp(ends []int, reach float64) {
	type pair struct {
		far  float64
		a, b int
	}
	var pairs []pair
	for i, a := range ends {
		for _, b := range ends[i+1:] {
			if far := spanned(w.spots[a].at, w.spots[b].at); far <= reach {
				pairs = append(pairs, pair{far, a, b})
			}
		}
	}
	slices.SortStableFunc(pairs, func(x, y pair) int { return cmp.Compare(x.far, y.far) })
	done := map[int]bool{}
	for _, v := range pairs {
		if !done[v.a] && !done[v.b] {
			done[v.a], done[v.b] = true, true
			w.unite(v.a, v.b)
		}
	}
}

// meetUp makes one point of spots that lie nearer to one another than a spade is wide,
// the nearest first, as where pipes of one trench part side by side. Two things that
// stand somewhere stay apart, and so do places farther apart than twice a spade.
func (w *walk) meetUp() {
	cells := map[[2]int][]int{}
	for k := range w.spots {
		c := cellOf(w.spots[k].at, float64(Spade))
		cells[c] = append(cells[c], k)
	}
	type pair struct {
		far  float64
		a, b int
	}
	var pairs []pair
	for a := range w.spots {
		c := cellOf(w.spots[a].at, float64(Spade))
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, b := range cells[[2]int{c[0] + dx, c[1] + dy}] {
					if far := spanned(w.spots[a].at, w.spots[b].at); a < b && far < float64(Spade) {
						pairs = append(pairs, pair{far, a, b})
					}
				}
			}
		}
	}
	slices.SortFunc(pairs, func(x, y pair) int {
		return cmp.Or(cmp.Compare(x.far, y.far), cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b))
	})
	for _, v := range pairs {
		a, b := w.of(v.a), w.of(v.b)
		within := w.spots[a].bound.Union(w.spots[b].bound)
		if a == b || spanned(within.Min, within.Max) > 2*float64(Spade) || len(w.spots[a].stands) > 0 && len(w.spots[b].stands) > 0 {
			continue
		}
		w.unite(a, b)
	}
}

// unite makes one point of two spots.
func (w *walk) unite(a, b int) {
	a, b = w.of(a), w.of(b)
	if a == b {
		return
	}
	if len(w.spots[b].stands) > 0 && len(w.spots[a].stands) == 0 {
		a, b = b, a
	}
	w.spots[b].into, w.spots[a].bound = a, w.spots[a].bound.Union(w.spots[b].bound)
	w.spots[a].stands = append(w.spots[a].stands, w.spots[b].stands...)
}
