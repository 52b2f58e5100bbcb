package trench

import (
	"context"
	"math"
	"slices"
)

// What a search does at most. Chosen.
const (
	usualEffort = 60_000 // evaluations: each is one spread of ways from some places
	mostRounds  = 8      // that all nets are sought again in the trenches of the others
	startRoots  = 3      // ends that the tree of a net is begun from
)

// tube is a sleeve that is there, or is to stay: an edge of the graph.
type tube struct {
	ends  [2]int32
	edge  int32
	pipes int  // it has room for
	wire  bool // it takes wire
}

// weigh gives every edge its weight for a net: what the net adds, with the
// trenches of all others as they are.
func (j *job) weigh(k int) {
	n, w := j.nets[k], j.seek.w
	for e := range w {
		if j.g.indoors[e] {
			w[e] = math.Inf(1)
			if a := j.g.ends[e]; slices.Contains(n.terms, a[0]) || slices.Contains(n.terms, a[1]) {
				w[e] = j.g.dig[e] + float64(n.foot*j.g.length[e])
			}
			continue
		}
		w[e] = float64(n.foot * j.g.length[e])
		if j.used[e] == 0 {
			w[e] += j.g.dig[e]
		}
	}
	for _, l := range j.laid {
		for _, e := range l.edges {
			switch {
			case l.net == k:
				w[e] = 0
			case !l.sunk:
				w[e] = math.Inf(1)
			}
		}
	}
	for i, t := range j.tubes {
		if n.role == wireNet && !t.wire || n.role != wireNet && j.through(i) >= t.pipes {
			w[t.edge] = math.Inf(1)
		}
	}
}

// through is the number of pipes that go through a sleeve.
func (j *job) through(tube int) int {
	count := 0
	for _, n := range j.nets {
		if n.role != wireNet && slices.Contains(n.tree, j.tubes[tube].edge) {
			count++
		}
	}
	return count
}

func (j *job) use(tree []int32, by int16) {
	for _, e := range tree {
		j.used[e] += by
	}
}

// share seeks the tree of every net, again and again in the trenches of the others,
// until no net gains by another.
func (j *job) share(ctx context.Context, tell func(done, total int)) {
	order := make([]int, 0, len(j.nets))
	for k := range j.nets {
		order = append(order, k)
	}
	for round := range mostRounds {
		changed := false
		for i, k := range order {
			if ctx.Err() != nil {
				return
			}
			tell(round*len(order)+i, mostRounds*len(order))
			if j.again(ctx, k, round) {
				changed = true
			}
		}
		if !changed || j.seek.looked >= j.effort {
			return
		}
	}
}

// again seeks the tree of a net once more; true when it got a cheaper one.
func (j *job) again(ctx context.Context, k, round int) bool {
	n := j.nets[k]
	j.use(n.tree, -1)
	old := n.tree
	n.tree = nil
	j.weigh(k)
	was := math.Inf(1)
	if round > 0 {
		was = j.seek.weight(old)
	}
	best, cost := old, was
	left := j.effort - j.seek.looked
	try := func(tree []int32) {
		tree = j.seek.better(ctx, tree, n.terms, left)
		if c := j.seek.weight(tree); c < cost-worth {
			best, cost = tree, c
		}
	}
	if round > 0 {
		try(j.seek.pruned(old, n.terms))
	}
	if round < 2 {
		first := j.seek.tree(n.terms[0], n.terms)
		n.missing(j.g, first)
		try(first)
		for _, root := range j.roots(n, round)[1:] {
			try(j.seek.tree(root, n.terms))
		}
	}
	n.tree = best
	j.use(best, 1)
	return cost < was-worth
}

// roots are ends to begin a tree from: the first, the one farthest from it, and so on.
func (j *job) roots(n *net, round int) []int32 {
	out := []int32{n.terms[0]}
	for len(out) < min(startRoots, len(n.terms)) && round == 0 {
		far, at := -1.0, int32(-1)
		for _, t := range n.terms {
			if n.blocked[t] {
				continue
			}
			least := math.Inf(1)
			for _, o := range out {
				least = min(least, apart(j.g.at[t], j.g.at[o]))
			}
			if least > far {
				far, at = least, t
			}
		}
		if at < 0 || far == 0 {
			break
		}
		out = append(out, at)
	}
	return out
}

// missing notes the ends that a tree does not reach.
func (n *net) missing(g *roads, tree []int32) {
	in := map[int32]bool{n.terms[0]: true}
	for _, e := range tree {
		in[g.ends[e][0]], in[g.ends[e][1]] = true, true
	}
	n.blocked = map[int32]bool{}
	for _, t := range n.terms {
		if !in[t] {
			n.blocked[t] = true
		}
	}
}

// cost is what all nets come to: each trench once, and every foot that lies in one.
func (j *job) cost() float64 {
	sum := 0.0
	for e, n := range j.used {
		if n > 0 {
			sum += j.g.dig[e]
		}
	}
	for _, n := range j.nets {
		for _, e := range n.tree {
			sum += float64(n.foot * j.g.length[e])
		}
	}
	for k, n := range j.nets {
		for _, l := range j.laid {
			if l.net == k {
				for _, e := range l.edges {
					if slices.Contains(n.tree, e) {
						sum -= float64(n.foot * j.g.length[e])
					}
				}
			}
		}
	}
	return sum
}
