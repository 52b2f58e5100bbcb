package trench

import (
	"fmt"
	"maps"
	"slices"

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
