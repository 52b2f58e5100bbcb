package plan_test

import (
	"fmt"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// device copies a device of the catalogue in.
func (s *sketch) device(id plan.ID) plan.ID {
	d, ok := catalog.FindDevice(string(id))
	if !ok {
		panic("no device " + id)
	}
	if s.Devices == nil {
		s.Devices = map[plan.ID]catalog.Device{}
	}
	s.Devices[id] = d
	return id
}

// class copies a pipe class of the catalogue in.
func (s *sketch) class(id plan.ID) plan.ID {
	c, ok := catalog.FindPipeClass(string(id))
	if !ok {
		panic("no pipe class " + id)
	}
	if s.PipeClasses == nil {
		s.PipeClasses = map[plan.ID]catalog.PipeClass{}
	}
	s.PipeClasses[id] = c
	return id
}

// node places a joint.
func (s *sketch) node(id plan.ID, n plan.Node) plan.ID {
	if s.Nodes == nil {
		s.Nodes = map[plan.ID]plan.Node{}
	}
	s.Nodes[id] = n
	return id
}

// joint places a plain joint of the zone that is being drawn.
func (s *sketch) joint(id plan.ID, x, y float64) plan.ID {
	return s.node(id, plan.Node{Kind: "joint", X: units.Feet(x), Y: units.Feet(y), Zone: s.zone})
}

// mainJoint places a plain joint of the main.
func (s *sketch) mainJoint(id plan.ID, x, y float64) plan.ID {
	return s.node(id, plan.Node{Kind: "joint", X: units.Feet(x), Y: units.Feet(y)})
}

// connection places the point of connection and its node, jc.
func (s *sketch) connection(x, y float64) plan.ID {
	s.Supply.Connection = &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}
	return s.node("jc", plan.Node{Kind: "connection", X: units.Feet(x), Y: units.Feet(y)})
}

// backflow places the backflow device of a row and its node, jb, at a height above
// its ground.
func (s *sketch) backflow(device plan.ID, x, y, height float64) plan.ID {
	s.Supply.BackflowAt = &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}
	s.Supply.BackflowDevice, s.Supply.BackflowHeightFt = s.device(device), feet(height)
	return s.node("jb", plan.Node{Kind: "backflow", X: units.Feet(x), Y: units.Feet(y)})
}

// valveNode places the valve of the zone that is being drawn and its node, jv and
// the station.
func (s *sketch) valveNode(x, y float64) plan.ID {
	s.valveAt(x, y)
	id := plan.ID(fmt.Sprintf("jv%d", s.Zones[s.zone].Station))
	return s.node(id, plan.Node{Kind: "valve", X: units.Feet(x), Y: units.Feet(y), Zone: s.zone})
}

// under is the node of a head: j and its tag. It is placed when first asked for.
func (s *sketch) under(head plan.ID) plan.ID {
	id := "j" + head[1:]
	h, ok := s.Heads[head]
	if !ok {
		panic("no head " + head)
	}
	if _, there := s.Nodes[id]; !there {
		s.node(id, plan.Node{Kind: "head", X: h.X, Y: h.Y, Head: head, Zone: h.Zone})
	}
	return id
}

// run lays pipe of one class and size from node to node to node; a node that is a
// head's id is the node under it. It is the main where the zone is "".
func (s *sketch) run(zone, class plan.ID, size units.Inches, nodes ...plan.ID) {
	for i := range nodes[1:] {
		s.pipe(zone, class, size, nodes[i], nodes[i+1])
	}
}

// pipe lays one pipe, by corners x, y, x, y, … where it bends.
func (s *sketch) pipe(zone, class plan.ID, size units.Inches, from, to plan.ID, via ...float64) plan.ID {
	if s.Pipes == nil {
		s.Pipes = map[plan.ID]plan.Pipe{}
	}
	id := plan.ID(fmt.Sprintf("p%02d", len(s.Pipes)+1))
	p := plan.Pipe{From: s.nodeOf(from), To: s.nodeOf(to), Class: class, NominalIn: size, Zone: zone, Via: geom.Line(corners(via...))}
	if class != "" {
		s.class(class)
	}
	s.Pipes[id] = p
	return id
}

func (s *sketch) nodeOf(id plan.ID) plan.ID {
	if _, head := s.Heads[id]; head {
		return s.under(id)
	}
	return id
}

