package parts

import (
	"cmp"
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// itemNames gives the rows of a plan the names they are asked for by. Two rows
// of one name (a user's table beside the built-in one) carry their id behind
// it, so that they stay two lines.
type itemNames struct {
	bodies, nozzles, devices map[plan.ID]string
	inlets                   map[plan.ID]units.Inches
	joints                   map[plan.ID]string // by body: why it takes the joint it does
	show                     units.System
}

func newItemNames(p *plan.Plan) itemNames {
	names := itemNames{map[plan.ID]string{}, map[plan.ID]string{}, map[plan.ID]string{}, map[plan.ID]units.Inches{}, map[plan.ID]string{}, p.Show}
	for id, b := range p.Bodies {
		names.bodies[id] = p.BodyName(id)
		names.inlets[id] = b.InletIn
		names.joints[id] = jointRule(p, id)
	}
	for id := range p.Nozzles {
		names.nozzles[id] = p.NozzleName(id)
	}
	for _, z := range p.Zones {
		if _, ok := p.Device(z.Valve); ok && z.Valve != "" {
			names.devices[z.Valve] = p.DeviceName(z.Valve)
		}
	}
	tellApart(names.bodies)
	tellApart(names.devices)
	tellApart(names.nozzles)
	return names
}

func tellApart(names map[plan.ID]string) {
	uses := map[string]int{}
	for _, name := range names {
		uses[name]++
	}
	for id, name := range names {
		if uses[name] > 1 || name == "" {
			names[id] = fmt.Sprintf("%s (%s)", name, id)
		}
	}
}

// piecesOf is everything one new head takes.
func (n itemNames) piecesOf(id plan.ID, h plan.Head) []piece {
	from := plan.Ref("heads/" + string(id))
	joint := "Swing joint"
	if in := n.inlets[h.Body]; in > 0 {
		joint = "Swing joint, " + n.show.PipeSize(in)
	}
	return []piece{
		{GroupBody, n.bodies[h.Body], "One for each new head.", from},
		{GroupNozzle, n.nozzles[h.Nozzle], "One for each new head.", from},
		{GroupJoint, joint, cmp.Or(n.joints[h.Body], jointBySize), from},
		{GroupFlag, "Flag, white, tag printed", "One for each new head. Have buried lines located first; white marks a dig to come, other colours a buried line or a survey.", from},
	}
}

const jointBySize = "One for each new head, in the size of its body's inlet."

// jointRule says by what the joint under a body is asked for, and where pressures
// count another: the one chosen for all heads, or the largest that is known.
func jointRule(p *plan.Plan, body plan.ID) string {
	id, row := p.SwingJoint(body)
	if inlet := p.Bodies[body].InletIn; inlet > 0 && row.Nominal > 0 && !plan.SameNominal(inlet, row.Nominal) {
		return fmt.Sprintf("%s Pressures count the loss of “%s” here: buy one that takes no more, or choose its own row for the supply.", jointBySize, p.DeviceName(id))
	}
	return jointBySize
}

// valveOf is the valve of a new zone: the one chosen, else any.
func (n itemNames) valveOf(p *plan.Plan, zone plan.ID) piece {
	from := plan.RefTo("zones", zone)
	if name := n.devices[p.Zones[zone].Valve]; name != "" {
		return piece{GroupValve, name, "One for each new zone, as chosen for it.", from}
	}
	return piece{GroupValve, "Zone valve", "One for each new zone. Size it to the zone's flow and pipe.", from}
}
