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