// repipe changes a pipe that is laid already.
func (s *sketch) repipe(id plan.ID, f func(*plan.Pipe)) {
	p, ok := s.Pipes[id]
	if !ok {
		panic("no pipe " + id)
	}
	f(&p)
	if p.Class != "" {
		s.class(p.Class)
	}
	s.Pipes[id] = p
}

// renode changes a joint that is there already.
func (s *sketch) renode(id plan.ID, f func(*plan.Node)) {
	n, ok := s.Nodes[id]
	if !ok {
		panic("no node " + id)
	}
	f(&n)
	s.Nodes[id] = n
}

// pipedYard is a small yard with everything from street to nozzle: a lawn of 30 x
// 15 ft with six sprays of 7.5 gpm on regulated bodies, a measured supply, an
// isolation valve, a pressure breaker, and one valve in a bed south of the lawn.
// Each change makes one thing different.
//
//	j1-4 --p09-- j1-5 -p08- jn --p10-- j1-6      y 14.6
//	                         |
//	                        p07
//	                         |
//	j1-1 --p05-- j1-2 -p04- ja --p06-- j1-3      y 0.4
//	                        p03
//	                        jv1  valve           y -3
//	                        p02  the main
//	                        jb   breaker         y -9
//	                        p01
//	                        jc   connection      y -12
func pipedYard(changes ...func(*sketch)) func() *sketch {
	return func() *sketch {
		s := newSketch("Piped yard")
		s.planting("bed", "Bed", plan.Shrubs, box(0, -14, 30, 0))
		s.change("bed", func(a *plan.Area) { a.Watering = plan.ByHand })
		s.Supply = plan.Supply{
			Kind: plan.TownMeter, Measured: true, StaticPSI: 60, MeasuredAt: "7 pm in July", FlowGPM: 12, ResidualPSI: 52,
			MeterIn: 0.75, ServiceMaterial: "copper", ServiceIn: 1, ServiceLengthFt: 40, Backflow: s.Supply.Backflow, Freeze: "blow_out",
			Meter: s.device("meter-0_75"), Isolation: s.device("isolation-ball-1"), SwingJoint: s.device("swing-joint-0_5"),
			ServiceClass: s.class("copper-l"),
		}
		s.valve(1, "Lawn")
		s.sprayLawn("lawn", "Lawn", 0, 2)
		s.rezone("z1", func(z *plan.Zone) { z.Valve = s.device("valve-1") })
		s.run("", "pvc-sch40", 1, s.connection(16, -12), s.backflow("backflow-pvb-1", 16, -9, 1.5), s.valveNode(16, -3))
		s.run("z1", "pvc-class200", 1, "jv1", s.joint("ja", 16, setIn))
		s.run("z1", "pvc-class200", 0.75, "ja", "h1-2", "h1-1")
		s.run("z1", "pvc-class200", 0.75, "ja", "h1-3")
		s.run("z1", "pvc-class200", 0.75, "ja", s.joint("jn", 16, 15-setIn), "h1-5", "h1-4")
		s.run("z1", "pvc-class200", 0.75, "jn", "h1-6")
		for _, change := range changes {
			change(s)
		}
		return s
	}
}

// rezone changes a zone that is there already.
func (s *sketch) rezone(id plan.ID, f func(*plan.Zone)) {
	z, ok := s.Zones[id]
	if !ok {
		panic("no zone " + id)
	}
	f(&z)
	s.Zones[id] = z
}

// The yard is what its picture says: ten pipes, every head on one of them, the rows
// of all of it copied in.
func TestPipedYardIsWhole(t *testing.T) {
	s := pipedYard()()
	if len(s.Pipes) != 10 || len(s.Nodes) != 11 {
		t.Errorf("%d pipes between %d nodes, want 10 and 11", len(s.Pipes), len(s.Nodes))
	}
	p, err := plan.Decode(s.Encode())
	if err != nil {
		t.Fatal(err)
	}
	reached := map[plan.ID]bool{}
	for _, pipe := range p.Pipes {
		if _, _, sized := p.Row(pipe); !sized {
			t.Errorf("the pipe from %s to %s has no row", pipe.From, pipe.To)
		}
		reached[p.Nodes[pipe.To].Head] = true
	}
	for id := range p.Heads {
		if !reached[id] {
			t.Errorf("no pipe reaches head %s", id)
		}
	}
}
