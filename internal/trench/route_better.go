package trench

import (
	"context"
	"slices"
)

// worth is the least saving that a change is made for: below it is rounding.
const worth = 1e-7

// shape is a tree as its key places and the paths between them. A key place is a
// terminal, or one where the tree branches.
type shape struct {
	paths [][]int32 // edges
	ends  [][2]int32
	at    map[int32][]int // paths by key place
	keys  []int32         // in rising order
}

func (s *seeker) shapeOf(tree []int32, isTerm map[int32]bool) *shape {
	at := map[int32][]int32{}
	for _, e := range tree {
		for _, n := range s.g.ends[e] {
			at[n] = append(at[n], e)
		}
	}
	h := &shape{at: map[int32][]int{}}
	key := func(n int32) bool { return isTerm[n] || len(at[n]) != 2 }
	for n := range at {
		if key(n) {
			h.keys = append(h.keys, n)
		}
	}
	slices.Sort(h.keys)
	begun := map[int32]bool{}
	for _, n := range h.keys {
		for _, e := range at[n] {
			if begun[e] {
				continue
			}
			path, from := []int32{e}, n
			begun[e] = true
			to := s.g.other(e, from)
			for !key(to) {
				next := at[to][0]
				if next == e {
					next = at[to][1]
				}
				begun[next] = true
				path = append(path, next)
				e, to = next, s.g.other(next, to)
			}
			h.at[n] = append(h.at[n], len(h.paths))
			h.at[to] = append(h.at[to], len(h.paths))
			h.paths, h.ends = append(h.paths, path), append(h.ends, [2]int32{n, to})
		}
	}
	return h
}

// better lowers the weight of a tree until nothing helps: a part of it is taken out
// - one path, all at a key place, all at two that are joined - and what falls apart
// is joined again at the least cost, exactly.
func (s *seeker) better(ctx context.Context, tree, terms []int32, most int) []int32 {
	isTerm := map[int32]bool{}
	for _, t := range terms {
		isTerm[t] = true
	}
	stop := s.looked + most
	for again := true; again; {
		again = false
		h := s.shapeOf(tree, isTerm)
		for _, out := range h.parts() {
			if ctx.Err() != nil || s.looked > stop {
				return tree
			}
			if next, ok := s.replaced(h, out, tree, terms, isTerm); ok {
				tree, again = next, true
				break
			}
		}
	}
	return tree
}

// mostWhole is how many ends a net may have to be sought exactly in the trenches of
// the others, as a whole. Chosen: it takes 3 to this power times as long as a part.
const mostWhole = 10

// whole is the cheapest tree of a net of few ends, where it costs less than most.
func (s *seeker) whole(n *net, most float64) ([]int32, bool) {
	var pieces [][]int32
	for _, t := range n.terms {
		if !n.blocked[t] {
			pieces = append(pieces, []int32{t})
		}
	}
	if len(pieces) < 2 || len(pieces) > mostWhole {
		return nil, false
	}
	edges, _, ok := s.join(pieces, most)
	if !ok {
		return nil, false
	}
	return s.pruned(edges, n.terms), true
}

// parts are sets of paths to take out, small ones first.
func (h *shape) parts() [][]int {
	var out [][]int
	for i := range h.paths {
		out = append(out, []int{i})
	}
	for _, n := range h.keys {
		if p := h.at[n]; len(p) > 1 {
			out = append(out, p)
		}
	}
	for i, e := range h.ends {
		both := slices.Concat(h.at[e[0]], h.at[e[1]])
		slices.Sort(both)
		if both = slices.Compact(both); len(both) > 2 && len(both) <= mostJoined {
			out = append(out, both)
		}
		_ = i
	}
	return out
}

// replaced is a tree without some paths, joined again for less.
func (s *seeker) replaced(h *shape, out []int, tree, terms []int32, isTerm map[int32]bool) ([]int32, bool) {
	gone := map[int32]bool{}
	removed := 0.0
	var touched []int32
	for _, i := range out {
		for _, e := range h.paths[i] {
			gone[e] = true
			removed += s.w[e]
		}
		touched = append(touched, h.ends[i][0], h.ends[i][1])
	}
	if removed <= worth {
		return nil, false
	}
	rest := make([]int32, 0, len(tree))
	at := map[int32][]int32{}
	for _, e := range tree {
		if !gone[e] {
			rest = append(rest, e)
			for _, n := range s.g.ends[e] {
				at[n] = append(at[n], e)
			}
		}
	}
	slices.Sort(touched)
	touched = slices.Compact(touched)
	in := map[int32]bool{}
	var pieces [][]int32
	for _, n := range touched {
		if in[n] || !isTerm[n] && len(at[n]) == 0 {
			continue
		}
		piece := []int32{n}
		in[n] = true
		for i := 0; i < len(piece); i++ {
			for _, e := range at[piece[i]] {
				if to := s.g.other(e, piece[i]); !in[to] {
					in[to] = true
					piece = append(piece, to)
				}
			}
		}
		pieces = append(pieces, piece)
	}
	if len(pieces) > mostJoined {
		return nil, false
	}
	edges, cost, ok := s.join(pieces, removed-worth)
	if !ok || cost >= removed-worth {
		return nil, false
	}
	next := s.pruned(slices.Concat(rest, edges), terms)
	if s.weight(next) >= s.weight(tree)-worth {
		return nil, false
	}
	return next, true
}
