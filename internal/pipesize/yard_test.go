package pipesize

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yard is a plan being drawn for a test: ids and coordinates as they come.
type yard struct{ *plan.Plan }

// newYard has a supply of 60 psi that keeps 50 at 15 gpm, a point of connection
// and, 20 ft on, the first joint of a main.
func newYard() yard {
	p := plan.Empty("Yard", units.US)
	p.Supply = plan.Supply{Measured: true, StaticPSI: 60, FlowGPM: 15, ResidualPSI: 50}
	p.Nodes, p.Pipes, p.Heads, p.Zones = map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	p.PipeClasses = map[plan.ID]catalog.PipeClass{}
	p.Bodies = map[plan.ID]catalog.Body{
		"open": {Name: "4 in body", Generic: true, Source: "test", Height: 4, Takes: "t", InletIn: 0.5},
		"reg":  {Name: "4 in body, 30 psi", Generic: true, Source: "test", Height: 4, Takes: "t", InletIn: 0.5, Regulated: 30},
	}
	p.Nozzles = map[plan.ID]catalog.Nozzle{}
	y := yard{p}
	y.node("c", "connection", "", 0, 0)
	return y
}

// spray is a nozzle of a flow at 30 psi, with rows from 15 to 45 psi.
func (y yard) spray(id plan.ID, gpm units.GPM) plan.ID {
	y.Nozzles[id] = catalog.Nozzle{
		Name: "Spray " + string(id), Family: catalog.Spray, Generic: true, Source: "test", ArcLeast: 1, ArcMost: 360, Trajectory: 25,
		Profile: catalog.Profile{Kind: catalog.ProfileLinear}, TurnDown: catalog.TurnDown{UsualShare: 0.75, LeastShare: 0.5, FlowPower: 1}, BestPSI: 30, Thread: "t",
		Rows: []catalog.Row{{Pressure: 15, Throw: 10, Flow: 0.707 * gpm}, {Pressure: 30, Throw: 15, Flow: gpm}, {Pressure: 45, Throw: 16, Flow: 1.225 * gpm}},
	}
	return id
}

func (y yard) node(id plan.ID, kind string, zone plan.ID, x, at float64) plan.ID {
	n := plan.Node{Kind: kind, X: units.Feet(x), Y: units.Feet(at), Zone: zone}
	if kind == "head" {
		n.Head = id
	}
	y.Nodes[id] = n
	return id
}

// lay joins nodes by pipes without sizes.
func (y yard) lay(zone plan.ID, ids ...plan.ID) {
	for i := range ids[1:] {
		y.Pipes[plan.ID(fmt.Sprintf("p-%s-%s", ids[i], ids[i+1]))] = plan.Pipe{From: ids[i], To: ids[i+1], Zone: zone}
	}
}

// zone draws a valve at x on the main with a row of heads every step feet behind it.
func (y yard) zone(station, heads int, nozzle, body plan.ID, x, step float64) plan.ID {
	z := plan.ID(fmt.Sprintf("z%d", station))
	y.Zones[z] = plan.Zone{Name: fmt.Sprintf("Row %d", station), Station: station}
	valve := y.node("v"+z, "valve", z, x, 1)
	y.Zones[z] = plan.Zone{Name: fmt.Sprintf("Row %d", station), Station: station, ValveAt: &plan.Spot{X: units.Feet(x), Y: 1}}
	from := valve
	for i := range heads {
		h := plan.ID(fmt.Sprintf("h%d-%d", station, i+1))
		at := 1 + step*float64(i+1)
		y.Heads[h] = plan.Head{Tag: fmt.Sprintf("%d-%d", station, i+1), Nozzle: nozzle, Body: body, Zone: z, SweepDeg: 360, X: units.Feet(x), Y: units.Feet(at)}
		y.node(h, "head", "", x, at)
		y.lay(z, from, h)
		from = h
	}
	return valve
}

// size gives a pipe a class and a size.
func (y yard) size(id, class plan.ID, in units.Inches) {
	v, there := y.Pipes[id]
	if !there {
		panic("no pipe " + id)
	}
	row, _ := catalog.FindPipeClass(string(class))
	y.PipeClasses[class] = row
	v.Class, v.NominalIn = class, in
	y.Pipes[id] = v
}

// twoZones is a main with a small zone near and a large one far.
func twoZones(body plan.ID) yard {
	y := newYard()
	y.spray("s", 1.5)
	far := y.zone(2, 8, "s", body, 60, 12)
	near := y.zone(1, 3, "s", body, 20, 12)
	y.node("t", "joint", "", 20, 0)
	y.lay("", "c", "t", far)
	y.lay("", "t", near)
	return y
}
