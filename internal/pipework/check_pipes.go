package pipework

import (
	"fmt"
	"math"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// offBy is how far a node may stand from the thing it is the joint of, in feet:
// what a stake is good for. Chosen.
const offBy = 0.5

// offPlace finds nodes that do not stand where their heads, valves, connection or
// backflow device do.
func (c checker) offPlace() []plan.Finding {
	var about []plan.Ref
	var first plan.ID
	var names []string
	for _, id := range plan.SortedIDs(c.net.Nodes) {
		n := c.p.Nodes[id]
		at, thing, name := c.standsAt(id, n)
		if at == nil || !n.Status.Stands() || math.Hypot(float64(n.X-at.X), float64(n.Y-at.Y)) <= offBy {
			continue
		}
		if first == "" {
			first = id
		}
		about, names = append(about, plan.RefTo("nodes", id), thing), append(names, name)
	}
	if first == "" {
		return nil
	}
	text := fmt.Sprintf("The pipe does not end where %s %s.", plan.Several(names), plan.Choose(len(names), "stands", "stand"))
	return []plan.Finding{plan.Found(plan.PipeOffPlace, text, about...).Looking(c.place(first))}
}

// standsAt is the place of the thing that a node is the joint of, if it has one.
func (c checker) standsAt(id plan.ID, n plan.Node) (*plan.Spot, plan.Ref, string) {
	switch n.Kind {
	case "head":
		if h, ok := c.p.Heads[n.Head]; ok {
			return &plan.Spot{X: h.X, Y: h.Y}, plan.RefTo("heads", n.Head), c.p.HeadName(n.Head)
		}
	case "valve":
		if len(c.net.Zones[n.Zone].Valves) > 1 {
			break // told by itself
		}
		return c.p.Zones[n.Zone].ValveAt, plan.RefTo("zones", n.Zone), "the valve of " + c.p.ZoneName(n.Zone)
	case "connection":
		if id != c.net.Source {
			break // told by itself
		}
		return c.p.Supply.Connection, "supply", "the point of connection"
	case "backflow":
		if c.doubled && c.inMain(id, n) {
			break // told by itself
		}
		return c.p.Supply.BackflowAt, "supply", "the backflow device"
	}
	return nil, "", ""
}

// growing finds pipes that are larger than the one they hang on: one finding for all
// that hang on the main, since that is then the small one, and one for each zone.
func (c checker) growing() []plan.Finding {
	before := func(id plan.ID) plan.ID { return c.net.Nodes[c.net.Pipes[id].From].Up }
	byWater := map[plan.ID][]plan.ID{}
	for _, id := range c.byID(func(e Pipe) bool {
		up := c.p.Pipes[before(e.ID)].NominalIn
		return !e.Loop && up > 0 && c.p.Pipes[e.ID].NominalIn > up
	}) {
		z := c.net.Pipes[before(id)].Zone
		byWater[z] = append(byWater[z], id)
	}
	var found []plan.Finding
	for _, zone := range plan.SortedIDs(byWater) {
		ids := byWater[zone]
		first := c.nearest(ids)
		size, small := c.p.Show.PipeSize(c.p.Pipes[first].NominalIn), c.p.Show.PipeSize(c.p.Pipes[before(first)].NominalIn)
		text := fmt.Sprintf("In %s a pipe of %s follows one of %s.", c.water(c.net.Pipes[first].Zone), size, small)
		if len(ids) > 1 {
			text = fmt.Sprintf("In %s %d pipes are larger than those before them: one of %s follows one of %s.", c.water(zone), len(ids), size, small)
			if zone == "" {
				text = fmt.Sprintf("%d pipes are larger than the pipe of the main before them: one of %s follows one of %s.", len(ids), size, small)
			}
		}
		about := pipes(ids)
		told := map[plan.ID]bool{}
		for _, id := range ids {
			if up := before(id); !told[up] {
				told[up], about = true, append(about, plan.RefTo("pipes", up))
			}
		}
		found = append(found, plan.Found(plan.SizeGrows, text, about...).Looking(c.middle(first)).Measured("pipes", float64(len(ids))))
	}
	return found
}

// unmade finds pipes in sizes that their class is not made in.
func (c checker) unmade() []plan.Finding {
	ids := c.byID(func(e Pipe) bool {
		return c.p.Pipes[e.ID].NominalIn > 0 && len(e.Class.Sizes) > 0 && e.Size.Nominal == 0
	})
	if len(ids) == 0 {
		return nil
	}
	var kinds []string
	told := map[string]bool{}
	for _, id := range ids {
		e := c.p.Pipes[id]
		if k := fmt.Sprintf("%s in %s", c.p.PipeClassName(e.Class), c.p.Show.PipeSize(e.NominalIn)); !told[k] {
			told[k], kinds = true, append(kinds, k)
		}
	}
	text := fmt.Sprintf("%s %s, which is not made.", plan.Plural(len(ids), "pipe is", "pipes are"), plan.Several(kinds))
	return []plan.Finding{plan.Found(plan.SizeNotMade, text, pipes(ids)...).Looking(c.middle(ids[0])).Measured("pipes", float64(len(ids)))}
}

// undrinkable finds pipe that is not made for drinking water before the device
// that keeps the yard's water out of it. Water that nobody drinks is left alone.
func (c checker) undrinkable() []plan.Finding {
	if !c.p.Supply.Kind.Drunk() {
		return nil
	}
	_, device, chosen := c.p.BackflowDevice()
	afterValves := chosen && device.Backflow == catalog.AtmosphericBreaker
	behind, placed := map[plan.ID]bool{}, false
	for _, id := range c.net.Order {
		up := c.net.Nodes[id].Up
		behind[id] = c.p.Nodes[id].Kind == "backflow" || up != "" && behind[c.net.Pipes[up].From]
		placed = placed || c.p.Nodes[id].Kind == "backflow" && c.fed(id)
	}
	if !placed && !afterValves {
		return nil
	}
	ids := c.byID(func(e Pipe) bool {
		return c.fed(e.From) && !behind[e.From] && !e.Valved && e.Class.Material != "" && !e.Class.Potable
	})
	if len(ids) == 0 {
		return nil
	}
	text := fmt.Sprintf("%s before the backflow device %s not rated for drinking water.", plan.Plural(len(ids), "pipe", "pipes"), plan.Choose(len(ids), "is", "are"))
	return []plan.Finding{plan.Found(plan.PipeNotPotable, text, pipes(ids)...).Looking(c.middle(ids[0])).Measured("pipes", float64(len(ids)))}
}
