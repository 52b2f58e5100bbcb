package pipework

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// Check looks for what is wrong with the pipes as drawn: what hangs on nothing,
// what runs without its valve, and pipe that cannot be bought or must not stand
// where it does. A plan without pipes is not at them yet, and has nothing wrong.
// net is p's own.
func Check(p *plan.Plan, net *Network) []plan.Finding {
	if len(net.Pipes) == 0 {
		return nil
	}
	c := checker{p: p, net: net}
	devices := c.devices()
	c.doubled = len(devices) > 0
	return slices.Concat(c.connections(), devices, c.bypassed(), c.loose(), c.unpiped(), c.unvalved(), c.joined(), c.valves(), c.strangers(), c.ends(), c.offPlace(),
		c.growing(), c.unmade(), c.undrinkable())
}

// checker looks at one plan's pipes.
type checker struct {
	p       *plan.Plan
	net     *Network
	doubled bool // more than one backflow device in the main
}

// pipes refers to pipes.
func pipes(ids []plan.ID) []plan.Ref {
	out := make([]plan.Ref, len(ids))
	for i, id := range ids {
		out[i] = plan.RefTo("pipes", id)
	}
	return out
}

// middle is where to look at a pipe: halfway between its ends.
func (c checker) middle(pipe plan.ID) orb.Point {
	e := c.net.Pipes[pipe]
	a, b := c.p.Nodes[e.From], c.p.Nodes[e.To]
	return orb.Point{float64(a.X+b.X) / 2, float64(a.Y+b.Y) / 2}
}

func (c checker) place(node plan.ID) orb.Point {
	n := c.p.Nodes[node]
	return orb.Point{float64(n.X), float64(n.Y)}
}

// water names whose water is in a pipe: a zone's, or the main's.
func (c checker) water(zone plan.ID) string {
	if zone == "" {
		return "the main"
	}
	return c.p.ZoneName(zone)
}

// byID are the standing pipes for which something holds, by id.
func (c checker) byID(holds func(Pipe) bool) []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(c.net.Pipes) {
		if holds(c.net.Pipes[id]) {
			out = append(out, id)
		}
	}
	return out
}

// loose finds the pipes that no water comes to.
func (c checker) loose() []plan.Finding {
	cut := map[plan.ID]bool{}
	for _, n := range c.net.Loose {
		cut[n] = true
	}
	ids := c.byID(func(e Pipe) bool { return cut[e.From] })
	if len(ids) == 0 {
		return nil
	}
	text := fmt.Sprintf("%s no way to the point of connection.", plan.Plural(len(ids), "pipe has", "pipes have"))
	f := plan.Found(plan.PipesLoose, text, pipes(ids)...)
	if c.net.Source == "" {
		f = plan.Found(plan.PipesLoose, "The pipes begin at no point of connection, so none of them has water.", pipes(ids)...)
	}
	return []plan.Finding{f.Looking(c.middle(ids[0])).Measured("pipes", float64(len(ids)))}
}

// unpiped finds the heads that no pipe ends at, and the zones that have no pipe
// at all while others have.
func (c checker) unpiped() []plan.Finding {
	begun := map[plan.ID]bool{}
	for _, e := range c.net.Pipes {
		begun[e.Zone] = true
	}
	bare := map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(c.p.Heads) {
		h := c.p.Heads[id]
		if h.Status.Stands() && h.Zone != "" && c.p.Zones[h.Zone].Status != plan.Existing && !c.onPipe(c.net.HeadAt[id]) {
			bare[h.Zone] = append(bare[h.Zone], id)
		}
	}
	var found []plan.Finding
	var names []string
	var about []plan.Ref
	for _, zone := range plan.SortedIDs(bare) {
		if !begun[zone] {
			names, about = append(names, c.p.ZoneName(zone)), append(about, plan.RefTo("zones", zone))
			continue
		}
		refs := []plan.Ref{plan.RefTo("zones", zone)}
		for _, h := range bare[zone] {
			refs = append(refs, plan.RefTo("heads", h))
		}
		n := len(bare[zone])
		text := fmt.Sprintf("%s of %s %s on no pipe.", plan.Capital(c.p.HeadNames(bare[zone])), c.p.ZoneName(zone), plan.Choose(n, "hangs", "hang"))
		found = append(found, plan.Found(plan.HeadsWithoutPipe, text, refs...).Looking(c.p.MiddleOf(refs)).Measured("heads", float64(n)))
	}
	if len(names) > 0 {
		text := fmt.Sprintf("%s %s no pipe yet.", plan.Capital(plan.Several(names)), plan.Choose(len(names), "has", "have"))
		first := c.p.MiddleOf([]plan.Ref{plan.RefTo("heads", bare[about[0].ID()][0])})
		f := plan.Found(plan.HeadsWithoutPipe, text, about...).Ranked(plan.Notice).Looking(first)
		f.Title = "Zones without pipe"
		found = append(found, f)
	}
	return found
}

// onPipe reports whether any pipe ends at a node.
func (c checker) onPipe(node plan.ID) bool {
	n, ok := c.net.Nodes[node]
	return ok && n.Pipes > 0
}

// ends finds the ends of new pipe that lead to nothing.
func (c checker) ends() []plan.Finding {
	var about []plan.Ref
	var first plan.ID
	for _, id := range plan.SortedIDs(c.net.Nodes) {
		n := c.net.Nodes[id]
		if n.Up == "" || n.Pipes > 1 || c.p.Nodes[id].Kind != "joint" || !c.p.Pipes[n.Up].Status.IsNew() {
			continue
		}
		if first == "" {
			first = id
		}
		about = append(about, plan.RefTo("nodes", id), plan.RefTo("pipes", n.Up))
	}
	if first == "" {
		return nil
	}
	n := len(about) / 2
	text := fmt.Sprintf("%s at nothing, %s of %s.", plan.Plural(n, "pipe ends", "pipes end"), plan.Choose(n, "one", "the first"), c.water(c.net.Nodes[first].Zone))
	return []plan.Finding{plan.Found(plan.PipeEnds, text, about...).Looking(c.place(first)).Measured("ends", float64(n))}
}
