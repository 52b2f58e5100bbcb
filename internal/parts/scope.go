package parts

import (
	"strings"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
)

// scope says what the list counts and what it does not. It stands wherever the list
// does, since whoever shops by it must know what else to get.
func scope(p *plan.Plan, net *pipework.Network) string {
	counted := []string{"heads, nozzles, swing joints, flags and valves"}
	var left []string
	switch bare := unpiped(p, net); {
	case len(net.Pipes) == 0:
		left = append(left, "pipe and fittings, since none is drawn")
	case len(bare) > 0:
		counted = append(counted, "pipe as drawn with its fittings")
		left = append(left, "pipe and fittings of "+plan.Several(bare)+", since none is drawn")
	default:
		counted = append(counted, "pipe as drawn with its fittings")
	}
	if p.Supply.BackflowDevice != "" {
		counted = append(counted, "the devices chosen for the supply where it is new")
	} else {
		left = append(left, "a backflow device, since none is chosen")
	}
	counted = append(counted, "the controller and sensors placed on the plan as new")
	left = append(left, "cement, primer and thread tape", "wire", "valve boxes", "sleeves", "the water meter, which is the supplier's",
		"what areas without heads take")
	if p.Supply.Kind == plan.Reclaimed {
		left = append(left, "the purple lids, tags and signs that reclaimed water asks for")
	}
	return "Counted here: " + strings.Join(counted, "; ") + ". Not counted: " + strings.Join(left, "; ") + "."
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
