package zones

import "slices"

// mostTried is how many groupings, begun or whole, an exact answer may look at.
const mostTried = 120_000

// few reports whether there are few enough ways to share items among zones for it
// to be worth while to begin trying them all.
func few(items, zones int) bool {
	ways := 1.0
	for i := range items {
		ways *= float64(min(i+1, zones))
	}
	for z := 2; z < zones; z++ {
		ways /= float64(z)
	}
	return ways <= 20*mostTried // limits cut most of them short
}

// exact tries every way to share the items among at most so many zones. done is
// false when there are more than mostTried, and the best of those looked at is
// answered; nil when none was sound.
func (q *question) exact(valves int) (best []int, least score, done bool) {
	e := &trial{q: q, valves: valves, in: make([]int, len(q.items)), lists: make([][]int32, valves), flows: make([]int, valves), left: mostTried}
	if valves < q.seeds {
		return nil, score{}, true
	}
	var free []int
	for i, it := range q.items {
		if it.seed >= 0 {
			e.add(i, it.seed)
		} else {
			free = append(free, i)
			e.rest += it.flow
		}
	}
	slices.SortStableFunc(free, func(a, b int) int { return q.items[b].flow - q.items[a].flow })
	e.free = free
	e.zones = make([]zone, valves)
	e.try(0, q.seeds)
	q.looked += mostTried - max(e.left, 0)
	return e.best, e.least, e.left > 0
}

type trial struct {
	q      *question
	valves int
	free   []int
	in     []int
	lists  [][]int32
	flows  []int
	rest   int // flow still to be placed
	zones  []zone
	best   []int
	least  score
	left   int
}

func (e *trial) add(i, z int) {
	e.in[i] = z
	e.lists[z] = append(e.lists[z], int32(i))
	e.flows[z] += e.q.items[i].flow
}

// try places the items from one on; open is how many zones have heads. A new zone
// is opened in one way only, since zones have no names.
func (e *trial) try(at, open int) {
	if e.left--; e.left <= 0 {
		return
	}
	room := 0
	for _, f := range e.flows {
		room += max(e.q.limit-f, 0)
	}
	if e.rest > room {
		return
	}
	if at == len(e.free) {
		for k, of := range e.lists {
			e.zones[k] = e.q.zone(of)
		}
		if s := e.q.score(e.zones); s.sound() && (e.best == nil || s.compare(e.least) < 0) {
			e.best, e.least = slices.Clone(e.in), s
		}
		return
	}
	i := e.free[at]
	f := e.q.items[i].flow
	e.rest -= f
	for z := range min(open+1, e.valves) {
		if e.flows[z]+f > e.q.limit {
			continue
		}
		e.add(i, z)
		e.try(at+1, max(open, z+1))
		e.lists[z] = e.lists[z][:len(e.lists[z])-1]
		e.flows[z] -= f
	}
	e.rest += f
}
