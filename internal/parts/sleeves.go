package parts

import (
	"fmt"
	"math"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// sleeves counts the pipe for sleeves: those drawn as new by their length, and those
// that crossings still want by the width of the paving and what goes past each edge.
func sleeves(p *plan.Plan, net *pipework.Network, digs *trench.Digs, ts tallies) {
	past, _ := p.Figure(plan.SleevePast)
	waste, _ := p.Figure(plan.PipeWaste)
	s := sleever{p: p, net: net, ts: ts, waste: waste}
	sizes, on := map[plan.ID]units.Inches{}, map[plan.ID]place{}
	for _, c := range digs.Crossings {
		for _, n := range c.Needs {
			at := s.listOf(c, n)
			if n.Sleeve != "" {
				sizes[n.Sleeve] = max(sizes[n.Sleeve], n.Nominal)
				if was, there := on[n.Sleeve]; there && was != at {
					at = place{kind: OnMain}
				}
				on[n.Sleeve] = at
				continue
			}
			if from := s.from(c, n); c.New && len(from) > 0 {
				length := c.Length + 2*units.Inches(past).Feet()
				s.sleeve(at, n.Nominal, length, from, fmt.Sprintf("As wide as the paving, and {%g in} past each edge; %s", past, added(waste)))
			}
		}
	}
	for _, id := range plan.SortedIDs(p.Sleeves) {
		v := p.Sleeves[id]
		if !v.Status.IsNew() {
			continue
		}
		at, known := on[id]
		if !known {
			at = place{kind: OnMain}
			if v.Carries == "wire" {
				at.kind = Electrical
			}
		}
		nominal := v.NominalIn
		if nominal == 0 {
			nominal = sizes[id]
		}
		length := units.Feet(pointsApart(v.From, v.To))
		s.sleeve(at, nominal, length, []plan.Ref{plan.RefTo("sleeves", id)}, "As long as it is drawn; "+added(waste))
	}
}

// sleever counts sleeves.
type sleever struct {
	p     *plan.Plan
	net   *pipework.Network
	ts    tallies
	waste float64
}

// listOf is the list a sleeve stands on: the zone's whose pipes alone go through, the
// electrical one for wire, else the main's.
func (s *sleever) listOf(c trench.Crossing, n trench.Need) place {
	if n.Carries == "wire" {
		return place{kind: Electrical}
	}
	at := place{kind: OnMain}
	for i, id := range c.Pipes {
		of := listOf(s.p, s.net.Pipes[id].Zone)
		if i > 0 && of != at {
			return place{kind: OnMain}
		}
		at = of
	}
	return at
}

// from is what asks for a sleeve that is not drawn.
func (s *sleever) from(c trench.Crossing, n trench.Need) []plan.Ref {
	var out []plan.Ref
	for _, id := range c.Pipes {
		out = append(out, plan.RefTo("pipes", id))
	}
	if n.Carries == "wire" || len(out) == 0 {
		out = append(out[:0], plan.RefTo("areas", c.Area))
	}
	return out
}

// sleeve counts the pipe of one sleeve and the caps that keep dirt out of it.
func (s *sleever) sleeve(at place, nominal units.Inches, length units.Feet, from []plan.Ref, rule string) {
	size := sizes(s.p.Show, nominal)
	on := s.ts.on(at)
	for i, ref := range from {
		a := amount{in: byLength, packing: packing{one: "stick", sizes: []float64{stickFt}, waste: s.waste},
			piece: piece{GroupSleeve, "PVC pipe for sleeves, " + size, plan.FixedWords(s.p.Show, rule), ref}}
		if i == 0 {
			a.of = float64(length)
		}
		on.addAmount(a)
	}
	on.addFrom(piece{group: GroupSleeve, item: "Cap for a sleeve, " + size, rule: "One on each end until the pipe is drawn through; tape serves, too. Mark where the ends are."}, 2, from)
}

func pointsApart(a, b plan.Spot) units.Feet {
	return units.Feet(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)))
}
