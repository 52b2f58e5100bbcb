package trench

import (
	"context"
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"
)

// cheapestTree is the least cost of a tree that joins terminals: a programme over
// all sets of terminals and all places, by relaxing every edge until nothing falls
// (Bellman and Ford). It shares nothing with the search but the weights.
func cheapestTree(g *roads, w []float64, terms []int32) float64 {
	root, rest := terms[len(terms)-1], terms[:len(terms)-1]
	best := make([][]float64, 1<<len(rest))
	for set := 1; set < len(best); set++ {
		row := make([]float64, len(g.at))
		for v := range row {
			row[v] = math.Inf(1)
		}
		if bits.OnesCount(uint(set)) == 1 {
			row[rest[bits.TrailingZeros(uint(set))]] = 0
		}
		for part := (set - 1) & set; part > 0; part = (part - 1) & set {
			for v := range row {
				row[v] = min(row[v], best[part][v]+best[set^part][v])
			}
		}
		for fell := true; fell; {
			fell = false
			for e, ends := range g.ends {
				a, b := ends[0], ends[1]
				if row[a]+w[e] < row[b]-1e-12 {
					row[b], fell = row[a]+w[e], true
				}
				if row[b]+w[e] < row[a]-1e-12 {
					row[a], fell = row[b]+w[e], true
				}
			}
		}
		best[set] = row
	}
	return best[len(best)-1][root]
}

// spanningLeast is the least tree over every choice of places to branch at: by going
// through all of them, with the cheapest spanning tree of each (Prim).
func spanningLeast(g *roads, w []float64, terms []int32) float64 {
	n := len(g.at)
	must := 0
	for _, t := range terms {
		must |= 1 << t
	}
	least := math.Inf(1)
	for set := range 1 << n {
		if set&must != must {
			continue
		}
		in, cost := 1<<terms[0], 0.0
		for in != set {
			step, to := math.Inf(1), -1
			for e, ends := range g.ends {
				a, b := int(ends[0]), int(ends[1])
				if set&(1<<a) == 0 || set&(1<<b) == 0 || (in>>a&1) == (in>>b&1) {
					continue
				}
				if w[e] < step {
					step, to = w[e], a
					if in>>a&1 == 1 {
						to = b
					}
				}
			}
			if to < 0 {
				cost = math.Inf(1)
				break
			}
			in, cost = in|1<<to, cost+step
		}
		least = min(least, cost)
	}
	return least
}

func weightsOf(j *job, k int) []float64 {
	j.ease = 1
	for i := range j.nets {
		j.nets[i].dear = 1
	}
	j.weigh(k)
	return append([]float64(nil), j.seek.w...)
}

// A net of up to ten ends is found within 1 % of the least there is, on yards drawn by
// chance.
func TestNetsOfFewEndsAreNearlyTheLeast(t *testing.T) {
	t.Parallel()
	worst, sum, n := 0.0, 0.0, 0
	for seed := range uint64(rounds(30, 300)) {
		p := drawnYard(t, yardOf(1000+seed, 3+int(seed%7), false))
		j, err := newJob(p, Options{}, newField(p), nil)
		if err != nil {
			t.Fatal(err)
		}
		for k, net := range j.nets {
			net.dear = 1
			if net.role != lateral || len(net.terms) > 10 {
				continue
			}
			w := weightsOf(j, k)
			if !j.again(context.Background(), k, startRoots, false) || len(net.blocked) > 0 {
				continue
			}
			j.again(context.Background(), k, startRoots, true)
			j.use(net.tree, -1)
			got, want := 0.0, cheapestTree(j.g, w, net.terms)
			for _, e := range net.tree {
				got += w[e]
			}
			net.tree = nil
			if got < want-1e-6 {
				t.Errorf("seed %d: %g is below the least, %g", seed, got, want)
			}
			worst, sum, n = max(worst, got/want-1), sum+got/want-1, n+1
			if got > 1.01*want {
				t.Errorf("seed %d, %d ends: %g, and the least is %g", seed, len(net.terms), got, want)
			}
		}
	}
	if n < 22 {
		t.Errorf("only %d nets were held to it", n)
	}
	t.Logf("shown: %d nets of up to ten ends, %.3f %% above the least at worst, %.4f %% in the mean", n, 100*worst, 100*sum/float64(n))
}

// small is a graph of few places, joined by chance.
func small(r *rand.Rand, places int) *roads {
	g := &roads{}
	for range places {
		g.at = append(g.at, [2]float64{r.Float64() * 50, r.Float64() * 50})
	}
	for a := range places {
		for b := range a {
			if r.IntN(3) > 0 || b == a-1 {
				g.add(int32(a), int32(b), apart(g.at[a], g.at[b]), 1+r.Float64()*30, 0, false)
			}
		}
	}
	g.index()
	return g
}

// Of every choice of branching places on twelve, the exact joining and the oracle
// above find the least, and the heuristic is never below it.
func TestExactJoiningFindsTheLeastOfAll(t *testing.T) {
	t.Parallel()
	for seed := range uint64(rounds(25, 300)) {
		r := rand.New(rand.NewPCG(seed, 5))
		g := small(r, 8+r.IntN(5))
		s := newSeeker(g)
		copy(s.w, g.dig)
		var terms []int32
		for _, n := range r.Perm(len(g.at))[:2+r.IntN(5)] {
			terms = append(terms, int32(n))
		}
		want := spanningLeast(g, s.w, terms)
		if o := cheapestTree(g, s.w, terms); math.Abs(o-want) > 1e-9 {
			t.Fatalf("seed %d: the oracles differ, %g and %g", seed, o, want)
		}
		var pieces [][]int32
		for _, n := range terms {
			pieces = append(pieces, []int32{n})
		}
		edges, cost, ok := s.join(pieces, math.Inf(1))
		if !ok || math.Abs(cost-want) > 1e-9 || math.Abs(s.weight(s.pruned(edges, terms))-want) > 1e-9 {
			t.Errorf("seed %d: joined for %g (%v), the least is %g", seed, cost, ok, want)
		}
		if got := s.weight(s.better(context.Background(), s.tree(terms[0], terms), terms, 1000)); got < want-1e-9 || got > want*1.01 {
			t.Errorf("seed %d: bettered to %g, the least is %g", seed, got, want)
		}
	}
}

// The bound lies below the least there is, on nets small enough to know it, and not
// far.
func TestBoundLiesBelowTheLeast(t *testing.T) {
	t.Parallel()
	for seed := range uint64(rounds(8, 100)) {
		p := drawnYard(t, yardOf(2000+seed, 3+int(seed%5), false))
		j, err := newJob(p, Options{}, newField(p), nil)
		if err != nil {
			t.Fatal(err)
		}
		for k, n := range j.nets {
			n.dear, n.blocked = 1, map[int32]bool{}
			w := weightsOf(j, k)
			whole := j.nets
			least := cheapestTree(j.g, w, n.terms)
			if math.IsInf(least, 1) {
				continue
			}
			j.nets = []*net{n}
			b := j.bound(context.Background()) - j.boxCost()
			j.nets = whole
			if b > least+1e-9 || b < 0.9*least {
				t.Errorf("seed %d: bound %g of a least of %g", seed, b, least)
			}
		}
	}
}
