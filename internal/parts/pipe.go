package parts

import (
	"fmt"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// pipes counts the new pipe by class and size on the list of the zone whose water
// it carries.
func pipes(p *plan.Plan, net *pipework.Network, ts tallies) {
	waste, _ := p.Figure(plan.PipeWaste)
	rules := map[string]string{} // by joint
	ruleOf := func(joint string) string {
		if rules[joint] == "" {
			rules[joint] = pipeRule(joint, waste)
		}
		return rules[joint]
	}
	for _, id := range plan.SortedIDs(net.Pipes) {
		drawn, e := p.Pipes[id], net.Pipes[id]
		if !drawn.Status.IsNew() {
			continue
		}
		on := ts.on(listOf(p, e.Zone))
		on.addAmount(amount{
			piece: piece{GroupPipe, pipeName(p, drawn, e.Class), ruleOf(e.Class.Joint), plan.RefTo("pipes", id)},
			of:    float64(e.Length), in: byLength, packing: pipePacks(e.Class, waste),
		})
		if e.Class.Joint == "insert" {
			clamp := piece{GroupFitting, "Clamp, " + sizes(p.Show, drawn.NominalIn), "One at every end of pipe on an insert fitting.", plan.RefTo("pipes", id)}
			for range 2 + 2*len(e.Joints) {
				on.add(clamp)
			}
		}
	}
}

// listOf is the list of the zone whose water is meant; the main's for none. A zone
// that does not stand has no list, and its pipe stands with what is in no zone.
func listOf(p *plan.Plan, zone plan.ID) place {
	z, ok := p.Zones[zone]
	switch {
	case zone == "":
		return place{kind: OnMain}
	case !ok || !z.Status.Stands():
		return place{kind: InNoZone}
	}
	return place{OfZone, zone}
}

// pipeName is pipe as it is asked for: "Class 200 PVC pipe, 3/4 in". What carries
// reclaimed water is asked for in its colour, so that nobody drinks from it.
func pipeName(p *plan.Plan, drawn plan.Pipe, class catalog.PipeClass) string {
	what := "Pipe of no class yet"
	switch name := p.PipeClassName(drawn.Class); {
	case name != "":
		what = name + " pipe"
	case drawn.Material != "":
		what = plan.Capital(drawn.Material) + " pipe"
	}
	name := what + ", " + sizes(p.Show, drawn.NominalIn)
	if p.Supply.Kind == plan.Reclaimed {
		name += ", purple for reclaimed water"
	}
	return name
}

// pipeRule says how a length of pipe was counted.
func pipeRule(joint string, waste float64) string {
	rule := "The length along the pipes as drawn, each list rounded up; " + added(waste) + " Nothing is added for depth at risers."
	switch joint {
	case "cement":
		rule += " Sticks are belled and join without couplings."
	case "solder", "thread":
		rule += " Couplings between lengths are not counted."
	}
	return rule
}

// added says what is added for waste when a line is bought.
func added(waste float64) string {
	if waste == 0 {
		return "nothing is added for what is cut off."
	}
	return percent(waste) + " more is bought, for what is cut off."
}

// pipePacks is how pipe of a class is sold: the length its row says, and PE of the
// built-in tables in the usual coils.
func pipePacks(class catalog.PipeClass, waste float64) packing {
	k := packing{one: "stick", sizes: []float64{float64(class.SoldFt)}, waste: waste}
	if class.Material == catalog.PE {
		k.one = "coil"
		if class.Generic && class.SoldFt == units.Feet(coilsOfPE[0]) {
			k.sizes = coilsOfPE
		}
	}
	return k
}

// sizes writes nominal sizes as they are asked for, "1 × 3/4 in": the unit stands
// once, and sizes that are all alike stand once.
func sizes(sys units.System, list ...units.Inches) string {
	alike := true
	for _, in := range list {
		if in <= 0 {
			return "not sized yet"
		}
		alike = alike && in == list[0]
	}
	if alike {
		return sys.PipeSize(list[0])
	}
	words := make([]string, len(list))
	for i, in := range list {
		words[i] = strings.TrimPrefix(strings.TrimSuffix(sys.PipeSize(in), " in"), "DN ")
	}
	if sys == units.Metric {
		return "DN " + strings.Join(words, " × ")
	}
	return fmt.Sprintf("%s in", strings.Join(words, " × "))
}
