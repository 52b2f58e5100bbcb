package pressure

import (
	"fmt"
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yard is a plan being drawn for a test: nodes by name, pipes in the order they are
// laid.
type yard struct{ *plan.Plan }

func newYard() yard {
	p := plan.Empty("Yard", units.US)
	p.Supply = plan.Supply{Measured: true, StaticPSI: 60, FlowGPM: 15, ResidualPSI: 50}
	p.Nodes, p.Pipes, p.Heads, p.Zones = map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{"body": {Name: "Body"}}
	p.PipeClasses, p.Devices = map[plan.ID]catalog.PipeClass{}, map[plan.ID]catalog.Device{}
	p.Elevations = map[plan.ID]plan.Elevation{}
	return yard{p}
}

func (y yard) node(id plan.ID, kind string, zone plan.ID, x, yy float64) {
	n := plan.Node{Kind: kind, X: units.Feet(x), Y: units.Feet(yy), Zone: zone}
	if kind == "head" {
		n.Head = id
	}
	y.Nodes[id] = n
}

// head places a head with its node, both of one id.
func (y yard) head(id, nozzle, body, zone plan.ID, sweep, x, yy float64) {
	y.Heads[id] = plan.Head{Tag: string(id), Nozzle: nozzle, Body: body, Zone: zone, SweepDeg: units.Degrees(sweep), X: units.Feet(x), Y: units.Feet(yy)}
	y.node(id, "head", zone, x, yy)
}

func (y yard) pipe(zone, class plan.ID, size float64, ids ...plan.ID) {
	for i := range ids[1:] {
		y.Pipes[plan.ID(fmt.Sprintf("p%02d", len(y.Pipes)+1))] = plan.Pipe{From: ids[i], To: ids[i+1], Class: class, NominalIn: units.Inches(size), Zone: zone}
	}
}

// flat is a nozzle that takes the same flow at any pressure.
func (y yard) flat(id plan.ID, gpm units.GPM) {
	y.Nozzles[id] = catalog.Nozzle{Name: "Flat", Family: catalog.Rotor, ArcLeast: 1, ArcMost: 360, BestPSI: 40,
		Rows: []catalog.Row{{Pressure: 10, Throw: 30, Flow: gpm}, {Pressure: 90, Throw: 30, Flow: gpm}}}
}

func (y yard) device(id plan.ID, kind catalog.DeviceKind, at units.GPM, loss units.PSI) plan.ID {
	y.Devices[id] = catalog.Device{Name: string(id), Kind: kind, Source: "given", Loss: []catalog.LossPoint{{Flow: at, Loss: loss}}}
	return id
}

func (y yard) compute() *Result {
	r, _ := Compute(y.Plan, pipework.Of(y.Plan))
	return r
}

// straight is a yard with one zone: connection, main of 20 ft, valve, and heads in
// a row every 10 ft.
func straight(heads int) yard {
	y := newYard()
	y.flat("flat", 2)
	y.Zones["z1"] = plan.Zone{Name: "Row", Station: 1}
	y.node("c", "connection", "", 0, 0)
	y.node("v", "valve", "z1", 20, 0)
	y.pipe("", "pvc-sch40", 1, "c", "v")
	from := plan.ID("v")
	for i := range heads {
		id := plan.ID(fmt.Sprintf("h%d", i+1))
		y.head(id, "flat", "body", "z1", 180, float64(30+10*i), 0)
		y.pipe("z1", "pvc-class200", 1, from, id)
		from = id
	}
	return y
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.4f, want %.4f within %g", what, got, want, within)
	}
}

func step(t *testing.T, z Zone, code string) Step {
	t.Helper()
	var found []Step
	for _, s := range z.Budget {
		if s.Code == code {
			found = append(found, s)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d rows %s in the budget %+v", len(found), code, z.Budget)
	}
	return found[0]
}
