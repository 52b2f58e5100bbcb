package pipework

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// guarded reports whether the water is kept from what somebody drinks by a device in
// the main: not where nobody drinks it, nor by breakers behind the zone valves.
func (c checker) guarded() bool {
	_, device, chosen := c.p.BackflowDevice()
	return c.p.Supply.Kind.Drunk() && !(chosen && device.Backflow == catalog.AtmosphericBreaker)
}

// bypassed finds zones that the main reaches without passing the backflow device.
func (c checker) bypassed() []plan.Finding {
	if !c.guarded() || c.net.Source == "" {
		return nil
	}
	reached, drawn := map[plan.ID]bool{c.net.Source: true}, false
	joined := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(c.net.Pipes) {
		if e := c.net.Pipes[id]; !e.Valved {
			joined[e.From], joined[e.To] = append(joined[e.From], e.To), append(joined[e.To], e.From)
		}
	}
	for next := []plan.ID{c.net.Source}; len(next) > 0; next = next[1:] {
		if c.p.Nodes[next[0]].Kind == "backflow" {
			drawn = true
			continue
		}
		for _, to := range joined[next[0]] {
			if !reached[to] {
				reached[to], next = true, append(next, to)
			}
		}
	}
	if !drawn {
		return nil
	}
	var names []string
	var about []plan.Ref
	for _, zone := range plan.SortedIDs(c.net.Zones) {
		if v := c.net.Zones[zone].Valve; reached[v] {
			names, about = append(names, c.p.ZoneName(zone)), append(about, plan.RefTo("zones", zone), plan.RefTo("nodes", v))
		}
	}
	if len(names) == 0 {
		return nil
	}
	f := plan.Found(plan.BreakerMisplaced, fmt.Sprintf("Water reaches %s from the point of connection without passing the backflow device.", plan.Several(names)), about...)
	f.Title = "Water goes round the backflow device"
	f.Why = "What the device does not guard can run back into the drinking water."
	f.Do = "Lead every way of the main to the zone valves through the device: delete the pipe that goes round it, or move the valve behind it. Local code decides."
	f.Source = "Protection of the potable supply of lawn systems: International Plumbing Code 608; local code decides"
	return []plan.Finding{f.Looking(c.place(about[1].ID()))}
}

// connections finds points of connection past the first: pressures know one supply.
func (c checker) connections() []plan.Finding {
	var about []plan.Ref
	for _, id := range plan.SortedIDs(c.net.Nodes) {
		if n := c.p.Nodes[id]; n.Kind == "connection" && n.Status.Stands() && id != c.net.Source {
			about = append(about, plan.RefTo("nodes", id))
		}
	}
	if len(about) == 0 {
		return nil
	}
	text := fmt.Sprintf("%d points of connection are drawn, and pressures are worked out from one of them alone.", len(about)+1)
	f := plan.Found(plan.PipesLoose, text, append(about, plan.RefTo("nodes", c.net.Source))...)
	f.Title = "More than one point of connection"
	f.Why = "One supply feeds the plan; what a second one would add is not known."
	f.Do = "Delete all but one, or make of the second supply a plan of its own."
	return []plan.Finding{f.Looking(c.place(about[0].ID()))}
}

// devices finds backflow devices in the main past the first: what one takes is
// counted once.
func (c checker) devices() []plan.Finding {
	_, device, chosen := c.p.BackflowDevice()
	if chosen && device.Backflow == catalog.AtmosphericBreaker {
		return nil // one stands after each valve
	}
	var about []plan.Ref
	for _, id := range c.net.Order {
		if n := c.p.Nodes[id]; c.inMain(id, n) {
			about = append(about, plan.RefTo("nodes", id))
		}
	}
	if len(about) < 2 {
		return nil
	}
	f := plan.Found(plan.ValveDoubled, fmt.Sprintf("%d backflow devices are drawn in the main, and what one takes is counted once.", len(about)), about...)
	f.Title = "More than one backflow device"
	f.Why = "Each one takes pressure, is bought, tested and kept from frost; the plan knows of one."
	f.Do = "Delete the joints of those that are not there. Local code decides where one has to stand."
	f.Source = "One device before all zone valves: common practice"
	return []plan.Finding{f.Looking(c.place(about[1].ID()))}
}

// inMain reports whether a node is a backflow device that the main leads to.
func (c checker) inMain(id plan.ID, n plan.Node) bool {
	return n.Kind == "backflow" && n.Status.Stands() && !c.net.Nodes[id].Valved && c.net.Nodes[id].Up != ""
}
