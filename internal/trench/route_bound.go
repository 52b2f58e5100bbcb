package trench

import (
	"context"
	"math"
)

// mostRaises is how often a bound is raised at most. Chosen: it holds however early
// raising stops.
const mostRaises = 20_000

// bound is a cost that no routes to these ends can be below, sharing and all, over
// the places of the graph: trenches once, and by the foot what lies in them. Boxes
// are not in it.
//
// It is a dual ascent (Wong) for all nets together. Each net's ends demand a way from
// where it begins; the demand of an end pays for the edges into the places that reach
// it, evenly, until one of them is paid up. A net's edge costs what the net itself
// adds by the foot, and beyond that a part of the trench, which all nets must
// divide: what they take of it together, each at the dearer of its two directions, is
// never more than it costs. So the payments are a feasible solution of the dual of
// the linear relaxation (cuts of each net, y ≤ x for each trench), and their sum lies
// below every integer solution.
type bound struct {
	j     *job
	left  []float64   // of each trench, not taken yet
	taken [][]float64 // of each trench, by net
	load  [][2][]float64
	foot  [][]float64 // what an edge costs its net by itself
	shut  [][]bool
	inset []uint32
	round uint32
	sum   float64
}

func (j *job) bound(ctx context.Context) float64 {
	edges := len(j.g.ends)
	b := &bound{j: j, left: make([]float64, edges), inset: make([]uint32, len(j.g.at))}
	copy(b.left, j.g.dig)
	type demand struct {
		k    int
		at   int32
		size int
		done bool
	}
	var demands []demand
	for k, n := range j.nets {
		used := j.used
		j.used = make([]int16, edges)
		for e := range j.used {
			j.used[e] = 1 // a trench is not the net's own
		}
		tubes := j.tubes
		j.tubes = nil // as if each had room: no dearer
		dear := n.dear
		n.dear = 1
		j.weigh(k)
		n.dear = dear
		j.used, j.tubes = used, tubes
		foot, shut := make([]float64, edges), make([]bool, edges)
		for e, w := range j.seek.w {
			foot[e], shut[e] = w, math.IsInf(w, 1)
			if j.g.indoors[e] && !shut[e] {
				foot[e] = float64(n.foot * j.g.length[e])
			}
		}
		b.foot, b.shut = append(b.foot, foot), append(b.shut, shut)
		b.taken = append(b.taken, make([]float64, edges))
		b.load = append(b.load, [2][]float64{make([]float64, edges), make([]float64, edges)})
		for _, t := range n.terms[1:] {
			if !n.blocked[t] {
				demands = append(demands, demand{k: k, at: t})
			}
		}
	}
	// The end that the fewest places reach pays next.
	for range mostRaises {
		best := -1
		for i := range demands {
			if !demands[i].done && (best < 0 || demands[i].size < demands[best].size) {
				best = i
			}
		}
		if best < 0 || ctx.Err() != nil {
			break
		}
		d := &demands[best]
		size, open := b.raise(d.k, d.at, j.nets[d.k].terms[0])
		d.size, d.done = size, !open
	}
	return max(0, b.sum-worth) + j.f.rates.box*float64(j.boxes())
}

// slack is what is still to be paid for going through an edge away from its end.
func (b *bound) slack(k int, e int32, dir int) float64 {
	return b.foot[k][e] + b.taken[k][e] + b.left[e] - b.load[k][dir][e]
}

// raise lets an end pay for the edges into the places that reach it; open is false
// once the place where its net begins does.
func (b *bound) raise(k int, at, root int32) (size int, open bool) {
	const paid = 1e-12
	b.round++
	g := b.j.g
	set := []int32{at}
	b.inset[at] = b.round
	least := math.Inf(1)
	type cut struct {
		e   int32
		dir int
	}
	var border []cut
	for i := 0; i < len(set); i++ {
		n := set[i]
		if n == root {
			return len(set), false
		}
		for _, e := range g.edgesAt(n) {
			if b.shut[k][e] {
				continue
			}
			from := g.other(e, n)
			if b.inset[from] == b.round {
				continue
			}
			dir := 0
			if g.ends[e][0] == n {
				dir = 1 // into its first end
			}
			if b.slack(k, e, dir) <= paid {
				b.inset[from] = b.round
				set = append(set, from)
				continue
			}
			border = append(border, cut{e, dir})
		}
	}
	for _, c := range border {
		if e := g.ends[c.e]; b.inset[e[0]] == b.round && b.inset[e[1]] == b.round {
			continue
		}
		least = min(least, b.slack(k, c.e, c.dir))
	}
	if math.IsInf(least, 1) {
		return len(set), false
	}
	for _, c := range border {
		if e := g.ends[c.e]; b.inset[e[0]] == b.round && b.inset[e[1]] == b.round {
			continue
		}
		load := &b.load[k][c.dir][c.e]
		*load += least
		if over := *load - b.foot[k][c.e] - b.taken[k][c.e]; over > 0 {
			over = min(over, b.left[c.e])
			b.taken[k][c.e] += over
			b.left[c.e] -= over
		}
		if b.slack(k, c.e, c.dir) < 1e-9 {
			*load = b.foot[k][c.e] + b.taken[k][c.e] + b.left[c.e]
		}
	}
	b.sum += least
	return len(set), true
}
