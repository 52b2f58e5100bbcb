package trench

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"
)

// What a search does at most. Chosen.
const (
	usualEffort  = 24_000 // evaluations: each is a hundred places that a way is found to
	anEvaluation = 100
	mostRounds   = 6    // that all nets are sought again in the trenches of the others
	startRoots   = 3    // ends that the tree of a net is begun from
	firstEase    = 0.7  // of a trench at first: other nets may come to share it
	pairReach    = 12.0 // feet: nets no farther apart are sought again together
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
	foot := float64(n.foot * n.dear)
	for e := range w {
		if j.g.indoors[e] {
			w[e] = math.Inf(1)
			if slices.Contains(n.terms, j.g.ends[e][0]) { // the end that is inside
				w[e] = j.g.dig[e] + float64(foot*j.g.length[e])
			}
			continue
		}
		w[e] = float64(foot * j.g.length[e])
		if j.used[e] == 0 {
			w[e] += float64(j.ease * j.g.dig[e])
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
// until no net gains by another; then nets that lie near one another two by two, as
// long as that helps and there is effort left.
func (j *job) share(ctx context.Context, tell func(done, total int)) {
	told := func() { tell(min(j.seek.looked, j.effort), j.effort) }
	all := make([]int, len(j.nets))
	for k := range all {
		all[k] = k
		j.nets[k].dear = 1
	}
	j.ease = firstEase
	for _, k := range all {
		if ctx.Err() != nil {
			return
		}
		j.again(ctx, k, 1, false)
		told()
	}
	j.ease = 1
	j.settled(ctx, all, 1, told)
	for range 5 {
		if j.pairs(ctx, told); !j.shorten() {
			break
		}
		j.settled(ctx, all, 0, told)
	}
	for _, k := range all {
		if ctx.Err() != nil {
			return
		}
		j.again(ctx, k, startRoots, true)
	}
}

// settled seeks nets again one after another until none gains.
func (j *job) settled(ctx context.Context, nets []int, roots int, told func()) {
	for round := range mostRounds {
		gained := false
		for _, k := range nets {
			if ctx.Err() != nil || round > 0 && j.seek.looked >= j.effort {
				return
			}
			if j.again(ctx, k, roots, true) {
				gained = true
			}
			told()
		}
		if !gained {
			return
		}
		roots = min(roots, 1)
	}
}

// pairs takes out two nets at a time and seeks both anew, the later first.
func (j *job) pairs(ctx context.Context, told func()) {
	r := rand.New(rand.NewPCG(j.o.Seed, 0x7e9c))
	var near [][2]int
	for a := range j.nets {
		for b := range j.nets {
			if a != b && j.near(a, b) {
				near = append(near, [2]int{a, b})
			}
		}
	}
	idle := 0
	for idle < len(near) {
		r.Shuffle(len(near), func(x, y int) { near[x], near[y] = near[y], near[x] })
		for _, q := range near {
			if ctx.Err() != nil || j.seek.looked >= j.effort {
				return
			}
			told()
			before, kept := j.price(), make([][]int32, len(j.nets))
			for k, n := range j.nets {
				kept[k] = n.tree
			}
			for _, k := range q {
				j.use(j.nets[k].tree, -1)
				j.nets[k].tree = nil
			}
			j.again(ctx, q[1], 1, false)
			j.again(ctx, q[0], 1, false)
			j.again(ctx, q[1], 0, true)
			if j.price() < before-worth {
				idle = 0
				continue
			}
			for k, n := range j.nets {
				j.use(n.tree, -1)
				n.tree = kept[k]
				j.use(n.tree, 1)
			}
			if idle++; idle >= len(near) {
				return
			}
		}
	}
}

// near reports whether two nets come near one another.
func (j *job) near(a, b int) bool {
	bound := func(k int) orb.Bound {
		at := j.g.at[j.nets[k].terms[0]]
		out := orb.Bound{Min: at, Max: at}
		for _, e := range j.nets[k].tree {
			out = out.Extend(j.g.at[j.g.ends[e][0]]).Extend(j.g.at[j.g.ends[e][1]])
		}
		return out
	}
	return bound(a).Pad(pairReach).Intersects(bound(b))
}

// again seeks the tree of a net once more, begun from some of its ends; true when it
// got a cheaper one. A tree it has is bettered, too.
func (j *job) again(ctx context.Context, k, roots int, had bool) bool {
	n := j.nets[k]
	j.use(n.tree, -1)
	j.weigh(k)
	best, was := n.tree, math.Inf(1)
	n.tree = nil
	if had {
		was = j.seek.weight(best)
	}
	cost := was
	left := max(j.effort-j.seek.looked, 1)
	try := func(tree []int32) {
		tree = j.seek.better(ctx, tree, n.terms, left)
		if c := j.seek.weight(tree); c < cost-worth {
			best, cost = tree, c
		}
	}
	if had {
		try(j.seek.pruned(best, n.terms))
	}
	if roots > 0 {
		first := j.seek.tree(n.terms[0], n.terms)
		n.missing(j.g, first)
		try(first)
		for _, root := range j.roots(n, roots)[1:] {
			try(j.seek.tree(root, n.terms))
		}
		if had && roots == startRoots {
			if tree, ok := j.seek.whole(n, cost); ok {
				try(tree)
			}
		}
	}
	n.tree = best
	j.use(best, 1)
	return cost < was-worth
}

// The longest way that water goes from its valve to a head, against the shortest
// there is: what is more costs pressure, which is not seen here. Chosen.
const (
	detourShare = 1.5
	detourFeet  = 20.0
	dearer      = 1.6 // the pipe of a net that goes farther, until it does not
)
