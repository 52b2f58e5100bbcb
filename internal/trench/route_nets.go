package trench

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// role is what a net is for.
type role int

const (
	service role = iota // from the connection to the backflow device
	mainNet             // from there to the valves
	lateral             // from a valve to its heads
	wireNet             // from the controller to the valves
)

// end is a thing that a net leads to.
type end struct {
	what plan.Ref
	at   orb.Point
	n    int32
}

// net is pipe or wire that joins its ends.
type net struct {
	role    role
	zone    plan.ID
	foot    float64 // what a foot of it costs beside the trench
	dear    float64 // how many times that the search takes it for
	ends    []end   // the first is where it begins
	terms   []int32
	tree    []int32
	blocked map[int32]bool
}

// remain is a pipe or a wire run that stays as it is.
type remain struct {
	id    plan.ID
	net   int  // of job.nets; -1: of none that is asked for
	sunk  bool // its trench is to be dug anyhow
	nodes []int32
	edges []int32
}

// stays reports whether a pipe is not to be changed.
func (j *job) stays(v plan.Pipe) bool {
	if !v.Status.Stands() {
		return false
	}
	if v.Locked || !v.Status.IsNew() {
		return true
	}
	if v.Zone == "" {
		return !j.whole
	}
	return !j.asked[v.Zone]
}

// gather reads what is to be joined.
func (j *job) gather() error {
	p := j.p
	if p.Supply.Connection == nil {
		return &Refusal{"supply", "The plan has no point of connection, so there is nowhere for the main to begin. Set it under Supply."}
	}
	if err := j.askedZones(); err != nil {
		return err
	}
	j.places()
	connection := j.nodeEnd("connection", "", orb.Point{float64(p.Supply.Connection.X), float64(p.Supply.Connection.Y)}, "supply/connection")
	main := &net{role: mainNet, foot: j.f.rates.main}
	if _, device, chosen := p.BackflowDevice(); p.Supply.BackflowAt != nil && !(chosen && device.Backflow == catalog.AtmosphericBreaker) {
		backflow := j.nodeEnd("backflow", "", orb.Point{float64(p.Supply.BackflowAt.X), float64(p.Supply.BackflowAt.Y)}, "supply/backflow_at")
		j.nets = append(j.nets, &net{role: service, foot: j.f.rates.main, ends: []end{connection, backflow}})
		main.ends = []end{backflow}
	} else {
		main.ends = []end{connection}
	}
	j.nets = append(j.nets, main)
	for _, id := range j.zones {
		valve := end{what: plan.RefTo("zones", id), at: j.valves[id]}
		main.ends = append(main.ends, valve)
		n := &net{role: lateral, zone: id, foot: j.f.rates.lateral, ends: []end{valve}}
		for _, h := range j.heads[id] {
			v := p.Heads[h]
			n.ends = append(n.ends, j.nodeEnd("head", h, orb.Point{float64(v.X), float64(v.Y)}, plan.RefTo("heads", h)))
		}
		for _, d := range plan.SortedIDs(p.Nodes) {
			if v := p.Nodes[d]; v.Zone == id && v.Status.Stands() && (v.Kind == "drain" || v.Kind == "joint" && v.Locked) {
				n.ends = append(n.ends, end{what: plan.RefTo("nodes", d), at: pointOf(v.Spot())})
			}
		}
		j.nets = append(j.nets, n)
	}
	if j.whole {
		for _, d := range plan.SortedIDs(p.Nodes) {
			if v := p.Nodes[d]; v.Zone == "" && v.Status.Stands() && (v.Kind == "drain" || v.Kind == "joint" && v.Locked) {
				main.ends = append(main.ends, end{what: plan.RefTo("nodes", d), at: pointOf(v.Spot())})
			}
		}
	}
	if j.o.Wire && p.Controller.At != nil && p.Controller.Status.Stands() {
		n := &net{role: wireNet, foot: j.f.rates.wire, ends: []end{{what: "controller", at: pointOf(*p.Controller.At)}}}
		for _, id := range j.zones {
			n.ends = append(n.ends, end{what: plan.RefTo("zones", id), at: j.valves[id]})
		}
		j.nets = append(j.nets, n)
	} else if j.o.Wire {
		j.notes = append(j.notes, "No wire is laid: the plan has no place for the controller.")
	}
	return nil
}

