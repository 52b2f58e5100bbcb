package trench

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// remain is a pipe or a wire run that stays as it is.
type remain struct {
	id    plan.ID
	net   int  // of job.nets; -1: of none that is asked for
	sunk  bool // its trench is to be dug anyhow
	nodes []int32
	edges []int32
}

// kept reports whether what is drawn is to stay: it is locked, there already, or all
// that is drawn is to be kept.
func (j *job) kept(locked bool, s plan.Status) bool { return locked || !s.IsNew() || j.o.Keep }

// stays reports whether a pipe is not to be changed.
func (j *job) stays(v plan.Pipe) bool {
	if !v.Status.Stands() {
		return false
	}
	if j.kept(v.Locked, v.Status) {
		return true
	}
	if v.Zone == "" {
		return !j.whole
	}
	return !j.asked[v.Zone]
}

// settle gives every end its place in the graph, lays what stays, and tells what is
// joined by it already.
func (j *job) settle() {
	for _, n := range j.nets {
		for i := range n.ends {
			n.ends[i].n = j.s.end(n.ends[i].at)
		}
	}
	before := map[plan.ID]bool{} // pipes of the main before the backflow device
	if j.nets[0].role == service {
		before = j.beforeBackflow()
	}
	for _, id := range plan.SortedIDs(j.p.Pipes) {
		v := j.p.Pipes[id]
		if !j.stays(v) {
			continue
		}
		l := remain{id: id, net: -1, sunk: v.Status.IsNew()}
		for k, n := range j.nets {
			if n.role == lateral && n.zone == v.Zone && v.Zone != "" || v.Zone == "" && (n.role == service && before[id] || n.role == mainNet && !before[id]) {
				l.net = k
			}
		}
		line := append(orb.LineString{pointOf(j.p.Nodes[v.From].Spot())}, v.Via.Points()...)
		j.keep(l, append(line, pointOf(j.p.Nodes[v.To].Spot())))
	}
	if k := len(j.nets) - 1; j.nets[k].role == wireNet {
		for _, id := range plan.SortedIDs(j.p.Wires) {
			if v := j.p.Wires[id]; v.Status.Stands() && j.kept(v.Locked, v.Status) {
				j.keep(remain{id: id, net: k, sunk: v.Status.IsNew() && v.Lay != "building"}, v.Line.Points())
			}
		}
	}
}

// ruled are the places where a straight line crosses the lines of a grid, across
// the way it mostly runs: the same ones for the parts it is cut into.
func ruled(a, b orb.Point) []orb.Point {
	const most = 64
	axis := 0
	if math.Abs(b[1]-a[1]) > math.Abs(b[0]-a[0]) {
		axis = 1
	}
	from, to := a[axis], b[axis]
	step := alongEdges
	for math.Abs(to-from)/step > most {
		step *= 2
	}
	var out []orb.Point
	for n := math.Ceil(min(from, to) / step); n*step <= max(from, to) && from != to; n++ {
		out = append(out, along(a, b, (n*step-from)/(to-from)))
	}
	if from > to {
		slices.Reverse(out)
	}
	return slices.DeleteFunc(out, func(q orb.Point) bool { return apart(q, a) < 0.02 || apart(q, b) < 0.02 })
}

// keep lays a line that stays: places at its corners, and between them where a pipe
// may be joined to it.
func (j *job) keep(l remain, line orb.LineString) {
	for i, q := range line {
		if i > 0 {
			for _, on := range ruled(line[i-1], q) {
				l.nodes = append(l.nodes, j.s.end(on))
			}
		}
		n := j.s.end(q)
		if len(l.nodes) == 0 || l.nodes[len(l.nodes)-1] != n {
			l.nodes = append(l.nodes, n)
		}
	}
	j.laid = append(j.laid, l)
}

// beforeBackflow finds the pipes of the main that the water meets before the
// backflow device.
func (j *job) beforeBackflow() map[plan.ID]bool {
	at := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(j.p.Pipes) {
		if v := j.p.Pipes[id]; v.Zone == "" && v.Status.Stands() {
			at[v.From], at[v.To] = append(at[v.From], id), append(at[v.To], id)
		}
	}
	out, seen := map[plan.ID]bool{}, map[plan.ID]bool{}
	for next := []plan.ID{j.nodeFor("connection", "", "")}; len(next) > 0; next = next[1:] {
		if seen[next[0]] || j.p.Nodes[next[0]].Kind == "backflow" {
			continue
		}
		seen[next[0]] = true
		for _, id := range at[next[0]] {
			out[id] = true
			next = append(next, j.p.Pipes[id].From, j.p.Pipes[id].To)
		}
	}
	return out
}

// terminals lists what each net has to join: its ends, and one place of each piece
// of it that stays apart from them.
func (j *job) terminals() {
	for k, n := range j.nets {
		n.terms = n.terms[:0]
		u := newUnion(len(j.g.at))
		for _, l := range j.laid {
			if l.net == k {
				for i := 1; i < len(l.nodes); i++ {
					u.join(l.nodes[0], l.nodes[i])
				}
			}
		}
		have, met := map[int32]bool{}, map[int32]bool{}
		add := func(v int32) {
			if !met[v] {
				met[v] = true
				n.terms = append(n.terms, v)
			}
			have[u.find(v)] = true
		}
		for _, e := range n.ends {
			add(e.n)
		}
		var loose []int32 // by place: whichever pipe comes first by its id
		for _, l := range j.laid {
			if l.net == k && !have[u.find(l.nodes[0])] {
				loose = append(loose, l.nodes...)
			}
		}
		slices.Sort(loose)
		for _, v := range loose {
			if !have[u.find(v)] {
				add(v)
			}
		}
	}
}

// number numbers the places of ends and of what stays by where they are, whatever
// their ids: a pipe that was parted must not make a search go another way.
func (j *job) number() {
	order := make([]int32, len(j.s.at))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int {
		p, q := j.s.at[a], j.s.at[b]
		return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
	})
	now := newSpots(j.f)
	to := make([]int32, len(order))
	for _, old := range order {
		to[old] = now.put(j.s.at[old], j.s.key[old])
	}
	j.s = now
	for _, n := range j.nets {
		for i := range n.ends {
			n.ends[i].n = to[n.ends[i].n]
		}
	}
	for _, l := range j.laid {
		for i := range l.nodes {
			l.nodes[i] = to[l.nodes[i]]
		}
	}
	for i := range j.tubes {
		t := &j.tubes[i]
		t.ends = [2]int32{to[t.ends[0]], to[t.ends[1]]}
	}
}

// layEdges adds what stays to the graph, in an order of its places.
func (j *job) layEdges() {
	type piece struct {
		a, b int32
		of   int
	}
	var all []piece
	for i := range j.laid {
		l := &j.laid[i]
		l.edges = nil
		for k := 1; k < len(l.nodes); k++ {
			all = append(all, piece{min(l.nodes[k-1], l.nodes[k]), max(l.nodes[k-1], l.nodes[k]), i})
		}
	}
	slices.SortStableFunc(all, func(x, y piece) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.b, y.b), cmp.Compare(j.laid[x.of].net, j.laid[y.of].net))
	})
	for _, q := range all {
		l := &j.laid[q.of]
		l.edges = append(l.edges, j.g.add(q.a, q.b, apart(j.g.at[q.a], j.g.at[q.b]), 0, 0, false))
	}
}
