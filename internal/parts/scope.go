package parts

import (
	"strings"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// scope says what the list counts and what it does not. It stands wherever the list
// does, since whoever shops by it must know what else to get.
func scope(p *plan.Plan, net *pipework.Network, digs *trench.Digs, wired *wire.Wiring) string {
	counted := []string{"heads, nozzles, swing joints, flags and valves"}
	var left []string
	switch bare := unpiped(p, net); {
	case len(net.Pipes) == 0:
		left = append(left, "pipe and fittings, since none is drawn")
	case len(bare) > 0:
		counted = append(counted, "pipe as drawn with its fittings, cement and sleeves")
		left = append(left, "pipe and fittings of "+plan.Several(bare)+", since none is drawn")
	default:
		counted = append(counted, "pipe as drawn with its fittings, cement and sleeves")
	}
	if len(digs.Boxes) > 0 {
		counted = append(counted, "valve boxes with gravel and bricks")
	} else {
		left = append(left, "valve boxes, since no valve has its place yet")
	}
	if p.Supply.BackflowDevice != "" {
		counted = append(counted, "the devices chosen for the supply where it is new")
		left = append(left, "the pipe that rises to the backflow device")
		if p.Supply.Freeze == "" {
			left = append(left, "its cover, since the plan does not say whether it freezes there")
		}
	} else {
		left = append(left, "a backflow device, since none is chosen")
	}
	counted = append(counted, "the controller and sensors placed on the plan as new")
	counted, left = wireSaid(wired, counted, left)
	left = append(left, "mains electricity and protection from lightning", "the water meter, which is the supplier's", "what areas without heads take",
		"tools, and what ground and lawn take afterwards")
	if p.Supply.Kind == plan.Reclaimed {
		left = append(left, "the purple tags and signs that reclaimed water asks for")
	}
	return "Counted here: " + strings.Join(counted, "; ") + ". Not counted: " + strings.Join(left, "; ") + "."
}

// wireSaid adds what is counted of the wire.
func wireSaid(wired *wire.Wiring, counted, left []string) (now, still []string) {
	without := 0
	for _, runs := range [][]wire.Run{wired.Runs, wired.Sensors} {
		for _, r := range runs {
			if r.New && !r.Known {
				without++
			}
		}
	}
	if len(wired.Cables) == 0 {
		return counted, append(left, "wire, since none has a way from a controller to a valve")
	}
	counted = append(counted, "wire with its connectors")
	if without > 0 {
		left = append(left, "the wire of "+plan.Plural(without, "valve or sensor that has", "valves or sensors that have")+" no way to the controller yet")
	}
	return counted, left
}

// unpiped names the zones with heads to which no pipe is drawn.
func unpiped(p *plan.Plan, net *pipework.Network) []string {
	piped, headed := map[plan.ID]bool{}, map[plan.ID]bool{}
	for _, e := range net.Pipes {
		piped[e.Zone] = true
	}
	for _, h := range p.Heads {
		headed[h.Zone] = headed[h.Zone] || h.Status.Stands()
	}
	var names []string
	for _, id := range plan.SortedIDs(p.Zones) {
		if z := p.Zones[id]; z.Status.IsNew() && headed[id] && !piped[id] {
			names = append(names, p.ZoneName(id))
		}
	}
	return names
}