func pointOf(s plan.Spot) orb.Point { return orb.Point{float64(s.X), float64(s.Y)} }

// askedZones finds the zones to route and their heads.
func (j *job) askedZones() error {
	p := j.p
	j.asked = map[plan.ID]bool{}
	for _, id := range j.o.Zones {
		if z, ok := p.Zones[id]; !ok || !z.Status.Stands() {
			return &Refusal{plan.RefTo("zones", id), fmt.Sprintf("There is no zone %s in the plan. Choose zones that are drawn.", id)}
		}
		j.asked[id] = true
	}
	j.whole = true
	piped := map[plan.ID]bool{}
	for _, id := range plan.SortedIDs(p.Pipes) {
		if v := p.Pipes[id]; v.Status == plan.Existing {
			piped[v.Zone] = true
		}
	}
	j.heads = map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		z, ok := p.Zones[h.Zone]
		if !ok || !z.Status.Stands() || !h.Status.Stands() {
			continue
		}
		if z.Status == plan.Existing && !h.Status.IsNew() {
			continue // it has its pipe, drawn or not
		}
		j.heads[h.Zone] = append(j.heads[h.Zone], id)
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		switch wanted := len(j.o.Zones) == 0 || j.asked[id]; {
		case !z.Status.Stands() || len(j.heads[id]) == 0:
			delete(j.asked, id)
		case !wanted:
			j.whole = false
		case z.Status == plan.Existing && !piped[id]:
			delete(j.asked, id)
			j.notes = append(j.notes, fmt.Sprintf("%s is there already but none of its pipe is drawn, so its new heads cannot be joined to it. Draw that pipe first.", plan.Capital(p.ZoneName(id))))
		default:
			j.asked[id] = true
			j.zones = append(j.zones, id)
		}
	}
	if len(j.zones) == 0 {
		if len(j.notes) > 0 {
			return &Refusal{"zones", j.notes[0]}
		}
		return &Refusal{"zones", "No zone has heads to be reached, so there is nothing to route. Place heads and put them into zones first."}
	}
	return nil
}

// nodeEnd is an end at its node, where that cannot be moved, else at the thing
// itself.
func (j *job) nodeEnd(kind string, head plan.ID, at orb.Point, what plan.Ref) end {
	if id := j.nodeFor(kind, head, ""); id != "" && j.pinned[id] {
		at = pointOf(j.p.Nodes[id].Spot())
	}
	return end{what: what, at: at}
}

// nodeFor is the standing node of a head, a valve or a point of the supply: one on
// pipe that stays before others; "" for none.
func (j *job) nodeFor(kind string, head, zone plan.ID) plan.ID {
	best := plan.ID("")
	for _, id := range j.nodeIDs {
		n := j.p.Nodes[id]
		if n.Kind != kind || !n.Status.Stands() || kind == "head" && n.Head != head || kind == "valve" && n.Zone != zone {
			continue
		}
		if best == "" || j.pinned[id] && !j.pinned[best] {
			best = id
		}
	}
	return best
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
			if v := j.p.Wires[id]; v.Status.Stands() && (v.Locked || !v.Status.IsNew()) {
				j.keep(remain{id: id, net: k, sunk: v.Status.IsNew() && v.Lay != "building"}, v.Line.Points())
			}
		}
	}
}

// keep lays a line that stays: places at its corners, and between them where a pipe
// may be joined to it.
func (j *job) keep(l remain, line orb.LineString) {
	for i, q := range line {
		if i > 0 {
			d := apart(line[i-1], q)
			parts := int(min(max(d/alongEdges, 1), 50))
			for k := 1; k < parts; k++ {
				l.nodes = append(l.nodes, j.s.end(along(line[i-1], q, float64(k)/float64(parts))))
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
		for _, l := range j.laid {
			if l.net == k && !have[u.find(l.nodes[0])] {
				add(l.nodes[0])
			}
		}
	}
}
