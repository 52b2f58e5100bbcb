package trench

import (
	"math"
)

// shorten makes pipe dearer for the laterals whose water goes a long way about in the
// trenches of others; false when none does.
func (j *job) shorten() bool {
	any := false
	for k, n := range j.nets {
		if n.role != lateral || n.dear > 6 || len(n.tree) == 0 {
			continue
		}
		j.weigh(k)
		for e, w := range j.seek.w {
			if !math.IsInf(w, 1) {
				j.seek.w[e] = j.g.length[e]
			}
		}
		shortest := j.seek.all(n.terms[0], nil)
		in := map[int32]bool{}
		for _, e := range n.tree {
			in[e] = true
		}
		drawn := j.seek.all(n.terms[0], in)
		for _, t := range n.terms {
			if !n.blocked[t] && drawn[t] > float64(detourShare*shortest[t])+detourFeet {
				n.dear *= dearer
				any = true
				break
			}
		}
	}
	return any
}

// roots are ends to begin a tree from: the first, the one farthest from it, and so on.
func (j *job) roots(n *net, most int) []int32 {
	out := []int32{n.terms[0]}
	for len(out) < min(most, len(n.terms)) {
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
func (j *job) cost() float64 { return j.sum(func(*net) float64 { return 1 }) }

// price is the same as the search sees it, with the pipe of some nets dearer.
func (j *job) price() float64 { return j.sum(func(n *net) float64 { return n.dear }) }

func (j *job) sum(dear func(*net) float64) float64 {
	sum := 0.0
	for e, n := range j.used {
		if n > 0 {
			sum += j.g.dig[e]
		}
	}
	for k, n := range j.nets {
		for _, e := range n.tree {
			if l := j.laidOf[e]; l < 0 || j.laid[l].net != k {
				sum += float64(n.foot * dear(n) * j.g.length[e])
			}
		}
	}
	return sum
}
