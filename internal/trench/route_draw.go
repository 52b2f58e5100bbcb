package trench

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// sameJoint is how far apart, in feet, an old joint and a new one may be to be
	// one that was moved. Chosen.
	sameJoint = 0.3
	// usualMain and usualLateral are the classes of new pipe where the plan's other
	// pipes give none: common practice.
	usualMain, usualLateral plan.ID = "pvc-sch40", "pvc-class200"
)

// draft puts trees into a plan.
type draft struct {
	j     *job
	l     *lanes
	next  plan.Plan
	salt  string
	old   map[[2]plan.ID][]plan.ID // pipes that may go, by their ends
	free  []plan.ID                // joints that may go
	fresh map[plan.ID]bool         // ids given in this drawing
	lines []orb.LineString         // of pipes drawn, to lay sleeves by
	class map[bool]plan.ID         // of new pipe; true: the main
}

// drawn is the plan with the routes of a job.
func (j *job) drawn() *plan.Plan {
	d := &draft{j: j, l: j.lanes(), next: *j.p, salt: plan.Digest(j.p.Encode()), old: map[[2]plan.ID][]plan.ID{}, fresh: map[plan.ID]bool{}}
	d.next.Nodes, d.next.Pipes, d.next.Sleeves = cloned(j.p.Nodes), cloned(j.p.Pipes), cloned(j.p.Sleeves)
	d.next.Wires, d.next.Zones, d.next.PipeClasses = cloned(j.p.Wires), cloned(j.p.Zones), cloned(j.p.PipeClasses)
	d.clear()
	for _, id := range j.zones {
		z := d.next.Zones[id]
		at := j.valves[id]
		if spot := (plan.Spot{X: units.Feet(at[0]), Y: units.Feet(at[1])}); z.ValveAt == nil || pointOf(*z.ValveAt) != at {
			z.ValveAt = &spot
			d.next.Zones[id] = z
		}
	}
	for k, n := range j.nets {
		if n.role != wireNet {
			d.net(k)
		}
	}
	d.tidy()
	d.sleeves()
	d.wires()
	return &d.next
}

func cloned[T any](m map[plan.ID]T) map[plan.ID]T {
	if m == nil {
		return map[plan.ID]T{}
	}
	return maps.Clone(m)
}

// clear takes out the pipes that are routed anew.
func (d *draft) clear() {
	counts := map[bool]map[plan.ID]int{true: {}, false: {}}
	for _, id := range plan.SortedIDs(d.j.p.Pipes) {
		v := d.j.p.Pipes[id]
		if v.Status.IsNew() && v.Class != "" {
			counts[v.Zone == ""][v.Class]++
		}
		if !v.Status.Stands() || d.j.stays(v) {
			continue
		}
		delete(d.next.Pipes, id)
		k := between(v.From, v.To)
		d.old[k] = append(d.old[k], id)
	}
	d.class = map[bool]plan.ID{true: usualMain, false: usualLateral}
	for _, main := range []bool{true, false} {
		best := 0
		for _, id := range plan.SortedIDs(counts[main]) {
			if counts[main][id] > best {
				best, d.class[main] = counts[main][id], id
			}
		}
	}
	for _, id := range d.j.nodeIDs {
		n := d.j.p.Nodes[id]
		if n.Kind == "joint" && !d.j.pinned[id] && n.Status.Stands() {
			d.free = append(d.free, id)
		}
	}
}

func between(a, b plan.ID) [2]plan.ID { return [2]plan.ID{min(a, b), max(a, b)} }

// newID is an id that nothing has, nor had as far as the plan tells: it is made of
// the plan as it is and of what the thing is.
func newID[T any](d *draft, letter, what string, have ...map[plan.ID]T) plan.ID {
	for n := 0; ; n++ {
		sum := fnv.New64a()
		fmt.Fprint(sum, d.salt, d.j.o.Seed, n, letter, what)
		text := strconv.FormatUint(sum.Sum64(), 36)
		id := plan.ID(letter + text[:min(8, len(text))])
		taken := d.fresh[id]
		for _, m := range have {
			if _, there := m[id]; there {
				taken = true
			}
		}
		if !taken {
			d.fresh[id] = true
			return id
		}
	}
}

