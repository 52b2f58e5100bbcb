package trench

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

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
		off, on, seg := geom.DistanceToEdge(at, line)
		if off > 0.02 {
			continue
		}
		at = on
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
