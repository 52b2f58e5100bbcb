package trench

import (
	"context"
	"math"
)

// mostScanned is how many edges are looked at for a bound at most. Chosen: it holds
// however early raising stops.
const mostScanned = 50_000_000

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
	inset []uint32 // the round in which a place reached its end
	round uint32
	sum   float64

	border  []toll
	scanned int
}

func (j *job) bound(ctx context.Context) float64 {
	edges := len(j.g.ends)
	b := &bound{j: j, left: make([]float64, edges), inset: make([]uint32, len(j.g.at))}
	copy(b.left, j.g.dig)
	type demand struct {
		k    int
		at   int32
		size int // places that reach it
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
				demands = append(demands, demand{k: k, at: t, size: 1})
			}
		}
	}
	// The end that the fewest places reach pays next, until twice as many do.
	for b.scanned < mostScanned {
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
		d.size, d.done = b.raise(d.k, d.at, j.nets[d.k].terms[0], 2*d.size)
	}
	return max(0, b.sum-worth) + j.boxCost()
}

// slack is what is still to be paid for going through an edge away from its end.
func (b *bound) slack(k int, e int32, dir int) float64 {
	return b.foot[k][e] + b.taken[k][e] + b.left[e] - b.load[k][dir][e]
}

// paid is how little is left to be paid that is nothing.
const paid = 1e-12

// toll is an edge into the places that reach an end; dir is 1 where it leads to the
// first of its ends.
type toll struct {
	e   int32
	dir int
}

// raise lets an end pay for the edges into the places that reach it, until more than
// most do, or the place where its net begins: then it is done.
func (b *bound) raise(k int, at, root int32, most int) (size int, done bool) {
	b.round++
	g := b.j.g
	set := []int32{at}
	b.inset[at] = b.round
	border := b.border[:0]
	defer func() { b.border = border }()
	for next := 0; ; {
		for ; next < len(set); next++ {
			n := set[next]
			if n == root {
				return len(set), true
			}
			for _, e := range g.edgesAt(n) {
				from := g.other(e, n)
				if b.shut[k][e] || b.inset[from] == b.round {
					continue
				}
				t := toll{e, 0}
				if g.ends[e][0] == n {
					t.dir = 1
				}
				if b.slack(k, e, t.dir) <= paid {
					b.inset[from] = b.round
					set = append(set, from)
				} else {
					border = append(border, t)
				}
			}
		}
		if len(set) > most {
			return len(set), false
		}
		least, kept := math.Inf(1), border[:0]
		for _, t := range border {
			if b.inset[g.ends[t.e][t.dir]] != b.round {
				kept = append(kept, t)
				least = min(least, b.slack(k, t.e, t.dir))
			}
		}
		border = kept
		b.scanned += len(border)
		if math.IsInf(least, 1) {
			return len(set), true
		}
		b.sum += least
		kept = border[:0]
		for _, t := range border {
			if b.pay(k, t, least); b.slack(k, t.e, t.dir) > paid {
				kept = append(kept, t)
			} else if from := g.ends[t.e][t.dir]; b.inset[from] != b.round {
				b.inset[from] = b.round
				set = append(set, from)
			}
		}
		border = kept
	}
}

// pay puts so much more on an edge; what its net does not hold by itself is taken of
// the trench.
func (b *bound) pay(k int, t toll, much float64) {
	load := &b.load[k][t.dir][t.e]
	*load += much
	if over := *load - b.foot[k][t.e] - b.taken[k][t.e]; over > 0 {
		over = min(over, b.left[t.e])
		b.taken[k][t.e] += over
		b.left[t.e] -= over
	}
	if s := b.slack(k, t.e, t.dir); s < 1e-9 {
		*load += s
	}
}
