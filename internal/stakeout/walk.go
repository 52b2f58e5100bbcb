package stakeout

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/quadtree"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// roundAbout is by how many feet a walk is longer where a building, wall, fence or hedge
// lies between. Chosen.
const roundAbout = 40.0

// walk is the order in which targets are walked to: a short walk, the nearest first and
// then mended by 2-opt, that stays on one side of a building or fence until it is done.
// A crew would not go zone by zone: zones lie in one another, and what takes time is the
// way round a fence and hooking tapes to other corners, not picking a flag out of a
// bundle that is sorted by its numbers.
func (w *work) walk(targets []Target) []int {
	r := &round{w: w, at: make([]orb.Point, len(targets))}
	for i, t := range targets {
		r.at[i] = t.At
	}
	r.grow()
	start, words := r.start(w.p)
	r.path = r.greedy(start)
	r.mend()
	if len(r.path) > 0 {
		w.s.Start = fmt.Sprintf("The walk begins at flag %s, %s.", targets[r.path[0]].Tag, words)
	}
	return r.path
}

// round is a walk in the making.
type round struct {
	w    *work
	at   []orb.Point
	tree *quadtree.Quadtree
	path []int
}

func (r *round) grow() {
	far := 2 * float64(units.MaxLength)
	r.tree = quadtree.New(orb.Bound{Min: orb.Point{-far, -far}, Max: orb.Point{far, far}})
	for i, at := range r.at {
		_ = r.tree.Add(planted{at, i}) // inside: no plan reaches farther
	}
}

// start is the target nearest to where the water comes from, which is mostly the street;
// without one that farthest to the south-west.
func (r *round) start(p *plan.Plan) (int, string) {
	best, least := 0, math.Inf(1)
	words := "nearest to the point of connection"
	if p.Supply.Connection == nil {
		words = "the farthest to the lower left on the plan"
	}
	for i, at := range r.at {
		d := at[0] + at[1]
		if c := p.Supply.Connection; c != nil {
			d = apart(at, orb.Point{float64(c.X), float64(c.Y)})
		}
		if d < least {
			best, least = i, d
		}
	}
	return best, words
}

// cost is the way from one target to another, in feet.
func (r *round) cost(i, k int) float64 {
	d := apart(r.at[i], r.at[k])
	if !r.w.g.walls.sees(r.at[i], r.at[k]) {
		d += roundAbout
	}
	return d
}

const (
	nextOf   = 8  // targets looked at for the next step
	sweeps   = 12 // of the mending, at most. Both chosen.
	hairFoot = 1e-9
)

// greedy goes to the nearest target each time.
func (r *round) greedy(start int) []int {
	path := []int{start}
	r.tree.Remove(planted{r.at[start], start}, same(start))
	for here := start; len(path) < len(r.at); {
		next, least := -1, math.Inf(1)
		for _, q := range nearest(r.tree, r.at[here], nextOf, math.Inf(1)) {
			if apart(q.at, r.at[here]) >= least {
				break
			}
			if c := r.cost(here, q.i); c < least {
				next, least = q.i, c
			}
		}
		if next < 0 {
			break
		}
		r.tree.Remove(planted{r.at[next], next}, same(next))
		path = append(path, next)
		here = next
	}
	return path
}

func same(i int) quadtree.FilterFunc {
	return func(p orb.Pointer) bool { return p.(planted).i == i }
}

// mend turns parts of the path round while that shortens it, looking at the nearest
// neighbours of each place. The first stays where it is.
func (r *round) mend() {
	n := len(r.path)
	if n < 4 {
		return
	}
	r.grow()
	where := make([]int, len(r.at))
	for k, i := range r.path {
		where[i] = k
	}
	near := make([][]planted, len(r.at))
	for i, at := range r.at {
		near[i] = nearest(r.tree, at, nextOf+1, math.Inf(1))
	}
	for range sweeps {
		if !r.sweep(near, where) {
			return
		}
	}
}

// sweep looks once at every place of the path for a part that is better walked the
// other way: one that makes the place before it, or the place it ends at, follow a near
// one.
func (r *round) sweep(near [][]planted, where []int) bool {
	n, better := len(r.path), false
	for k := range n - 1 {
		now := r.cost(r.path[k], r.path[k+1])
		for _, side := range [2]int{0, 1} {
			a := r.path[k+side]
			for _, q := range near[a] {
				if apart(r.at[a], q.at) >= now {
					break
				}
				// Two steps, from i and from m, become one from i to m and one from what
				// followed i to what followed m.
				i, m := k, where[q.i]-side
				if i > m {
					i, m = m, i
				}
				if i >= 0 && m > i+1 && r.gain(i, m) > hairFoot {
					r.turn(i+1, m, where)
					better = true
					break
				}
			}
			if now = r.cost(r.path[k], r.path[k+1]); a != r.path[k+side] {
				break
			}
		}
	}
	return better
}

// gain is by how much the path is shorter with the part from i+1 to m turned round.
func (r *round) gain(i, m int) float64 {
	a, b, c := r.path[i], r.path[i+1], r.path[m]
	gain := r.cost(a, b) - r.cost(a, c)
	if m+1 < len(r.path) {
		next := r.path[m+1]
		gain += r.cost(c, next) - r.cost(b, next)
	}
	return gain
}

func (r *round) turn(i, k int, where []int) {
	for ; i < k; i, k = i+1, k-1 {
		r.path[i], r.path[k] = r.path[k], r.path[i]
		where[r.path[i]], where[r.path[k]] = i, k
	}
	where[r.path[i]] = i
}
