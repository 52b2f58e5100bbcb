package pressure

import (
	"cmp"
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// water is a plan's supply and pipes, ready to be solved for any set of zones.
type water struct {
	*supply
	net        *pipework.Network
	valve      map[plan.ID][]device // by zone
	valves     map[plan.ID]plan.ID  // zone by valve node
	mains      []plan.ID            // pipes of the main that the source feeds, by id
	mainLoops  bool
	backflowAt plan.ID               // node where the devices of the main stand
	headsOf    map[plan.ID][]plan.ID // standing heads by zone, by id
	hardest    map[plan.ID]plan.ID   // zone with which a pipe of the main carries most
}

func newWater(p *plan.Plan, net *pipework.Network) *water {
	w := &water{supply: newSupply(p), net: net, valve: map[plan.ID][]device{}, valves: map[plan.ID]plan.ID{}, backflowAt: net.Source}
	_, w.headsOf = standingHeads(p)
	for z, v := range net.Zones {
		w.valve[z] = valveOf(p, z)
		w.valves[v.Valve] = z
	}
	for _, id := range net.Order {
		if n := net.Nodes[id]; p.Nodes[id].Kind == "backflow" && !n.Valved && n.Up != "" {
			w.backflowAt = id
			break
		}
	}
	for _, id := range plan.SortedIDs(net.Pipes) {
		if v := net.Pipes[id]; !v.Valved && (net.Nodes[v.From].Up != "" || v.From == net.Source) {
			w.mains = append(w.mains, id)
			w.mainLoops = w.mainLoops || v.Loop
		}
	}
	return w
}

// standingHeads are the heads that stand, by id, all and by zone.
func standingHeads(p *plan.Plan) (all []plan.ID, byZone map[plan.ID][]plan.ID) {
	byZone = map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.Stands() {
			all, byZone[h.Zone] = append(all, id), append(byZone[h.Zone], id)
		}
	}
	return all, byZone
}

// standing are the zones that stand, by station, then id.
func (w *water) standing() []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(w.p.Zones) {
		if w.p.Zones[id].Status.Stands() {
			out = append(out, id)
		}
	}
	slices.SortStableFunc(out, func(a, b plan.ID) int { return cmp.Compare(w.p.Zones[a].Station, w.p.Zones[b].Station) })
	return out
}

// atRest is the pressure at each node of the main with nothing running.
func (w *water) atRest() map[plan.ID]units.PSI {
	out := map[plan.ID]units.PSI{}
	if w.net.Source == "" {
		return out
	}
	for id, n := range w.net.Nodes {
		if !n.Valved && (n.Up != "" || id == w.net.Source) {
			out[id] = w.curve.rest - riseTo(w, id)
		}
	}
	return out
}

// lacking says what keeps a zone from being solved, "" when nothing does.
func (w *water) lacking(zone plan.ID) string {
	z, drawn := w.net.Zones[zone]
	name := w.p.ZoneName(zone)
	switch {
	case len(w.net.Pipes) == 0:
		return "No pipes are drawn yet. Set the point of connection and the valves with Fixture, then draw with Pipe."
	case w.net.Source == "":
		return "The pipes have no point of connection yet. Draw it where the system leaves the service line."
	case !drawn:
		return fmt.Sprintf("No pipe leads to the valve of %s yet. Draw its valve and its pipes.", name)
	case !z.Fed:
		return fmt.Sprintf("The valve of %s has no way to the point of connection. Join it to the main.", name)
	case len(z.Valves) > 1:
		return fmt.Sprintf("%s has %d valves in its pipes, and which of them its water comes by is not known. Leave it one.", plan.Capital(name), len(z.Valves))
	case len(z.Heads) == 0:
		return fmt.Sprintf("No head of %s is joined to its valve by pipe yet.", name)
	}
	var bare []plan.ID
	for _, id := range w.carries([]plan.ID{zone}) {
		if w.net.Pipes[id].Size.Inside <= 0 {
			bare = append(bare, id)
		}
	}
	if len(bare) > 0 {
		first := w.net.Pipes[bare[0]]
		if drawn := w.p.Pipes[first.ID]; drawn.NominalIn > 0 && first.Class.Name != "" {
			return fmt.Sprintf("%s is not made in %s, the size of %s on the way of the water to %s. Choose another size or class.",
				catalog.NameIn(w.sys, first.Class.Name), w.sys.PipeSize(drawn.NominalIn), w.p.PipeName(first.ID), name)
		}
		what := plan.Plural(len(bare), "pipe has", "pipes have")
		where := "its laterals"
		if !first.Valved {
			where = "the main"
		}
		return fmt.Sprintf("%s no class or size yet on the way of the water to %s, the first on %s. Choose them, or let them be proposed.", what, name, where)
	}
	for _, h := range z.Heads {
		if _, ok := w.outletOf(h); !ok {
			return fmt.Sprintf("%s is used outside its nozzle's table, so that its flow is not known.", plan.Capital(w.p.HeadName(h)))
		}
	}
	return ""
}

// findHardest notes with which zone each pipe of the main carries most, the first
// of equal ones.
func (w *water) findHardest(zones []Zone) {
	w.hardest = map[plan.ID]plan.ID{}
	most := map[plan.ID]units.FeetPerSecond{}
	for _, z := range zones {
		for _, f := range z.Pipes {
			if !w.net.Pipes[f.Pipe].Valved && f.Velocity > most[f.Pipe]+1e-9 {
				w.hardest[f.Pipe], most[f.Pipe] = z.ID, f.Velocity
			}
		}
	}
}
