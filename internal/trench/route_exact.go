package trench

import "math"

// mostJoined is how many pieces are joined exactly: the work goes with 3 to their
// power. Chosen.
const mostJoined = 7

// dreyfus joins pieces of a tree at the least cost, exactly, by the programme of
// Dreyfus and Wagner over sets of pieces: the cheapest tree that joins a set and
// ends at a place is two smaller ones that meet there, or one that ends at a
// neighbour. Trees are given up that cannot come to less than is asked, since what
// is left to join is at least as far away as its farthest piece.
type dreyfus struct {
	cost    [][]float64 // by set, by place
	from    [][]int32   // edge, or -2-set for two that meet, or -1 for a piece itself
	touched [][]int32
	far     [][]float64 // from every piece
	reached [][]int32
}

func (d *dreyfus) sized(sets, pieces, places int) {
	for len(d.cost) < sets {
		c, f := make([]float64, places), make([]int32, places)
		for i := range c {
			c[i] = math.Inf(1)
		}
		d.cost, d.from, d.touched = append(d.cost, c), append(d.from, f), append(d.touched, nil)
	}
	for len(d.far) < pieces {
		c := make([]float64, places)
		for i := range c {
			c[i] = math.Inf(1)
		}
		d.far, d.reached = append(d.far, c), append(d.reached, nil)
	}
}

func (d *dreyfus) clear() {
	for k, list := range d.touched {
		for _, n := range list {
			d.cost[k][n] = math.Inf(1)
		}
		d.touched[k] = list[:0]
	}
	for k, list := range d.reached {
		for _, n := range list {
			d.far[k][n] = math.Inf(1)
		}
		d.reached[k] = list[:0]
	}
}

func (d *dreyfus) set(k int, n int32, cost float64, from int32) {
	if math.IsInf(d.cost[k][n], 1) {
		d.touched[k] = append(d.touched[k], n)
	}
	d.cost[k][n], d.from[k][n] = cost, from
}

// join is the cheapest set of edges that joins pieces, each some places that hang
// together; ok is false when none costs less than most.
func (s *seeker) join(pieces [][]int32, most float64) (edges []int32, cost float64, ok bool) {
	if len(pieces) < 2 {
		return nil, 0, true
	}
	if len(pieces) == 2 {
		return s.joinTwo(pieces, most)
	}
	d := &s.exact
	last := len(pieces) - 1
	full := 1<<last - 1
	d.sized(full+1, len(pieces), len(s.g.at))
	defer d.clear()
	for i, piece := range pieces {
		s.fresh()
		for _, n := range piece {
			s.from(n, 0)
		}
		for {
			n, ok := s.next(most)
			if !ok {
				break
			}
			d.far[i][n] = s.dist[n]
			d.reached[i] = append(d.reached[i], n)
			if i < last {
				d.set(1<<i, n, s.dist[n], s.via[n])
			}
			s.on(n, most)
		}
	}
	rest := func(set int, n int32) float64 {
		far := d.far[last][n]
		for i := range last {
			if set&(1<<i) == 0 {
				far = max(far, d.far[i][n])
			}
		}
		return far
	}
	best, at := most, int32(-1)
	for set := 3; set <= full; set++ {
		if set&(set-1) == 0 {
			continue
		}
		low := set & -set
		for sub := (set - 1) & set; sub > 0; sub = (sub - 1) & set {
			if sub&low == 0 {
				continue
			}
			other := set ^ sub
			list := d.touched[sub]
			if len(d.touched[other]) < len(list) {
				list = d.touched[other]
			}
			for _, n := range list {
				c := d.cost[sub][n] + d.cost[other][n]
				if c < d.cost[set][n] && c+rest(set, n) < best {
					d.set(set, n, c, int32(-2-sub))
				}
			}
		}
		if set == full {
			for _, n := range d.touched[full] {
				if c := d.cost[full][n] + d.far[last][n]; c < best || c == best && at >= 0 && n < at {
					best, at = c, n
				}
			}
			break
		}
		s.spread(set, best, rest)
	}
	if at < 0 {
		return nil, 0, false
	}
	edges = d.trace(s.g, full, at, nil)
	return d.back(s, pieces[last], at, edges), best, true
}

// spread carries the trees of a set on from place to place.
func (s *seeker) spread(set int, most float64, rest func(set int, n int32) float64) {
	d := &s.exact
	s.fresh()
	for _, n := range d.touched[set] {
		s.seen[n], s.dist[n], s.via[n] = s.round, d.cost[set][n], -1
		s.push(tip{d.cost[set][n], n})
	}
	for {
		n, ok := s.next(most)
		if !ok {
			return
		}
		if s.dist[n]+rest(set, n) >= most {
			continue
		}
		if s.via[n] >= 0 {
			d.set(set, n, s.dist[n], s.via[n])
		}
		s.on(n, most)
	}
}

// trace gathers the edges of the tree of a set that ends at a place.
func (d *dreyfus) trace(g *roads, set int, n int32, edges []int32) []int32 {
	for {
		switch from := d.from[set][n]; {
		case from == -1:
			return edges
		case from < -1:
			sub := int(-2 - from)
			edges = d.trace(g, sub, n, edges)
			set ^= sub
		default:
			edges = append(edges, from)
			n = g.other(from, n)
		}
	}
}

// back adds the way from a place to the last piece.
func (d *dreyfus) back(s *seeker, piece []int32, at int32, edges []int32) []int32 {
	s.fresh()
	for _, n := range piece {
		s.from(n, 0)
	}
	for {
		n, ok := s.next(math.Inf(1))
		if !ok || n == at {
			break
		}
		s.on(n, math.Inf(1))
	}
	for n := at; s.via[n] >= 0; n = s.g.other(s.via[n], n) {
		edges = append(edges, s.via[n])
	}
	return edges
}

func (s *seeker) joinTwo(pieces [][]int32, most float64) (edges []int32, cost float64, ok bool) {
	goal := map[int32]bool{}
	for _, n := range pieces[1] {
		goal[n] = true
	}
	s.fresh()
	for _, n := range pieces[0] {
		s.from(n, 0)
	}
	for {
		n, ok := s.next(most)
		if !ok {
			return nil, 0, false
		}
		if goal[n] {
			cost = s.dist[n]
			for ; s.via[n] >= 0; n = s.g.other(s.via[n], n) {
				edges = append(edges, s.via[n])
			}
			return edges, cost, true
		}
		s.on(n, most)
	}
}
