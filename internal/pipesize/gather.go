package pipesize

import (
	"cmp"
	"math"

	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// The classes of pipe that is given none: common practice.
const (
	usualMain    plan.ID = "pvc-sch40"
	usualLateral plan.ID = "pvc-class200"
)

// gatherZones takes the zones that hang from the source as a tree, and returns
// the head at each node and the zone it is fed by.
func (j *job) gatherZones(ask *asked) map[plan.ID]fed {
	looped := map[plan.ID]plan.ID{}
	for _, id := range j.net.Loops {
		looped[j.net.Pipes[id].Zone] = id
	}
	at := map[plan.ID]fed{}
	for _, id := range plan.SortedIDs(j.net.Zones) {
		if !j.p.Zones[id].Status.Stands() {
			continue
		}
		drawn := j.net.Zones[id]
		name := plan.Capital(j.p.ZoneName(id))
		switch {
		case !drawn.Fed:
			j.note("%s is left as it is: no pipe leads from the point of connection to its valve.", name)
			continue
		case len(drawn.Valves) > 1:
			j.note("%s is left as it is: it has %d valves in its pipes, and which of them its water comes by is not known.", name, len(drawn.Valves))
			continue
		case looped[id] != "":
			j.note("%s is left as it is: %s closes a loop in its laterals, and a loop is checked, not sized.", name, j.pipeName(looped[id]))
			continue
		case len(drawn.Heads) == 0:
			j.note("%s is left as it is: no head is joined to its valve by pipe.", name)
			continue
		}
		if up := j.net.Pipes[j.net.Nodes[drawn.Valve].Up]; up.Valved {
			j.note("%s is left as it is: its valve hangs on the pipe of %s, behind the valve of that one, and has water only while both are open. Join it to the main by a pipe of its own, and ask for sizes again.", name, j.p.ZoneName(up.Zone))
			continue
		}
		if n := len(drawn.Unfed); n > 0 {
			j.note("%s is sized without %s, to which no pipe of it leads.", name, j.p.HeadNames(drawn.Unfed))
		}
		if z, ok := j.zoneOf(id, drawn.Heads, ask); ok {
			for _, h := range z.heads {
				at[j.net.HeadAt[h.id]] = fed{h, len(j.zones)}
			}
			j.zones = append(j.zones, z)
		}
	}
	return at
}

// zoneOf gathers the heads of a zone; false when it cannot be reckoned with.
func (j *job) zoneOf(id plan.ID, heads []plan.ID, ask *asked) (zone, bool) {
	z := zone{id: id, nominal: units.PSI(math.Inf(1)), aim: ask.aims[id], more: ask.more[id], tighter: ask.tighter[id]}
	for _, h := range heads {
		head, ok := j.headOf(h, z.aim)
		if !ok {
			j.note("%s is left as it is: %s is used outside its nozzle's table, so that its flow is not known.", plan.Capital(j.p.ZoneName(id)), j.p.HeadName(h))
			return zone{}, false
		}
		head.flow = cmp.Or(ask.flows[h], head.flow)
		_, swing := j.p.SwingJoint(j.p.Heads[h].Body)
		head.joint, _ = swing.LossAt(head.flow)
		z.heads = append(z.heads, head)
		z.flow += head.flow
		z.nominal = min(z.nominal, head.nozzle)
	}
	return z, true
}

// fed is a head with the index of the zone it is fed by.
type fed struct {
	*head
	zone int
}

// headOf is what a head asks of its pipe; false for one outside its nozzle's table.
func (j *job) headOf(id plan.ID, a aim) (h *head, ok bool) {
	drawn := j.p.Heads[id]
	n := j.p.Nozzles[drawn.Nozzle]
	w, ok := pressure.PlannedAt(j.p, id)
	if !ok || w.Flow <= 0 {
		return nil, false
	}
	h = &head{id: id, flow: w.Flow, nozzle: w.Nozzle, planned: w.Inlet, regulates: w.Regulated,
		least: n.Rows[0].Pressure, most: n.Rows[len(n.Rows)-1].Pressure}
	if j.p.Bodies[drawn.Body].Regulated > 0 {
		h.most = units.PSI(math.Inf(1))
	}
	if a == withinTable { // less flows at less pressure
		_, planned, _ := n.Continued(h.nozzle)
		_, low, _ := n.Continued(min(overLeast*h.least, h.nozzle))
		h.flow *= low / planned
	}
	h.usual = h.flow
	return h, true
}

// overLeast is the pressure over the least row of a table at which heads are taken
// to work that only have to stay within it. Chosen: half of the spread allowed.
const overLeast = 1 + units.PSI(pressure.MostSpread)/2

// gatherPipes takes every pipe between the source and those zones.
func (j *job) gatherPipes(at map[plan.ID]fed) error {
	index := map[plan.ID]int{} // of a zone
	for z := range j.zones {
		index[j.zones[z].id] = z
	}
	flow, behind := j.behind(at)
	usual := j.usualClasses()
	number := map[plan.ID]int{}
	for _, node := range j.net.Order {
		up := j.net.Nodes[node].Up
		if up == "" {
			continue
		}
		v := pipe{Pipe: j.net.Pipes[up], up: -1, zone: -1}
		if v.Valved {
			z, ok := index[v.Zone]
			if !ok {
				continue
			}
			v.zone = z
		}
		if before := j.net.Nodes[v.From].Up; before != "" {
			i, ok := number[before]
			if !ok {
				continue
			}
			v.up = i
		}
		perZone := map[plan.ID]units.GPM{}
		for _, h := range v.Heads {
			perZone[behind[h]] += flow[h]
			v.flow = max(v.flow, perZone[behind[h]])
		}
		if v.flow == 0 && !v.Valved {
			continue // a stub of the main: nobody knows what for
		}
		for _, f := range v.Fittings {
			if f.Kind != pipework.Reducer { // follows from the sizes that are chosen
				v.k += f.K
			}
		}
		v.rise = hydraulics.Rise(j.net.Nodes[v.To].Level - j.net.Nodes[v.From].Level)
		if f, ok := at[v.To]; ok {
			v.head = f.head
		}
		drawn := j.p.Pipes[up]
		if v.class = drawn.Class; v.class == "" {
			v.class = usual(v.Pipe)
		}
		v.row, _ = j.p.PipeClass(v.class)
		v.kept = drawn.Locked || drawn.Status == plan.Existing
		if v.kept && v.Size.Inside <= 0 {
			why, way := "is locked", "unlock it"
			if !drawn.Locked {
				why, way = "is marked as existing", "mark it as new"
			}
			return refuse("%s %s and has no size. Give it one, or %s, and ask for sizes again.", plan.Capital(j.pipeName(up)), why, way)
		}
		number[up] = len(j.pipes)
		j.pipes = append(j.pipes, v)
	}
	j.money = true
	for _, v := range j.pipes {
		j.money = j.money && (v.kept || v.row.Priced())
	}
	return nil
}

// behind is the design flow of every head that is joined to a valve, of zones that
// are left as they are too, and the zone it hangs from.
func (j *job) behind(at map[plan.ID]fed) (flow map[plan.ID]units.GPM, zone map[plan.ID]plan.ID) {
	flow, zone = map[plan.ID]units.GPM{}, map[plan.ID]plan.ID{}
	for id, z := range j.net.Zones {
		for _, h := range z.Heads {
			flow[h], zone[h] = pressure.PlannedFlow(j.p, h), id
		}
	}
	for _, f := range at {
		flow[f.id] = f.flow
	}
	return flow, zone
}

// usualClasses finds the class that a pipe of none gets: that of the first pipe of
// the main, or of its zone, whose class is made in several sizes, else the usual.
func (j *job) usualClasses() func(pipework.Pipe) plan.ID {
	type water struct {
		valved bool
		zone   plan.ID
	}
	of := func(v pipework.Pipe) water {
		if !v.Valved {
			return water{}
		}
		return water{true, v.Zone}
	}
	first := map[water]plan.ID{}
	for _, id := range plan.SortedIDs(j.net.Pipes) {
		w, class := of(j.net.Pipes[id]), j.p.Pipes[id].Class
		if row, _ := j.p.PipeClass(class); first[w] == "" && len(row.Sizes) > 1 {
			first[w] = class
		}
	}
	return func(v pipework.Pipe) plan.ID {
		if v.Valved {
			return cmp.Or(first[of(v)], usualLateral)
		}
		return cmp.Or(first[of(v)], usualMain)
	}
}

// supplyZones finds the pressure that is left for the pipes of each zone.
func (j *job) supplyZones() error {
	for i := range j.zones {
		z := &j.zones[i]
		left, known := pressure.LeftFor(j.p, z.id, z.flow)
		if z.flow > known+1e-9 {
			return refuse("%s takes %s, and the supply is known to %s only. Measure it at a larger flow, or make the zone smaller.",
				plan.Capital(j.p.ZoneName(z.id)), j.p.Show.Flow(z.flow), j.p.Show.Flow(known))
		}
		z.left = left
	}
	return nil
}
