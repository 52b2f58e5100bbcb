package parts

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// sockets are the cemented ends of a fitting; those whose sizes are not all told take
// their first.
var sockets = map[pipework.JointKind]int{
	pipework.JointTee: 3, pipework.JointCross: 4, pipework.JointEll90: 2, pipework.JointEll45: 2, pipework.JointReducer: 2,
	pipework.JointTransition: 1, pipework.JointOutletTee: 2, pipework.JointOutletEll: 1, pipework.JointAdapter: 1, pipework.JointCap: 1,
}

// threads are the threaded ends of a fitting.
var threads = map[pipework.JointKind]int{pipework.JointTransition: 1, pipework.JointOutletTee: 1, pipework.JointOutletEll: 1, pipework.JointAdapter: 1}

// asCement is a joint of a size in joints of 1 in pipe: by its size, and the larger
// ones by the power of 3/2 (chosen, after the table on a can as remembered).
func asCement(nominal units.Inches) float64 {
	d := float64(nominal)
	if d <= 0 {
		d = 1
	}
	return math.Max(d, math.Pow(d, 1.5))
}

// glue counts cemented and threaded joints, by what they use up.
func glue(p *plan.Plan, net *pipework.Network, ts tallies) {
	g := newGluer(p, ts)
	for _, id := range plan.SortedIDs(net.Nodes) {
		for _, j := range net.Nodes[id].Joints {
			g.joint(j, plan.RefTo("nodes", id))
		}
	}
	for _, id := range plan.SortedIDs(net.Pipes) {
		e := net.Pipes[id]
		for _, j := range e.Joints {
			g.joint(j, plan.RefTo("pipes", id))
		}
		if p.Pipes[id].Status.IsNew() && e.Class.Joint == "cement" && e.Class.SoldFt > 0 {
			if bells := wholeUp(float64(e.Length/e.Class.SoldFt)) - 1; bells > 0 {
				g.cement(listOf(p, e.Zone), float64(bells)*asCement(p.Pipes[id].NominalIn), plan.RefTo("pipes", id))
			}
		}
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.IsNew() {
			g.tape(headsOn(p, h.Zone), 1, plan.RefTo("heads", id))
		}
	}
}

// gluer counts joints.
type gluer struct {
	p               *plan.Plan
	ts              tallies
	pints, turns    packing
	cemented, taped string
}

func newGluer(p *plan.Plan, ts tallies) *gluer {
	joints, _ := p.Figure(plan.CementJoints)
	turns, _ := p.Figure(plan.TapeTurns)
	return &gluer{
		p: p, ts: ts, pints: packing{one: "pint", sizes: []float64{joints}, plain: true}, turns: packing{one: "roll", sizes: []float64{turns}, plain: true},
		cemented: plan.FixedWords(p.Show, fmt.Sprintf("Each socket of a new fitting and each joint between sticks, as joints of {1 in} pipe: smaller ones by their size, larger ones by the power of 3/2; %g to a pint. The can says which cement is for this pipe, and how long it must cure. Air the place, and keep it from flames and skin.", joints)),
		taped:    fmt.Sprintf("Each thread of a new fitting, head and device; %g to a roll.", turns),
	}
}

func (g *gluer) joint(j pipework.Joint, from plan.Ref) {
	if !j.New {
		return
	}
	at := listOf(g.p, j.Zone)
	if class, _ := g.p.PipeClass(j.Class); class.Joint == "cement" {
		of := 0.0
		for i := range sockets[j.Kind] {
			of += asCement(j.Sizes[min(i, len(j.Sizes)-1)])
		}
		g.cement(at, of, from)
	}
	g.tape(at, threads[j.Kind], from)
}

func (g *gluer) cement(at place, joints float64, from plan.Ref) {
	for _, item := range []string{"Primer for PVC", "Solvent cement for PVC"} {
		g.ts.on(at).addAmount(amount{piece{GroupUsedUp, item, g.cemented, from}, joints, byJoint, g.pints})
	}
}

func (g *gluer) tape(at place, joints int, from plan.Ref) {
	if joints > 0 {
		g.ts.on(at).addAmount(amount{piece{GroupUsedUp, "Thread tape", g.taped, from}, float64(joints), byJoint, g.turns})
	}
}

// paint is what the trenches are marked with.
func paint(p *plan.Plan, digs *trench.Digs, ts tallies) {
	feet, _ := p.Figure(plan.PaintFeet)
	can := packing{one: "can", sizes: []float64{feet}, plain: true}
	for _, s := range digs.Segments {
		if !s.New || !s.Dug || s.Length <= 0 {
			continue
		}
		var from plan.Ref
		switch {
		case len(s.Pipes) > 0:
			from = plan.RefTo("pipes", s.Pipes[0])
		case len(s.Wires) > 0:
			from = plan.RefTo("wires", s.Wires[0])
		default:
			continue
		}
		ts.on(place{kind: WholeJob}).addAmount(amount{piece{GroupUsedUp, "Marking paint, white, for the ground",
			"The length of the trenches to be dug, to mark them out. White marks a dig to come; have buried lines located first.", from}, float64(s.Length), byLength, can})
	}
}

// spares adds, for the whole job, what the plan's figures want beyond what is drawn:
// flags to be written on, and heads.
func spares(p *plan.Plan, ts tallies) {
	flags, _ := p.Figure(plan.FlagsSpare)
	heads, _ := p.Figure(plan.HeadsSpare)
	all := newTally()
	for _, t := range ts { // sums of whole counts: any order does
		all.addSuch(t, func(group string) bool {
			return group == GroupFlag || heads > 0 && (group == GroupBody || group == GroupNozzle || group == GroupJoint)
		})
	}
	for _, l := range all.lines() {
		share, item := 0.0, l.Item
		switch l.Group {
		case GroupBody, GroupNozzle, GroupJoint:
			share = heads
		case GroupFlag:
			share, item = flags, "Flag, white, to be written on"
		}
		if n := wholeUp(float64(l.Count) * share); n > 0 {
			ts.on(place{kind: WholeJob}).addFrom(piece{group: l.Group, item: item,
				rule: fmt.Sprintf("Spares: %s of those drawn, rounded up.", percent(share))}, n, slices.Compact(l.From))
		}
	}
}

// checks are the check valves under low heads whose bodies have none.
func checks(p *plan.Plan, names itemNames, ts tallies) {
	for _, id := range plan.LowUnchecked(p) {
		h := p.Heads[id]
		if !h.Status.IsNew() {
			continue
		}
		item := "Check valve, under a head"
		if in := names.inlets[h.Body]; in > 0 {
			item += ", " + p.Show.PipeSize(in)
		}
		ts.on(headsOn(p, h.Zone)).add(piece{GroupCheck, item, "One for each new head that stands low in its zone and whose body has none, so that the pipe does not drain through it. A body with a check valve in it serves instead.", plan.RefTo("heads", id)})
	}
}