// net draws the pipes of one net.
func (d *draft) net(k int) {
	j, n := d.j, d.j.nets[k]
	fixed := map[int32]bool{} // edges of pipe that stays
	onFixed := map[int32]int{}
	for i, l := range j.laid {
		if l.net != k {
			continue
		}
		for _, e := range l.edges {
			fixed[e] = true
		}
		for _, v := range l.nodes {
			if _, ok := onFixed[v]; !ok {
				onFixed[v] = i
			}
		}
	}
	at := map[int32][]int32{}
	for _, e := range n.tree {
		if !fixed[e] {
			for _, v := range j.g.ends[e] {
				at[v] = append(at[v], e)
			}
		}
	}
	ends := map[int32]end{}
	for _, e := range n.ends {
		if _, ok := ends[e.n]; !ok {
			ends[e.n] = e
		}
	}
	key := func(v int32) bool {
		_, isEnd := ends[v]
		_, isFixed := onFixed[v]
		return isEnd || isFixed || len(at[v]) != 2
	}
	nodes := map[int32]plan.ID{}
	node := func(v int32) plan.ID {
		id, ok := nodes[v]
		if ok {
			return id
		}
		if i, ok := onFixed[v]; ok {
			id = d.split(i, v)
		} else if e, ok := ends[v]; ok {
			id = d.endNode(k, v, e, len(at[v]))
		} else {
			id = d.joint(n.zone, d.l.pos[k][v])
		}
		nodes[v] = id
		return id
	}
	// From where the net begins, each path as the water goes.
	begun := map[int32]bool{}
	next := []int32{n.ends[0].n}
	queued := map[int32]bool{next[0]: true}
	rest := slices.Sorted(maps.Keys(at))
	for len(next) > 0 || len(rest) > 0 {
		if len(next) == 0 { // what hangs on pipe that stays
			v := rest[0]
			rest = rest[1:]
			if _, ok := onFixed[v]; !ok || queued[v] {
				continue
			}
			queued[v] = true
			next = append(next, v)
		}
		v := next[0]
		next = next[1:]
		for _, e := range at[v] {
			if begun[e] {
				continue
			}
			begun[e] = true
			var via orb.LineString
			to, last := j.g.other(e, v), e
			for !key(to) {
				via = append(via, d.l.pos[k][to])
				on := at[to][0]
				if on == last {
					on = at[to][1]
				}
				begun[on] = true
				to, last = j.g.other(on, to), on
			}
			d.pipe(n, node(v), node(to), via)
			if !queued[to] {
				queued[to] = true
				next = append(next, to)
			}
		}
	}
}

// endNode is the node of an end of a net.
func (d *draft) endNode(k int, v int32, e end, pipes int) plan.ID {
	n := d.j.nets[k]
	collection, id := e.what.Split()
	switch {
	case collection == "nodes":
		return id
	case e.what == "supply/connection":
		return d.owned(plan.Node{Kind: "connection"}, e.at)
	case e.what == "supply/backflow_at":
		return d.owned(plan.Node{Kind: "backflow"}, e.at)
	case collection == "heads":
		return d.owned(plan.Node{Kind: "head", Head: id, Zone: d.j.p.Heads[id].Zone}, e.at)
	}
	valve := d.owned(plan.Node{Kind: "valve", Zone: id}, e.at)
	if n.role == lateral || pipes < 2 {
		return valve
	}
	tee := d.joint("", d.l.pos[k][v]) // the main goes on
	d.pipe(n, tee, valve, nil)
	return tee
}

// owned is the node of a head, a valve or a point of the supply, which stands where
// that does.
func (d *draft) owned(n plan.Node, at orb.Point) plan.ID {
	id := d.j.nodeFor(n.Kind, n.Head, n.Zone)
	if n.Kind == "head" {
		id = d.j.nodeFor("head", n.Head, "")
	}
	if id == "" {
		for _, have := range plan.SortedIDs(d.next.Nodes) { // made for another net
			if v := d.next.Nodes[have]; d.fresh[have] && v.Kind == n.Kind && v.Head == n.Head && v.Zone == n.Zone {
				return have
			}
		}
		id = newID(d, "n", fmt.Sprint(n.Kind, n.Head, n.Zone), d.next.Nodes, d.j.p.Nodes)
		n.Status = plan.New
	} else {
		was := d.next.Nodes[id]
		if d.j.pinned[id] {
			return id
		}
		n.Status, n.Locked = was.Status, was.Locked
	}
	n.X, n.Y = units.Feet(at[0]), units.Feet(at[1])
	d.next.Nodes[id] = n
	return id
}

// joint is a joint of a net at a place: an old one that was there, or a new one.
func (d *draft) joint(zone plan.ID, at orb.Point) plan.ID {
	best, least := -1, sameJoint
	for i, id := range d.free {
		n := d.j.p.Nodes[id]
		if away := apart(pointOf(n.Spot()), at); n.Zone == zone && away < least {
			best, least = i, away
		}
	}
	id := plan.ID("")
	n := plan.Node{Kind: "joint", Zone: zone, Status: plan.New}
	if best >= 0 {
		id = d.free[best]
		n = d.j.p.Nodes[id]
		d.free = slices.Delete(d.free, best, best+1)
	} else {
		id = newID(d, "n", fmt.Sprint("joint", zone, at), d.next.Nodes, d.j.p.Nodes)
	}
	n.X, n.Y = units.Feet(at[0]), units.Feet(at[1])
	d.next.Nodes[id] = n
	return id
}

