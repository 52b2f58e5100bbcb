package packs

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/design"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// namedPlan is a plan that papers are made of in tests.
type namedPlan struct {
	name string
	in   Input
}

// crowdedPlans are three plans whose labels fight for room: 60 heads in a strip of
// 40 ft, 14 zones whose valves stand in one manifold, and a metric yard where
// everything has a long name in some script.
func crowdedPlans(t testing.TB) []namedPlan {
	t.Helper()
	return []namedPlan{
		{"strip", designed(t, crowdedStrip())},
		{"manifold", designed(t, crowdedManifold())},
		{"names", designed(t, crowdedNames())},
	}
}

// demoInput is the demo plan as it comes.
func demoInput(t testing.TB) Input {
	t.Helper()
	doc, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return designed(t, p)
}

// designed is a plan as its file reads, with what the stages say of it. The plan is the
// caller's own, to be changed; the stages run once for all tests that ask about the same,
// and what they say is read alone.
func designed(t testing.TB, p *plan.Plan) Input {
	t.Helper()
	doc := p.Encode()
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	run, _ := designs.LoadOrStore(string(doc), sync.OnceValues(func() (*design.Design, error) {
		of, err := plan.Decode(doc)
		if err != nil {
			return nil, err
		}
		return design.Run(context.Background(), of)
	}))
	d, err := run.(func() (*design.Design, error))()
	if err != nil {
		t.Fatal(err)
	}
	return Input{Plan: p, Design: d}
}

var designs sync.Map // of documents

// drawnYard is a yard with a house and a supply and nothing of the system yet.
func drawnYard(name string, show units.System, wide, high float64) *plan.Plan {
	p := plan.Empty(name, show)
	p.Areas, p.Barriers, p.Trees, p.KeepDry = map[plan.ID]plan.Area{}, map[plan.ID]plan.Barrier{}, map[plan.ID]plan.Tree{}, map[plan.ID]plan.KeepDry{}
	p.Heads, p.Zones, p.Nodes, p.Pipes = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}, map[plan.ID]plan.Node{}, map[plan.ID]plan.Pipe{}
	p.Nozzles, p.Bodies, p.Notes = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}, map[plan.ID]plan.Note{}
	p.PipeClasses, p.Devices = map[plan.ID]catalog.PipeClass{}, map[plan.ID]catalog.Device{}
	for _, id := range []plan.ID{"copper-l", "pvc-sch40", "pvc-class200"} {
		p.PipeClasses[id], _ = catalog.FindPipeClass(string(id))
	}
	p.Devices["backflow-pvb-1"], _ = catalog.FindDevice("backflow-pvb-1")
	p.Site.Lot = rectangle(0, 0, wide, high)
	p.Areas["lawn"] = plan.Area{Name: "Lawn", Kind: plan.Planting, Outline: rectangle(0, 0, wide, high), Status: plan.Existing}
	p.Supply = plan.Supply{
		Measured: true, StaticPSI: 65, FlowGPM: 18, ResidualPSI: 55, MeasuredAt: "7 pm in July",
		MeterIn: 0.75, ServiceIn: 1, ServiceLengthFt: 40, ServiceClass: "copper-l",
		BackflowDevice: "backflow-pvb-1", Freeze: "blow_out",
	}
	return p
}

