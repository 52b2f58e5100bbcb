package pipework

import (
	"cmp"
	"fmt"
	"slices"

	"evenfall/internal/plan"
)

// unvalved finds laterals that are joined to the main without a valve, zone by
// zone.
func (c checker) unvalved() []plan.Finding {
	byZone := map[plan.ID][]plan.ID{}
	for _, id := range c.byID(func(e Pipe) bool { return e.Zone != "" && !e.Valved && !e.Loop && c.fed(e.From) }) {
		z := c.net.Pipes[id].Zone
		byZone[z] = append(byZone[z], id)
	}
	var found []plan.Finding
	for _, zone := range plan.SortedIDs(byZone) {
		ids := byZone[zone]
		text := fmt.Sprintf("%s of %s %s joined to the main without its valve.", plan.Plural(len(ids), "pipe", "pipes"), c.p.ZoneName(zone), plan.Choose(len(ids), "is", "are"))
		found = append(found, plan.Found(plan.LateralWithoutValve, text, append(pipes(ids), plan.RefTo("zones", zone))...).
			Looking(c.middle(c.nearest(ids))).Measured("pipes", float64(len(ids))))
	}
	return append(found, c.onMain()...)
}

// onMain finds heads that stand on pipe of the main itself, zone by zone.
func (c checker) onMain() []plan.Finding {
	byZone := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(c.net.HeadAt) {
		if n := c.net.Nodes[c.net.HeadAt[id]]; n.Up != "" && !n.Valved && n.Zone == "" {
			z := c.p.Heads[id].Zone
			byZone[z] = append(byZone[z], id)
		}
	}
	var found []plan.Finding
	for _, zone := range plan.SortedIDs(byZone) {
		var about []plan.Ref
		for _, h := range byZone[zone] {
			about = append(about, plan.RefTo("heads", h))
		}
		of := ""
		if zone != "" {
			of, about = " of "+c.p.ZoneName(zone), append(about, plan.RefTo("zones", zone))
		}
		n := len(byZone[zone])
		text := fmt.Sprintf("%s%s %s on the main, before any valve.", plan.Capital(c.p.HeadNames(byZone[zone])), of, plan.Choose(n, "stands", "stand"))
		f := plan.Found(plan.LateralWithoutValve, text, about...).Looking(c.p.MiddleOf(about)).Measured("heads", float64(n))
		f.Title = "Heads on the main"
		f.Why = "On the main they run as long as the supply is on."
		f.Do = "Join them to a lateral behind their valve, or put their pipe in their zone and its valve before it."
		found = append(found, f)
	}
	return found
}

// fed reports whether a node has a way to the source.
func (c checker) fed(node plan.ID) bool { return node == c.net.Source || c.net.Nodes[node].Up != "" }

// nearest is the pipe among ids that water meets first: the one whose upper end
// hangs on none of them.
func (c checker) nearest(ids []plan.ID) plan.ID {
	among := make(map[plan.ID]bool, len(ids))
	for _, id := range ids {
		among[id] = true
	}
	for _, id := range ids {
		if !among[c.net.Nodes[c.net.Pipes[id].From].Up] {
			return id
		}
	}
	return ids[0]
}

// joined finds pipes between the waters of two zones, or of a zone and the main
// past its valve: once for each two waters.
func (c checker) joined() []plan.Finding {
	type waters struct{ first, second plan.ID }
	between := map[waters][]plan.ID{}
	var order []waters
	for _, id := range c.net.Loops {
		e := c.net.Pipes[id]
		a, b := c.waterAt(e.From, e), c.waterAt(e.To, e)
		if a == b || !c.fed(e.From) {
			continue
		}
		w := waters{min(a, b), max(a, b)}
		if between[w] == nil {
			order = append(order, w)
		}
		between[w] = append(between[w], id)
	}
	var found []plan.Finding
	for _, w := range order {
		ids := between[w]
		joins := plan.Capital(plan.Choose(len(ids), "a pipe joins", fmt.Sprintf("%d pipes join", len(ids))))
		about := append(pipes(ids), plan.RefTo("zones", w.second))
		text := fmt.Sprintf("%s %s to the main past its valve.", joins, c.p.ZoneName(w.second))
		if w.first != "" {
			text = fmt.Sprintf("%s %s to %s.", joins, c.water(w.second), c.water(w.first))
			about = append(about, plan.RefTo("zones", w.first))
		}
		found = append(found, plan.Found(plan.ZonesJoined, text, about...).Looking(c.middle(ids[0])).Measured("pipes", float64(len(ids))))
	}
	return found
}

