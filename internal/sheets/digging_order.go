package sheets

import (
	"cmp"
	"container/heap"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// arrange turns every stretch away from the point of connection and puts them in the
// order of digging: of those of one pipe on from where the last one ended, else the one
// that starts nearest to the point of connection.
func (w *walk) arrange() {
	far := w.fromSource()
	first := func(s *joined) int { return w.of(s.spots[0]) }
	last := func(s *joined) int { return w.of(s.spots[len(s.spots)-1]) }
	for i := range w.stretches {
		if s := &w.stretches[i]; far[last(s)] < far[first(s)] {
			slices.Reverse(s.pieces)
			slices.Reverse(s.spots)
			slices.Reverse(s.Of)
		}
	}
	out := make([]joined, 0, len(w.stretches))
	for from := 0; from < len(w.stretches); {
		to := from
		for to < len(w.stretches) && w.stretches[to].order == w.stretches[from].order {
			to++
		}
		group := w.stretches[from:to]
		slices.SortStableFunc(group, func(a, b joined) int { return cmp.Compare(far[first(&a)], far[first(&b)]) })
		starting := map[int][]int{}
		for i := range group {
			starting[first(&group[i])] = append(starting[first(&group[i])], i)
		}
		done, next := make([]bool, len(group)), 0
		for at := -1; len(out) < to; {
			pick := -1
			for _, i := range starting[at] {
				if !done[i] {
					pick = i
					break
				}
			}
			if pick < 0 {
				for done[next] {
					next++
				}
				pick = next
			}
			done[pick] = true
			out = append(out, group[pick])
			at = last(&group[pick])
		}
		from = to
	}
	w.stretches = out
}

// fromSource is how far every spot is from the point of connection along what is dug;
// without one from the first spot.
func (w *walk) fromSource() []float64 {
	far := make([]float64, len(w.spots))
	for k := range far {
		far[k] = math.Inf(1)
	}
	at := make([][]int, len(w.spots))
	for k := range w.pieces {
		for _, e := range w.pieces[k].ends {
			at[w.of(e)] = append(at[w.of(e)], k)
		}
	}
	var q reached
	for k := range w.spots {
		if slices.ContainsFunc(w.spots[k].stands, func(s standing) bool { return s.rank == 0 }) {
			q = append(q, reach{0, w.of(k)})
		}
	}
	if len(q) == 0 && len(w.spots) > 0 {
		q = append(q, reach{0, w.of(0)})
	}
	for len(q) > 0 {
		r := heap.Pop(&q).(reach)
		if r.far >= far[r.spot] {
			continue
		}
		far[r.spot] = r.far
		for _, k := range at[r.spot] {
			heap.Push(&q, reach{r.far + float64(w.d.Segments[w.pieces[k].segment].Length), w.of(w.farEnd(k, r.spot))})
		}
	}
	return far
}

// reach is a spot with the length of the way to it.
type reach struct {
	far  float64
	spot int
}

type reached []reach

func (q reached) Len() int { return len(q) }
func (q reached) Less(i, j int) bool {
	return q[i].far < q[j].far || q[i].far == q[j].far && q[i].spot < q[j].spot
}
func (q reached) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *reached) Push(x any)   { *q = append(*q, x.(reach)) }
func (q *reached) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// name names the points and tells the stretches by them.
func (w *walk) name() *Digging {
	marked, bends := w.stops()
	g := &Digging{Short: w.short}
	point := map[int]int{}
	w.meet = make([]int, len(w.spots))
	for k := range w.pieces {
		for _, e := range w.pieces[k].ends {
			if !w.pieces[k].short {
				w.meet[w.of(e)]++
			}
		}
	}
	names := map[string]bool{}
	number := 0
	named := func(spot int) int {
		if k, ok := point[spot]; ok {
			return k
		}
		v := DigPoint{At: w.spots[spot].at, Where: w.where(spot, bends[spot]), Joint: len(w.spots[spot].stands) > 1}
		stands := slices.Clone(w.spots[spot].stands)
		slices.SortStableFunc(stands, func(a, b standing) int { return cmp.Compare(a.rank, b.rank) })
		if len(stands) > 0 && stands[0].name != "" && !names[stands[0].name] && !strings.ContainsAny(stands[0].name, ":;") && !strings.Contains(stands[0].name, " at ") {
			v.Name = stands[0].name
		} else {
			for v.Name == "" || names[v.Name] {
				number++
				v.Name, v.Drawn = fmt.Sprintf("T%d", number), true
			}
		}
		names[v.Name] = true
		point[spot] = len(g.Points)
		g.Points = append(g.Points, v)
		return point[spot]
	}
	for i := range w.stretches {
		s := &w.stretches[i]
		at := units.Feet(0)
		for k, raw := range s.spots {
			spot := w.of(raw)
			if k > 0 {
				at += w.d.Segments[w.pieces[s.pieces[k-1]].segment].Length
			}
			w.corner(s, k)
			if k == 0 || k == len(s.spots)-1 || marked[spot] > 1 || bends[spot] {
				s.Stops = append(s.Stops, Stop{named(spot), at})
			}
		}
		s.Number = i + 1
		g.Stretches = append(g.Stretches, s.Stretch)
	}
	return g
}

// corner adds a place of a stretch to its line.
func (w *walk) corner(s *joined, k int) {
	at := w.spots[s.spots[k]].at
	if n := len(s.Line); n == 0 || spanned(s.Line[n-1], at) > samePlace {
		s.Line = append(s.Line, at)
	}
}

// bendAt is how far a trench turns, in degrees, where it is worth a point of its own:
// as at the corners of paving.
const bendAt = cornerTurn

// stops counts what meets at every spot, more than one where it wants a name: the ends
// of stretches, several that come past, a thing that stands there; and says where a
// stretch turns.
func (w *walk) stops() (marked []int, bends []bool) {
	marked, bends = make([]int, len(w.spots)), make([]bool, len(w.spots))
	for i := range w.stretches {
		s := &w.stretches[i]
		for k, raw := range s.spots {
			spot := w.of(raw)
			marked[spot]++
			if k == 0 || k == len(s.spots)-1 || len(w.spots[spot].stands) > 0 {
				marked[spot]++
				continue
			}
			in, out := w.heading(s.pieces[k-1], w.endAt(s.pieces[k-1], spot)), w.heading(s.pieces[k], w.endAt(s.pieces[k], spot))
			if math.Pi-turned(in, out) > bendAt*math.Pi/180 {
				bends[spot] = true
			}
		}
	}
	return marked, bends
}

// where says in words where a spot is: what stands there, else from the nearest head.
func (w *walk) where(spot int, bends bool) string {
	if stands := w.spots[spot].stands; len(stands) > 0 {
		stands = slices.Clone(stands)
		slices.SortStableFunc(stands, func(a, b standing) int { return cmp.Compare(a.rank, b.rank) })
		var says []string
		for _, s := range stands {
			says = append(says, s.says)
		}
		return plan.Series(slices.Compact(says))
	}
	at := w.spots[spot].at
	for _, c := range w.d.Crossings {
		for _, e := range [2]orb.Point{c.From, c.To} {
			if spanned(e, at) <= 0.2 {
				return "edge of " + w.p.AreaName(c.Area) + ", " + w.p.Whereabouts(at)
			}
		}
	}
	switch {
	case w.meet[spot] > 2:
		return "branch, " + w.p.Whereabouts(at)
	case bends:
		return "bend, " + w.p.Whereabouts(at)
	}
	return w.p.Whereabouts(at)
}
