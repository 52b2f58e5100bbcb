package pipesize

import (
	"cmp"
	"fmt"
	"math"

	"evenfall/internal/catalog"
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

// job is the pipework of a plan, ready to be sized.
type job struct {
	p     *plan.Plan
	net   *pipework.Network
	pipes []pipe // each after the one that feeds it
	zones []zone
	notes []string // what is left out, and why
	tell  progress
	money bool // costs are the user's prices, not material
}

type pipe struct {
	pipework.Pipe
	up    int // -1: hangs from the connection
	zone  int // -1: the main
	class plan.ID
	row   catalog.PipeClass
	flow  units.GPM // its design flow
	k     float64   // of its fittings, in velocity heads
	rise  units.PSI
	kept  bool // locked, or there already
	head  *head
}

type zone struct {
	id      plan.ID
	heads   []*head
	flow    units.GPM
	left    units.PSI // at the connection with this flow, less the devices on the way
	nominal units.PSI // least pressure planned at a head that does not regulate
	aim     aim
	more    units.PSI // asked for beyond the aim, after a check
	tighter units.PSI // taken off the spread, after a check
}

// head is what one head asks of its pipe.
type head struct {
	id        plan.ID
	flow      units.GPM // its design flow
	usual     units.GPM // the same by the zone's aim
	joint     units.PSI // lost in the swing joint
	planned   units.PSI // before the body, to work as planned
	least     units.PSI // least row of its table
	most      units.PSI // last one; +Inf where the body regulates
	nozzle    units.PSI // planned at the nozzle
	regulates bool
}

// aim is the pressure that the heads of a zone must get.
type aim int

const (
	asPlanned   aim = iota // what the zone, or the nozzle's best, says
	withinTable            // at least the least row of its nozzle
)

// Refusal is why nothing can be sized, for the user.
type Refusal struct{ Sentence string }

func (r *Refusal) Error() string { return r.Sentence }

func refuse(format string, a ...any) error { return &Refusal{fmt.Sprintf(format, a...)} }

// newJob gathers what is to be sized, as asked.
func newJob(p *plan.Plan, net *pipework.Network, ask *asked) (*job, error) {
	j := &job{p: p, net: net, tell: ask.tell}
	switch {
	case len(p.Pipes) == 0 || len(net.Pipes) == 0:
		return nil, refuse("No pipe is drawn yet. Draw the main from the point of connection to the valves, and laterals from each valve to its heads; then ask for sizes.")
	case net.Source == "":
		return nil, refuse("The pipes do not begin anywhere: no point of connection is drawn. Place it where the water comes in, join the main to it, and ask for sizes again.")
	}
	if err := j.refuseLoops(); err != nil {
		return nil, err
	}
	at := j.gatherZones(ask)
	if len(j.zones) == 0 {
		return nil, refuse("No zone can be sized yet. %s", j.why())
	}
	if err := j.gatherPipes(at); err != nil {
		return nil, err
	}
	return j, j.supplyZones()
}

func (j *job) why() string {
	if len(j.notes) > 0 {
		return j.notes[0]
	}
	return "Draw a valve for a zone on the main, and pipe from it to its heads."
}

// refuseLoops refuses a main with a loop: what is saved in one of its arms is
// asked of the other, and no rule says which.
func (j *job) refuseLoops() error {
	for _, id := range j.net.Loops {
		if pipe := j.net.Pipes[id]; !pipe.Valved {
			return refuse("The main forms a loop that %s closes. A looped main is checked, not sized: which way the water goes depends on the sizes. Give its pipes sizes by hand and look at the pressures, or take one pipe out of the loop.", j.pipeName(id))
		}
	}
	return nil
}

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
		_, swing := j.p.SwingJoint()
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

func (j *job) note(format string, a ...any) { j.notes = append(j.notes, fmt.Sprintf(format, a...)) }

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
// the main, or of its zone, else the usual.
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
		if w, class := of(j.net.Pipes[id]), j.p.Pipes[id].Class; first[w] == "" {
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
