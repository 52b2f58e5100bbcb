package trench

import (
	"math"
	"slices"
)

// seeker finds trees in the graph by weights of its edges.
type seeker struct {
	g      *roads
	w      []float64 // of every edge; +Inf: not to be used
	dist   []float64
	via    []int32 // edge a place was reached by; -1: it was begun from
	seen   []uint32
	done   []uint32
	round  uint32
	queue  []tip
	looked int // places settled
	exact  dreyfus
}

// tip is a place on the way to being settled.
type tip struct {
	far float64
	n   int32
}

func newSeeker(g *roads) *seeker {
	n := len(g.at)
	return &seeker{g: g, w: make([]float64, len(g.ends)), dist: make([]float64, n), via: make([]int32, n), seen: make([]uint32, n), done: make([]uint32, n)}
}

// fresh forgets what was reached.
func (s *seeker) fresh() {
	s.round++
	s.queue = s.queue[:0]
}

// from begins at a place, so far from the start.
func (s *seeker) from(n int32, far float64) {
	if s.seen[n] == s.round && s.dist[n] <= far {
		return
	}
	s.seen[n], s.dist[n], s.via[n] = s.round, far, -1
	s.push(tip{far, n})
}

// next settles the nearest place not settled yet and reaches on from it; ok is
// false when there is none nearer than most.
func (s *seeker) next(most float64) (n int32, ok bool) {
	for len(s.queue) > 0 {
		r := s.pop()
		if s.done[r.n] == s.round || r.far > s.dist[r.n] {
			continue
		}
		if r.far >= most {
			return 0, false
		}
		s.done[r.n] = s.round
		s.looked++
		return r.n, true
	}
	return 0, false
}

// on reaches on from a settled place.
func (s *seeker) on(n int32, most float64) {
	far := s.dist[n]
	for _, e := range s.g.edgesAt(n) {
		d := far + s.w[e]
		if d >= most {
			continue
		}
		to := s.g.other(e, n)
		if s.done[to] == s.round || s.seen[to] == s.round && s.dist[to] <= d {
			continue
		}
		s.seen[to], s.dist[to], s.via[to] = s.round, d, e
		s.push(tip{d, to})
	}
}

func (s *seeker) push(r tip) {
	s.queue = append(s.queue, r)
	i := len(s.queue) - 1
	for i > 0 {
		up := (i - 1) / 4
		if !before(s.queue[i], s.queue[up]) {
			return
		}
		s.queue[i], s.queue[up] = s.queue[up], s.queue[i]
		i = up
	}
}

func (s *seeker) pop() tip {
	top := s.queue[0]
	last := len(s.queue) - 1
	s.queue[0] = s.queue[last]
	s.queue = s.queue[:last]
	for i := 0; ; {
		least := i
		for c := 4*i + 1; c <= min(4*i+4, last-1); c++ {
			if before(s.queue[c], s.queue[least]) {
				least = c
			}
		}
		if least == i {
			return top
		}
		s.queue[i], s.queue[least] = s.queue[least], s.queue[i]
		i = least
	}
}

// before orders by distance and then by place, so that no order of work shows.
func before(a, b tip) bool { return a.far < b.far || a.far == b.far && a.n < b.n }

// tree joins terminals by the heuristic of shortest paths, from one of them: again
// and again the nearest one by the shortest way from what is joined. It is at most
// twice as dear as the cheapest tree (Takahashi and Matsuyama). Terminals no way
// leads to are left out.
func (s *seeker) tree(root int32, terms []int32) []int32 {
	wanted := map[int32]bool{}
	for _, t := range terms {
		wanted[t] = true
	}
	delete(wanted, root)
	joined := []int32{root}
	var edges []int32
	for len(wanted) > 0 {
		s.fresh()
		for _, n := range joined {
			s.from(n, 0)
		}
		found := int32(-1)
		for {
			n, ok := s.next(math.Inf(1))
			if !ok {
				break
			}
			if wanted[n] {
				found = n
				break
			}
			s.on(n, math.Inf(1))
		}
		if found < 0 {
			break
		}
		delete(wanted, found)
		for n := found; s.via[n] >= 0; n = s.g.other(s.via[n], n) {
			joined = append(joined, n)
			edges = append(edges, s.via[n])
			delete(wanted, n)
		}
	}
	return s.pruned(edges, terms)
}

// all is how far every place is from one, by edges of a set, or by all of them.
func (s *seeker) all(from int32, by map[int32]bool) []float64 {
	out := make([]float64, len(s.g.at))
	for n := range out {
		out[n] = math.Inf(1)
	}
	if by != nil {
		kept := s.w
		s.w = make([]float64, len(kept))
		for e := range s.w {
			if s.w[e] = math.Inf(1); by[int32(e)] {
				s.w[e] = kept[e]
			}
		}
		defer func() { s.w = kept }()
	}
	s.fresh()
	s.from(from, 0)
	for {
		n, ok := s.next(math.Inf(1))
		if !ok {
			return out
		}
		out[n] = s.dist[n]
		s.on(n, math.Inf(1))
	}
}

// pruned is the cheapest tree over the places of some edges, by those edges, without
// the branches that lead to no terminal.
func (s *seeker) pruned(edges []int32, terms []int32) []int32 {
	edges = slices.Clone(edges)
	slices.SortFunc(edges, func(a, b int32) int {
		switch {
		case s.w[a] < s.w[b]:
			return -1
		case s.w[a] > s.w[b]:
			return 1
		}
		return int(a) - int(b)
	})
	u := map[int32]int32{}
	var find func(int32) int32
	find = func(n int32) int32 {
		if up, ok := u[n]; ok && up != n {
			up = find(up)
			u[n] = up
			return up
		}
		return n
	}
	degree := map[int32]int{}
	var kept []int32
	for i, e := range edges {
		if i > 0 && edges[i-1] == e {
			continue
		}
		a, b := find(s.g.ends[e][0]), find(s.g.ends[e][1])
		if a == b {
			continue
		}
		u[max(a, b)] = min(a, b)
		kept = append(kept, e)
		degree[s.g.ends[e][0]]++
		degree[s.g.ends[e][1]]++
	}
	for _, t := range terms {
		degree[t] += 2 // never a loose end
	}
	for again := true; again; {
		again = false
		kept = slices.DeleteFunc(kept, func(e int32) bool {
			a, b := s.g.ends[e][0], s.g.ends[e][1]
			if degree[a] > 1 && degree[b] > 1 {
				return false
			}
			degree[a]--
			degree[b]--
			again = true
			return true
		})
	}
	slices.Sort(kept)
	return kept
}

func (s *seeker) weight(edges []int32) float64 {
	sum := 0.0
	for _, e := range edges {
		sum += s.w[e]
	}
	return sum
}