// waterAt is whose water stands at one end of a pipe: at a valve that of the side
// the pipe is drawn for.
func (c checker) waterAt(node plan.ID, e Pipe) plan.ID {
	if c.p.Nodes[node].Kind == "valve" && c.p.Pipes[e.ID].Zone == "" {
		return ""
	}
	return c.net.Nodes[node].Zone
}

// valves finds zones of several valves, and valves behind those of other zones.
func (c checker) valves() []plan.Finding {
	var found []plan.Finding
	for _, zone := range plan.SortedIDs(c.net.Zones) {
		z := c.net.Zones[zone]
		about := []plan.Ref{plan.RefTo("zones", zone)}
		for _, v := range z.Valves {
			about = append(about, plan.RefTo("nodes", v))
		}
		if n := len(z.Valves); n > 1 {
			text := fmt.Sprintf("%s has %d valves in its pipes.", plan.Capital(c.p.ZoneName(zone)), n)
			found = append(found, plan.Found(plan.ValveDoubled, text, about...).Looking(c.place(z.Valves[1])))
			continue
		}
		up := c.net.Pipes[c.net.Nodes[z.Valve].Up]
		if up.Valved {
			text := fmt.Sprintf("The valve of %s stands behind the one of %s, and has water only while that one is open.", c.p.ZoneName(zone), c.p.ZoneName(up.Zone))
			f := plan.Found(plan.ValveDoubled, text, append(about, plan.RefTo("zones", up.Zone))...).Looking(c.place(z.Valve))
			f.Title = "Valve behind a valve"
			f.Why = "Its water passes both valves, each of which takes pressure, and both must open at once."
			f.Why = "Opened by itself, it gets no water; and while both are open, the first valve and its pipe carry the water of two zones."
			f.Do = "Join this valve to the main, before the other valve."
			found = append(found, f)
		}
	}
	return found
}

// strangers finds heads and pipes that hang on another zone's valve than they are
// marked with.
func (c checker) strangers() []plan.Finding {
	type mixed struct{ water, marked plan.ID }
	heads, lines := map[mixed][]plan.ID{}, map[mixed][]plan.ID{}
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		if n, ok := c.net.Nodes[c.net.HeadAt[id]]; ok && n.Valved && h.Zone != "" && h.Zone != n.Zone {
			m := mixed{n.Zone, h.Zone}
			heads[m] = append(heads[m], id)
		}
	}
	for _, id := range c.byID(func(e Pipe) bool { return e.Valved && !e.Loop && c.p.Pipes[e.ID].Zone != e.Zone }) {
		m := mixed{c.net.Pipes[id].Zone, c.p.Pipes[id].Zone}
		lines[m] = append(lines[m], id)
	}
	order := make([]mixed, 0, len(heads)+len(lines))
	for m := range heads {
		order = append(order, m)
	}
	for m := range lines {
		if heads[m] == nil {
			order = append(order, m)
		}
	}
	slices.SortFunc(order, func(a, b mixed) int { return cmp.Or(cmp.Compare(a.water, b.water), cmp.Compare(a.marked, b.marked)) })
	var found []plan.Finding
	for _, m := range order {
		about := append(pipes(lines[m]), plan.RefTo("zones", m.water))
		if m.marked != "" {
			about = append(about, plan.RefTo("zones", m.marked))
		}
		var text string
		if n := len(heads[m]); n > 0 {
			for _, h := range heads[m] {
				about = append(about, plan.RefTo("heads", h))
			}
			text = fmt.Sprintf("%s %s of %s, but %s on a pipe behind the valve of %s.", plan.Capital(c.p.HeadNames(heads[m])),
				plan.Choose(n, "is", "are"), c.p.ZoneName(m.marked), plan.Choose(n, "hangs", "hang"), c.p.ZoneName(m.water))
			found = append(found, plan.Found(plan.PipeOfOtherZone, text, about...).Looking(c.p.MiddleOf(about)))
			continue
		}
		text = fmt.Sprintf("%s marked as %s behind the valve of %s.", plan.Plural(len(lines[m]), "pipe is", "pipes are"), c.water(m.marked), c.p.ZoneName(m.water))
		found = append(found, plan.Found(plan.PipeOfOtherZone, text, about...).Looking(c.middle(lines[m][0])))
	}
	return found
}
