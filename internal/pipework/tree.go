package pipework

import (
	"cmp"
	"container/heap"
	"slices"

	"evenfall/internal/plan"
)

// tree is the ways of the water: every node hangs by one pipe on another that is
// nearer the root of its piece, the source where there is a way to it.
type tree struct {
	g      *graph
	up     []int32 // pipe towards the root; -1 at a root
	far    []float64
	zone   []plan.ID
	valved []bool
	fed    []bool
	done   []bool
	order  []int32 // every node after the one it hangs on
}

func newTree(g *graph) *tree {
	n := len(g.nodes)
	t := &tree{
		g: g, up: make([]int32, n), far: make([]float64, n), zone: make([]plan.ID, n),
		valved: make([]bool, n), fed: make([]bool, n), done: make([]bool, n), order: make([]int32, 0, n),
	}
	if g.source >= 0 {
		t.hang(g.source)
		for _, n := range t.order {
			t.fed[n] = true
		}
	}
	for _, n := range t.roots() {
		if !t.done[n] {
			t.hang(n)
		}
	}
	return t
}

// roots are the nodes in the order in which a loose piece would best be told:
// from a connection, a backflow device, the main, a valve, or from anywhere.
func (t *tree) roots() []int32 {
	rank := make([]int, len(t.g.nodes))
	out := make([]int32, len(t.g.nodes))
	for n, id := range t.g.nodes {
		out[n] = int32(n)
		onMain := slices.ContainsFunc(t.g.at[n], func(e int32) bool { return t.g.drawn(e) == "" })
		switch v := t.g.p.Nodes[id]; {
		case v.Kind == "connection":
			rank[n] = 0
		case v.Kind == "backflow":
			rank[n] = 1
		case onMain && t.g.valve[n] == "":
			rank[n] = 2
		case t.g.valve[n] != "":
			rank[n] = 3
		default:
			rank[n] = 4
		}
	}
	slices.SortStableFunc(out, func(a, b int32) int { return cmp.Compare(rank[a], rank[b]) })
	return out
}

// hang takes in all that is joined to a root: first what the main reaches, then
// what is behind the valves and marked so, then whatever else is, and last what is
// joined to the main without a valve. So a lateral is told from its valve even where
// it has a way around it, and a zone keeps its own where pipes join it to another.
func (t *tree) hang(root int32) {
	first := len(t.order)
	t.settle(root, -1)
	t.grow(t.order[first:], func(_, e int32) bool { return t.g.drawn(e) == "" })
	var valves, plain []int32
	for _, n := range t.order[first:] {
		if t.g.valve[n] != "" {
			valves = append(valves, n)
		} else {
			plain = append(plain, n)
		}
	}
	first = len(t.order)
	t.grow(valves, func(n, e int32) bool {
		zone, _ := t.carries(n, e)
		return t.g.drawn(e) == zone && t.g.belongs(t.g.other(e, n), zone)
	})
	all := func(int32, int32) bool { return true }
	t.grow(append(valves, t.order[first:]...), all)
	t.grow(plain, all)
}

// grow settles nodes by their way from those given, nearest first, over the pipes
// that it may pass.
func (t *tree) grow(from []int32, pass func(n, e int32) bool) {
	var q ways
	reach := func(n int32) {
		for _, e := range t.g.at[n] {
			if to := t.g.other(e, n); !t.done[to] && pass(n, e) {
				heap.Push(&q, way{t.far[n] + t.g.length[e], e, to})
			}
		}
	}
	for _, n := range from {
		reach(n)
	}
	for len(q) > 0 {
		w := heap.Pop(&q).(way)
		if t.done[w.to] {
			continue
		}
		t.settle(w.to, w.pipe)
		reach(w.to)
	}
}

// settle hangs a node on a pipe, -1 for a root.
func (t *tree) settle(n, e int32) {
	t.done[n], t.up[n] = true, e
	if e >= 0 {
		from := t.g.other(e, n)
		t.far[n] = t.far[from] + t.g.length[e]
		t.zone[n], t.valved[n] = t.carries(from, e)
	}
	if z := t.g.valve[n]; z != "" {
		t.zone[n] = z
	}
	t.order = append(t.order, n)
}

// carries tells whose water is in a pipe that leaves a node, and whether it is
// behind a valve.
func (t *tree) carries(n, e int32) (plan.ID, bool) {
	drawn := t.g.drawn(e)
	switch {
	case t.g.valve[n] != "" && drawn != "":
		return t.g.valve[n], true
	case t.valved[n]:
		return t.zone[n], true
	}
	return drawn, false
}

// upper is the end of a pipe that is nearer the root: the one it hangs on, and of
// a pipe that closes a loop the one with the shorter way.
func (t *tree) upper(e int32) int32 {
	a, b := t.g.ends[e][0], t.g.ends[e][1]
	switch {
	case t.up[b] == e:
		return a
	case t.up[a] == e:
		return b
	case t.far[b] < t.far[a]:
		return b
	}
	return a
}

// way is a pipe to a node not settled yet, with the length of the way to it.
type way struct {
	far  float64
	pipe int32
	to   int32
}

type ways []way

func (q ways) Len() int { return len(q) }
func (q ways) Less(i, j int) bool {
	return q[i].far < q[j].far || q[i].far == q[j].far && q[i].pipe < q[j].pipe
}
func (q ways) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *ways) Push(x any)   { *q = append(*q, x.(way)) }
func (q *ways) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
