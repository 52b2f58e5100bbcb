package zones

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

const (
	// grain is what flows are counted in, gpm: sums are then exact.
	grain = 1e-4
	// hundredths of a foot are what lengths are counted in.
	hundredth = 100
	// pieceCost is what each area costs that a zone has a part of, in hundredths of a
	// foot: an area is cut only where that saves more pipe. Chosen, longer than the gap
	// between two heads of the longest throw, so that one gap saved cuts no area.
	pieceCost = 50 * hundredth
	// compactStep is what compact zones are told apart by, in hundredths of a foot:
	// what is less is nothing against equal flows. Chosen.
	compactStep = 5 * hundredth
	// evenStep is what equal flows are told apart by, in grains: 0.25 gpm. Chosen.
	evenStep = 2500
	// roundHouse is how much longer a pipe is taken to be that a building is in the way
	// of. Chosen.
	roundHouse = 2.0
	// mostTabled is how many heads have all their distances kept.
	mostTabled = 1200
)

// item is a head in a question.
type item struct {
	at   orb.Point
	flow int // grains
	rate float64
	area int
	seed int // the zone that it stays in, among the first; -1: it may go anywhere
}

// question is how to share heads of one key among zones. The first zones have
// heads that stay.
type question struct {
	items  []item
	seeds  int
	limit  int  // grains a zone may take
	least  int  // grains under which valve or pump do not work surely
	rated  bool // not every choice of these heads is matched
	even   bool // equal flows before compact zones
	walls  []geom.Segment
	table  []int32 // distances
	near   [][]int32
	looked int // evaluations made
}

// prepare works out what every grouping is judged by.
func (q *question) prepare() {
	n := len(q.items)
	if n <= mostTabled {
		q.table = make([]int32, n*n)
		for i := range n {
			for j := range i {
				d := q.measure(i, j)
				q.table[i*n+j], q.table[j*n+i] = d, d
			}
		}
	}
	q.near = make([][]int32, n)
	for i := range n {
		q.near[i] = q.beside(i)
	}
}

// nearest is how many heads a head has for neighbours. Chosen.
const nearest = 8

// beside are the items nearest to one as the crow flies, by distance, then index.
func (q *question) beside(i int) []int32 {
	var at [nearest]int32
	var away [nearest]float64
	n := 0
	for j := range q.items {
		if j == i {
			continue
		}
		d := gap(q.items[i].at, q.items[j].at)
		if n == nearest && d >= away[n-1] {
			continue
		}
		n = min(n+1, nearest)
		k := n - 1
		for ; k > 0 && away[k-1] > d; k-- {
			at[k], away[k] = at[k-1], away[k-1]
		}
		at[k], away[k] = int32(j), d
	}
	return slices.Clone(at[:n])
}

func (q *question) measure(i, j int) int32 {
	a, b := q.items[i].at, q.items[j].at
	d := gap(a, b)
	if crossed(a, b, q.walls) {
		d *= roundHouse
	}
	return int32(math.Round(min(d, 1e6) * hundredth))
}

func (q *question) apart(i, j int) int32 {
	if q.table != nil {
		return q.table[i*len(q.items)+j]
	}
	return q.measure(i, j)
}

// crossed reports whether the straight way between two places is crossed by one of
// the segments.
func crossed(a, b orb.Point, walls []geom.Segment) bool {
	turn := func(p, q, r orb.Point) float64 {
		return float64((q[0]-p[0])*(r[1]-p[1])) - float64((q[1]-p[1])*(r[0]-p[0]))
	}
	for _, w := range walls {
		if turn(a, b, w.A)*turn(a, b, w.B) < 0 && turn(w.A, w.B, a)*turn(w.A, w.B, b) < 0 {
			return true
		}
	}
	return false
}

// tree is the length of the shortest tree that joins the items, in hundredths of a
// foot (Prim's method).
func (q *question) tree(of []int32) int {
	if len(of) < 2 {
		return 0
	}
	var room [64]int32
	least := room[:0]
	if len(of) > len(room) {
		least = make([]int32, 0, len(of))
	}
	var order [64]int32
	rest := append(order[:0], of[1:]...)
	for _, j := range rest {
		least = append(least, q.apart(int(of[0]), int(j)))
	}
	sum := 0
	for len(rest) > 0 {
		at := 0
		for k := range least {
			if least[k] < least[at] {
				at = k
			}
		}
		sum += int(least[at])
		i := int(rest[at])
		last := len(rest) - 1
		rest[at], least[at] = rest[last], least[last]
		rest, least = rest[:last], least[:last]
		for k, j := range rest {
			least[k] = min(least[k], q.apart(i, int(j)))
		}
	}
	return sum
}

// zone is what one zone of a grouping comes to.
type zone struct {
	flow    int
	compact int // tree and pieces of areas
	off     int // heads off its rate
	heads   int
}

func (q *question) zone(of []int32) zone {
	z := zone{heads: len(of), compact: q.tree(of)}
	var areas [16]int
	seen := areas[:0]
	for _, i := range of {
		it := &q.items[i]
		z.flow += it.flow
		if !slices.Contains(seen, it.area) {
			seen = append(seen, it.area)
		}
	}
	z.compact += pieceCost * len(seen)
	if q.rated {
		rates := make([]float64, len(of))
		for k, i := range of {
			rates[k] = q.items[i].rate
		}
		z.off = unmatched(rates)
	}
	return z
}

// score is what a grouping is judged by, each before the next, the less the better:
// flow over the limit, heads off their rate, valves, zones under the least flow, the
// two aims, and what is left of each.
type score [8]int

func (a score) compare(b score) int { return slices.Compare(a[:], b[:]) }

// sound reports whether a grouping may be offered.
func (a score) sound() bool { return a[0] == 0 && a[1] == 0 }

const (
	valvesAt = 2
	underAt  = 3
)

func (q *question) score(zones []zone) score {
	var s score
	most, fewest, compact := 0, math.MaxInt, 0
	for _, z := range zones {
		if z.heads == 0 {
			continue
		}
		s[0] += max(z.flow-q.limit, 0)
		s[1] += z.off
		s[2]++
		if z.flow < q.least {
			s[3]++
		}
		compact += z.compact
		most, fewest = max(most, z.flow), min(fewest, z.flow)
	}
	spread := max(most-fewest, 0)
	aims := [2]int{(compact + compactStep/2) / compactStep, (spread + evenStep/2) / evenStep}
	rest := [2]int{compact, spread}
	if q.even {
		aims[0], aims[1] = aims[1], aims[0]
		rest[0], rest[1] = rest[1], rest[0]
	}
	s[4], s[5], s[6], s[7] = aims[0], aims[1], rest[0], rest[1]
	return s
}

// judge is the score of a grouping: the zone of each item.
func (q *question) judge(in []int) score {
	q.looked++
	return q.score(q.zones(in))
}

func (q *question) zones(in []int) []zone {
	lists := members(in, q.seeds)
	out := make([]zone, len(lists))
	for k, of := range lists {
		out[k] = q.zone(of)
	}
	return out
}

// members are the items of each zone, at least so many zones.
func members(in []int, least int) [][]int32 {
	n := least
	for _, z := range in {
		n = max(n, z+1)
	}
	lists := make([][]int32, n)
	for i, z := range in {
		lists[z] = append(lists[z], int32(i))
	}
	return lists
}