// pipe draws one pipe. One that was there between the same nodes keeps what it is.
func (d *draft) pipe(n *net, from, to plan.ID, via orb.LineString) {
	if from == to {
		return
	}
	a, b := pointOf(d.next.Nodes[from].Spot()), pointOf(d.next.Nodes[to].Spot())
	via = straightened(a, via, b)
	v := plan.Pipe{From: from, To: to, Class: d.class[n.role != lateral], Zone: n.zone, Status: plan.New}
	id := plan.ID("")
	k := between(from, to)
	for i, old := range d.old[k] {
		if was := d.j.p.Pipes[old]; was.Zone == n.zone {
			id, v = old, was
			d.old[k] = slices.Delete(d.old[k], i, i+1)
			break
		}
	}
	if id == "" {
		id = newID(d, "p", fmt.Sprint(from, " ", to, via), d.next.Pipes, d.j.p.Pipes)
		if _, there := d.next.PipeClasses[v.Class]; !there {
			d.next.PipeClasses[v.Class], _ = d.j.p.PipeClass(v.Class)
		}
	}
	if v.From != from {
		slices.Reverse(via)
	}
	v.Via = nil
	for _, q := range via {
		v.Via = append(v.Via, geom.Vertex{X: q[0], Y: q[1]})
	}
	d.next.Pipes[id] = v
}

// straightened leaves out corners that are none.
func straightened(a orb.Point, via orb.LineString, b orb.Point) orb.LineString {
	const straight = 0.006 // feet: less than places are rounded by
	var out orb.LineString
	from := a
	for i, q := range via {
		to := b
		if i+1 < len(via) {
			to = via[i+1]
		}
		if on := geom.NearestOnSegment(q, from, to); apart(on, q) > straight {
			out = append(out, q)
			from = q
		}
	}
	return out
}

// split is the node at a place of a pipe that stays: one of its ends, or a joint that
// parts it.
func (d *draft) split(laid int, v int32) plan.ID {
	l := d.j.laid[laid]
	at := d.j.g.at[v]
	for _, o := range d.j.laid {
		if o.net != l.net || !slices.Contains(o.nodes, v) {
			continue
		}
		if drawn, ok := d.j.p.Pipes[o.id]; ok {
			for _, id := range []plan.ID{drawn.From, drawn.To} {
				if apart(pointOf(d.j.p.Nodes[id].Spot()), at) < 0.02 {
					return id
				}
			}
		}
	}
	// The piece of it that is drawn now and goes through the place.
	for _, id := range plan.SortedIDs(d.next.Pipes) {
		whole, ok := d.next.Pipes[id]
		if !ok || id != l.id && !d.pieceOf(id, l.id) {
			continue
		}
		line := append(orb.LineString{pointOf(d.next.Nodes[whole.From].Spot())}, whole.Via.Points()...)
		line = append(line, pointOf(d.next.Nodes[whole.To].Spot()))
		off, _, seg := geom.DistanceToEdge(at, line)
		if off > 0.02 {
			continue
		}
		joint := newID(d, "n", fmt.Sprint("split", id, at), d.next.Nodes, d.j.p.Nodes)
		d.next.Nodes[joint] = plan.Node{Kind: "joint", Zone: whole.Zone, X: units.Feet(at[0]), Y: units.Feet(at[1]), Status: plan.New}
		second := whole
		second.From, second.Via = joint, nil
		first := whole
		first.To, first.Via = joint, nil
		for i, q := range line[1 : len(line)-1] {
			switch {
			case apart(q, at) < 0.02:
			case i < seg:
				first.Via = append(first.Via, geom.Vertex{X: q[0], Y: q[1]})
			default:
				second.Via = append(second.Via, geom.Vertex{X: q[0], Y: q[1]})
			}
		}
		d.next.Pipes[id] = first
		d.next.Pipes[newID(d, "p", fmt.Sprint("split", l.id, at), d.next.Pipes, d.j.p.Pipes)] = second
		return joint
	}
	return d.joint(d.j.nets[l.net].zone, at)
}

// pieceOf reports whether a pipe was made by parting another.
func (d *draft) pieceOf(id, whole plan.ID) bool {
	v := d.next.Pipes[id]
	w := d.j.p.Pipes[whole]
	return d.fresh[id] && v.Zone == w.Zone && v.Status == w.Status && v.Locked == w.Locked && v.Class == w.Class && cmp.Compare(v.NominalIn, w.NominalIn) == 0
}

// tidy takes out the joints, and nodes of valves and heads, that no pipe comes to
// any more.
func (d *draft) tidy() {
	joined, had := map[plan.ID]bool{}, map[plan.ID]bool{}
	for _, v := range d.next.Pipes {
		joined[v.From], joined[v.To] = true, true
	}
	for _, v := range d.j.p.Pipes {
		had[v.From], had[v.To] = true, true
	}
	for _, id := range d.j.nodeIDs {
		n := d.j.p.Nodes[id]
		if joined[id] || !had[id] || n.Locked || !n.Status.IsNew() {
			continue
		}
		delete(d.next.Nodes, id)
	}
}