func rectangle(x0, y0, x1, y1 float64) geom.Outline {
	return geom.Outline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// setHead puts a head of the generic set on a plan.
func setHead(p *plan.Plan, zone plan.ID, number int, nozzle string, x, y float64, from, sweep units.Degrees) {
	n, _ := catalog.FindNozzle(nozzle)
	b, _ := catalog.FindBody("body-4-reg")
	p.Nozzles[plan.ID(nozzle)], p.Bodies["body-4-reg"] = n, b
	p.Heads[plan.ID(fmt.Sprintf("h-%s-%02d", zone, number))] = plan.Head{
		Tag: fmt.Sprintf("%d-%d", p.Zones[zone].Station, number), Nozzle: plan.ID(nozzle), Body: "body-4-reg", Zone: zone,
		X: units.Feet(x), Y: units.Feet(y), StartDeg: from, SweepDeg: sweep,
	}
}

// addZone puts a zone with its valve on a plan.
func addZone(p *plan.Plan, station int, name string, x, y float64) plan.ID {
	id := plan.ID(fmt.Sprintf("z%02d", station))
	p.Zones[id] = plan.Zone{Name: name, Station: station, ValveAt: &plan.Spot{X: units.Feet(x), Y: units.Feet(y)}}
	return id
}

// pipeUp joins the heads of every zone to their valve in the order of their names,
// and the valves to the connection: no way a crew would choose, but whole.
func pipeUp(p *plan.Plan, connection, backflow plan.Spot) {
	p.Supply.Connection, p.Supply.BackflowAt = &connection, &backflow
	n := 0
	node := func(kind string, at plan.Spot, zone, head plan.ID) plan.ID {
		id := plan.ID(fmt.Sprintf("n%03d", len(p.Nodes)))
		p.Nodes[id] = plan.Node{Kind: kind, X: at.X, Y: at.Y, Zone: zone, Head: head}
		return id
	}
	pipe := func(from, to, class plan.ID, size units.Inches, zone plan.ID) {
		n++
		p.Pipes[plan.ID(fmt.Sprintf("p%03d", n))] = plan.Pipe{From: from, To: to, Class: class, NominalIn: size, Zone: zone}
	}
	main := node("backflow", backflow, "", "")
	pipe(node("connection", connection, "", ""), main, "pvc-sch40", 1.25, "")
	for _, zone := range sorted(p.Zones) {
		at := *p.Zones[zone].ValveAt
		joint := node("joint", plan.Spot{X: at.X, Y: at.Y - 0.8}, "", "")
		pipe(main, joint, "pvc-sch40", 1.25, "")
		main = joint
		last := node("valve", at, zone, "")
		pipe(joint, last, "pvc-sch40", 1.25, "")
		for _, id := range sorted(p.Heads) {
			if h := p.Heads[id]; h.Zone == zone {
				next := node("head", plan.Spot{X: h.X, Y: h.Y}, zone, id)
				pipe(last, next, "pvc-class200", 1, zone)
				last = next
			}
		}
	}
}

func sorted[V any](m map[plan.ID]V) []plan.ID {
	var ids []plan.ID
	for id := range m {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// crowdedStrip has 60 heads within 40 ft, eight inches apart.
func crowdedStrip() *plan.Plan {
	p := drawnYard("Sixty heads in a strip", units.US, 40, 6)
	for z := range 3 {
		id := addZone(p, z+1, fmt.Sprintf("Strip along the drive, part %d", z+1), 2+2*float64(z), 5.5)
		for i := range 20 {
			n := z*20 + i
			y, from := 0.4, units.Degrees(0)
			if n%2 == 1 {
				y, from = 4.6, 180
			}
			setHead(p, id, i+1, "spray-8-h", 0.4+39.2*float64(n)/59, y, from, 180)
		}
	}
	p.Areas["drive"] = plan.Area{Name: "Drive", Kind: plan.Paving, Outline: rectangle(0, 6, 40, 10), Status: plan.Existing}
	p.Controller = plan.Controller{At: &plan.Spot{X: 1, Y: 5}, Stations: 4}
	pipeUp(p, plan.Spot{X: 0.5, Y: 5.8}, plan.Spot{X: 1, Y: 5.2})
	return p
}

// crowdedManifold has the valves of 14 zones half a foot apart.
func crowdedManifold() *plan.Plan {
	p := drawnYard("Fourteen valves in one manifold", units.US, 140, 90)
	for z := range 14 {
		id := addZone(p, z+1, fmt.Sprintf("Lawn between the walk and the hedge, row %d of 14", z+1), 66+0.5*float64(z), 44)
		x, y := 10+20*float64(z%7), 12+45*float64(z/7)
		for i := range 6 {
			setHead(p, id, i+1, "spray-10-f", x-5+10*float64(i%2), y+10*float64(i/2), 0, 360)
		}
	}
	p.Areas["house"] = plan.Area{Name: "House", Kind: plan.Building, Outline: rectangle(50, 46, 60, 52), Status: plan.Existing}
	p.Areas["walk"] = plan.Area{Name: "Walk", Kind: plan.Paving, Outline: rectangle(0, 40, 140, 43), Status: plan.Existing}
	p.Controller = plan.Controller{At: &plan.Spot{X: 59.5, Y: 47}, Stations: 16}
	pipeUp(p, plan.Spot{X: 62, Y: 45}, plan.Spot{X: 64, Y: 44})
	return p
}

// crowdedNames is a metric yard with many small areas whose names are long and of
// many scripts.
func crowdedNames() *plan.Plan {
	p := drawnYard("Ein Garten mit sehr langen Namen 庭 сад حديقة 🌿", units.Metric, 60, 50)
	names := []string{
		"Staudenbeet an der südlichen Terrassenmauer hinter dem alten Walnussbaum", "Клумба у северного забора", "ソメイヨシノの下の花壇",
		"حوض الزهور", "Κήπος των αρωματικών φυτών", "Bed <with> \"quotes\" & a \\backslash (and more)", strings.Repeat("W", 120), strings.Repeat("very long name ", 12) + "end",
	}
	for i := range 24 {
		x, y := 4+9*float64(i%6), 5+11*float64(i/6)
		p.Areas[plan.ID(fmt.Sprintf("bed%02d", i))] = plan.Area{
			Name: names[i%len(names)], Kind: plan.Planting, Planting: plan.Flowers, Outline: rectangle(x, y, x+5, y+5), Status: plan.Existing,
		}
		p.Trees[plan.ID(fmt.Sprintf("t%02d", i))] = plan.Tree{Name: names[(i+3)%len(names)], X: units.Feet(x + 6), Y: units.Feet(y + 6), TrunkIn: 6, RootZoneFt: 3, Status: plan.Existing}
		p.Notes[plan.ID(fmt.Sprintf("note%02d", i))] = plan.Note{Text: names[(i+5)%len(names)], X: units.Feet(x + 1), Y: units.Feet(y + 7), Status: plan.Existing}
	}
	for z := range 4 {
		id := addZone(p, z+1, names[z], 3+0.6*float64(z), 3)
		for i := range 12 {
			a := 2 * math.Pi * float64(i) / 12
			setHead(p, id, i+1, "spray-8-f", 30+8*float64(z-1)+3*math.Cos(a), 25+3*math.Sin(a), 0, 360)
		}
	}
	p.Controller = plan.Controller{At: &plan.Spot{X: 1, Y: 1}, Stations: 6}
	pipeUp(p, plan.Spot{X: 1, Y: 2}, plan.Spot{X: 2, Y: 2.2})
	return p
}

// hundredHeads is a yard of 100 heads in ten zones.
func hundredHeads() *plan.Plan {
	p := drawnYard("A hundred heads", units.US, 110, 110)
	for z := range 10 {
		id := addZone(p, z+1, fmt.Sprintf("Row %d", z+1), 2+2*float64(z), 3)
		for i := range 10 {
			setHead(p, id, i+1, "spray-12-f", 10+10*float64(i), 10+10*float64(z), 0, 360)
		}
	}
	p.Areas["house"] = plan.Area{Name: "House", Kind: plan.Building, Outline: rectangle(-30, 20, 0, 60), Status: plan.Existing}
	p.Areas["bed"] = plan.Area{Name: "Bed", Kind: plan.Planting, Planting: plan.Shrubs, Outline: rectangle(44, 44, 47, 47), Status: plan.Existing}
	p.Controller = plan.Controller{At: &plan.Spot{X: -1, Y: 22}, Stations: 12}
	pipeUp(p, plan.Spot{X: 0.5, Y: 1}, plan.Spot{X: 1.5, Y: 1.5})
	return p
}
