package parts

import (
	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// atSupply counts what stands between street and zone valves, where the supply is
// new: only what the plan has chosen, since local code decides which backflow device
// it may be and who sets it. The meter is the water supplier's.
func atSupply(p *plan.Plan, net *pipework.Network, ts tallies) {
	s := p.Supply
	for _, id := range plan.SortedIDs(net.Nodes) {
		n, from := p.Nodes[id], plan.RefTo("nodes", id)
		on := listOf(p, net.Nodes[id].Zone)
		switch {
		case !n.Status.IsNew():
		case n.Kind == "drain":
			ts.on(on).add(piece{GroupFrost, drainName(s.Freeze), "One for each drain placed on the plan as new.", from})
		case n.Kind == "valve" && n.Zone == "":
			ts.on(on).add(piece{GroupValve, "Shut-off valve, " + sizeAt(p, net.Nodes[id]), "One for each valve by hand placed in the pipe as new.", from})
		}
	}
	if !s.Status.IsNew() {
		return
	}
	here := place{kind: AtConnection}
	one := func(group, item, rule string) { ts.on(here).add(piece{group, item, rule, "supply"}) }
	if id, d, chosen := p.BackflowDevice(); chosen {
		if d.Backflow == catalog.AtmosphericBreaker {
			breakers(p, id, ts)
		} else {
			one(GroupBackflow, p.DeviceName(id), "The one chosen for the supply. Local code decides on its kind and on who sets and tests it.")
			atDevice(p, d, deviceDrawn(p, net), func(group, item, rule string, n int) {
				ts.on(here).addSome(piece{group, item, rule, "supply"}, n)
			})
		}
	}
	if _, ok := p.Device(s.Isolation); ok && s.Isolation != "" && s.Kind != plan.HousePipe {
		set := newSetter(p, ts)
		set.set(here, trench.RoundBox, "One for a shut-off valve in the ground, so that it is found and turned.", []plan.Ref{"supply"})
	}
	for _, chosen := range []plan.ID{s.Isolation, s.Filter, s.MasterValve} {
		if _, ok := p.Device(chosen); ok && chosen != "" {
			one(GroupSupply, p.DeviceName(chosen), "The one chosen for the supply.")
		}
	}
	if s.Regulator {
		one(GroupSupply, "Pressure regulator", "The supply is planned with one. Size it to the design flow.")
	}
	if s.Freeze == "blow_out" {
		rule := "One after the backflow device, to blow the pipes out with air by volume at low pressure; never through the device."
		if _, d, chosen := p.BackflowDevice(); chosen && d.Backflow == catalog.AtmosphericBreaker {
			rule = "One in the main before the zone valves, to blow the pipes out with air by volume at low pressure; the breakers are opened as their maker says before, since no air may be driven through them."
		}
		one(GroupFrost, "Blow-out port, capped", rule)
	}
}

// deviceDrawn reports whether pipe is drawn to a backflow device.
func deviceDrawn(p *plan.Plan, net *pipework.Network) bool {
	for id, n := range net.Nodes {
		if p.Nodes[id].Kind == "backflow" && n.Pipes > 0 {
			return true
		}
	}
	return false
}

// breakers are the atmospheric vacuum breakers, one after each new zone valve.
func breakers(p *plan.Plan, id plan.ID, ts tallies) {
	for _, zone := range plan.SortedIDs(p.Zones) {
		if p.Zones[zone].Status.IsNew() {
			ts.on(place{OfZone, zone}).add(piece{GroupBackflow, p.DeviceName(id), "One after each new zone valve. Local code decides on its kind and on who sets and tests it.", plan.RefTo("zones", zone)})
		}
	}
}

// drainName is a drain as the plan means to empty its pipes.
func drainName(freeze string) string {
	switch freeze {
	case "manual_drain":
		return "Drain valve, opened by hand"
	case "automatic_drain":
		return "Drain valve, automatic"
	}
	return "Drain valve"
}

// sizeAt is the size of the pipe at a device, by its adapters.
func sizeAt(p *plan.Plan, n pipework.Node) string {
	for _, j := range n.Joints {
		if j.Kind == pipework.JointAdapter {
			return sizes(p.Show, j.Sizes[0])
		}
	}
	return "not sized yet"
}
