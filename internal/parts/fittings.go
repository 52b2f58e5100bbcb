package parts

import (
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// fittings counts what the joints of the new pipes and their corners take.
func fittings(p *plan.Plan, net *pipework.Network, ts tallies) {
	for _, id := range plan.SortedIDs(net.Nodes) {
		for _, j := range net.Nodes[id].Joints {
			fitting(p, id, j, plan.RefTo("nodes", id), ts)
		}
	}
	for _, id := range plan.SortedIDs(net.Pipes) {
		for _, j := range net.Pipes[id].Joints {
			fitting(p, "", j, plan.RefTo("pipes", id), ts)
		}
	}
}

// fitting counts one joint at a node, or at a corner of a pipe.
func fitting(p *plan.Plan, node plan.ID, j pipework.Joint, from plan.Ref, ts tallies) {
	if j.New {
		ts.on(listOf(p, j.Zone)).add(piece{GroupFitting, fittingName(p, node, j), fittingRules[j.Kind], from})
	}
}

// materials are how the fittings of a material are asked for.
var materials = map[catalog.PipeMaterial]string{
	catalog.PVC: "PVC ", catalog.PE: "Insert ", catalog.Copper: "Copper ", catalog.Steel: "Galvanised ",
}

// fittingWords are what the kinds of joint are asked for as, after their material.
var fittingWords = map[pipework.JointKind]string{
	pipework.JointTee: "tee", pipework.JointCross: "cross", pipework.JointEll90: "90° ell", pipework.JointEll45: "45° ell",
	pipework.JointReducer: "reducing coupling", pipework.JointTransition: "adapter to other pipe",
	pipework.JointOutletTee: "tee", pipework.JointOutletEll: "ell",
	pipework.JointAdapter: "male adapter", pipework.JointCap: "cap",
}

// fittingRules say how the kinds of joint follow from the drawing.
var fittingRules = map[pipework.JointKind]string{
	pipework.JointTee:        "One where three pipes meet; a row of them where more do.",
	pipework.JointCross:      "One where four pipes meet square.",
	pipework.JointEll90:      "At turns, in quarters and eighths of a circle; a turn under 12° is left to the pipe.",
	pipework.JointEll45:      "At turns, in quarters and eighths of a circle; a turn under 12° is left to the pipe.",
	pipework.JointReducer:    "One where a pipe goes straight on in another size.",
	pipework.JointTransition: "One where pipes of two materials meet.",
	pipework.JointOutletTee:  "One under each head that the pipe goes past.",
	pipework.JointOutletEll:  "One under each head at the end of a pipe.",
	pipework.JointAdapter:    "One on each side of a valve or backflow device, and at a drain.",
	pipework.JointCap:        "One at each end that leads to nothing.",
}

// fittingName is a joint as it is asked for: "PVC tee, 1 × 1 × 3/4 in".
func fittingName(p *plan.Plan, node plan.ID, j pipework.Joint) string {
	class, _ := p.PipeClass(j.Class)
	list, word := slices.Clone(j.Sizes), fittingWords[j.Kind]
	switch j.Kind {
	case pipework.JointTee, pipework.JointCross: // either way round
		larger(list[:2])
		larger(list[2:])
	case pipework.JointOutletTee, pipework.JointReducer:
		larger(list)
	case pipework.JointAdapter:
		if to := threadAt(p, node); to > 0 && to != list[0] && list[0] > 0 {
			list = append(list, to)
		}
	}
	name := plan.Capital(materials[class.Material]+word) + ", " + sizes(p.Show, list...)
	switch j.Kind {
	case pipework.JointOutletTee, pipework.JointOutletEll:
		name += ", with a threaded outlet"
		if j.Thread > 0 {
			name += " of " + p.Show.PipeSize(j.Thread)
		}
	}
	return name
}

// larger puts the larger size first.
func larger(list []units.Inches) {
	slices.SortFunc(list, func(a, b units.Inches) int {
		switch {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
}

// threadAt is the nominal size of the device at a node; 0 for none.
func threadAt(p *plan.Plan, node plan.ID) units.Inches {
	switch n := p.Nodes[node]; n.Kind {
	case "valve":
		if n.Zone != "" {
			_, d := p.ZoneValve(n.Zone)
			return d.Nominal
		}
	case "backflow":
		_, d, _ := p.BackflowDevice()
		return d.Nominal
	}
	return 0
}
