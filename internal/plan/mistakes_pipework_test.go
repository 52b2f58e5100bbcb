package plan_test

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// pipeworkMistakes are drawn with the pipes of pipedYard, or with those of
// twoValves.
var pipeworkMistakes = []mistake{
	{24, "pipe-not-potable", pipedYard(classOf("p01", "pvc-class200")), pipedYard()},
	{32, "size-not-made", pipedYard(sizeOf("p05", 0.5)), pipedYard(sizeOf("p05", 0.5), classOf("p05", "pvc-class315"))},
	{32, "class-under-pressure", pipedYard(standing(75), classOf("p02", "pe-100")), pipedYard(standing(75))},
	{33, "size-grows", pipedYard(sizeOf("p05", 1)), pipedYard()},
	{45, "pipes-loose", pipedYard(without("p07")), pipedYard()},
	{45, "heads-without-pipe", pipedYard(without("p06", "j1-3")), pipedYard()},
	{45, "zone-without-pipe", pipedYard(twoValves, without("p07", "p08", "p09", "p10", "jn", "j1-4", "j1-5", "j1-6")), pipedYard(twoValves)},
	{45, "lateral-without-valve", pipedYard(twoValves, from("p07", "jm")), pipedYard(twoValves)},
	{45, "zones-joined", pipedYard(twoValves, joining("ja", "jn")), pipedYard(twoValves)},
	{45, "valve-doubled", pipedYard(secondValve), pipedYard()},
	{45, "pipe-of-other-zone", pipedYard(twoValves, zoneOf("p05", "z2")), pipedYard(twoValves)},
	{45, "pipe-ends", pipedYard(stub), pipedYard()},
	{45, "pipe-off-place", pipedYard(nodeAt("j1-3", 26, setIn)), pipedYard()},
}

// standing is a supply of so many psi at rest, and 8 less at the flow measured.
func standing(psi units.PSI) func(*sketch) {
	return func(s *sketch) { s.Supply.StaticPSI, s.Supply.ResidualPSI = psi, psi-8 }
}

func sizeOf(pipe plan.ID, size units.Inches) func(*sketch) {
	return func(s *sketch) { s.repipe(pipe, func(p *plan.Pipe) { p.NominalIn = size }) }
}

func classOf(pipe, class plan.ID) func(*sketch) {
	return func(s *sketch) { s.repipe(pipe, func(p *plan.Pipe) { p.Class = class }) }
}

func zoneOf(pipe, zone plan.ID) func(*sketch) {
	return func(s *sketch) { s.repipe(pipe, func(p *plan.Pipe) { p.Zone = zone }) }
}

func from(pipe, node plan.ID) func(*sketch) {
	return func(s *sketch) { s.repipe(pipe, func(p *plan.Pipe) { p.From = node }) }
}

// without takes pipes and nodes away.
func without(ids ...plan.ID) func(*sketch) {
	return func(s *sketch) {
		for _, id := range ids {
			delete(s.Pipes, id)
			delete(s.Nodes, id)
		}
	}
}

// joining lays a pipe of the first zone between two joints.
func joining(a, b plan.ID) func(*sketch) {
	return func(s *sketch) { s.run("z1", "pvc-class200", 0.75, a, b) }
}

func headOf(head, zone plan.ID) func(*sketch) {
	return func(s *sketch) { s.reset(head, func(h *plan.Head) { h.Zone = zone }) }
}

func nodeAt(node plan.ID, x, y units.Feet) func(*sketch) {
	return func(s *sketch) {
		n := s.Nodes[node]
		n.X, n.Y = x, y
		s.Nodes[node] = n
	}
}

// stub lays a pipe that ends at nothing.
func stub(s *sketch) {
	s.run("z1", "pvc-class200", 0.75, "jn", s.joint("jx", 16, 20))
}

// secondValve puts another valve of the zone into the lateral of its east head.
func secondValve(s *sketch) {
	s.node("jv9", plan.Node{Kind: "valve", X: 22, Y: setIn, Zone: "z1"})
	s.run("z1", "pvc-class200", 0.75, "jv9", "h1-3")
	s.repipe("p06", func(p *plan.Pipe) { p.To = "jv9" })
}

// twoValves gives the north row of the yard a valve of its own, beside the first:
// the main forks at jm, and p07 is the second lateral.
//
//	jv1  jv2        y -3
//	 |    |
//	 jm --+         y -6
//	 |
//	 jb
func twoValves(s *sketch) {
	s.valve(2, "North row")
	s.rezone("z2", func(z *plan.Zone) { z.Valve = s.device("valve-1") })
	for _, id := range []plan.ID{"h1-4", "h1-5", "h1-6"} {
		headOf(id, "z2")(s)
		n := s.Nodes["j"+id[1:]]
		n.Zone = "z2"
		s.Nodes["j"+id[1:]] = n
	}
	s.repipe("p02", func(p *plan.Pipe) { p.To = s.mainJoint("jm", 16, -6) })
	s.run("", "pvc-sch40", 1, "jm", "jv1")
	s.pipe("", "pvc-sch40", 1, "jm", s.valveNode(20, -3), 20, -6)
	s.joint("jn", 20, 15-setIn)
	for _, id := range []plan.ID{"p07", "p08", "p09", "p10"} {
		s.repipe(id, func(p *plan.Pipe) { p.Zone = "z2" })
	}
	s.repipe("p07", func(p *plan.Pipe) { p.From, p.NominalIn = "jv2", 1 })
}
