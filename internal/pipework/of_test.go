package pipework

import (
	"math"
	"slices"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// yard is a main with two valves and their laterals:
//
//	            h1 -- h2
//	            |
//	src - dev - v1 ------ v2 - j - h3
//	                           |
//	                           h4
//
// v1 stands on a tee of the main.
func yard() *plan.Plan {
	at := func(kind string, x, y float64) plan.Node {
		return plan.Node{Kind: kind, X: feet(x), Y: feet(y)}
	}
	zoned := func(n plan.Node, zone plan.ID) plan.Node { n.Zone = zone; return n }
	head := func(h plan.ID, x, y float64) plan.Node { n := at("head", x, y); n.Head = h; return n }
	pipe := func(from, to, zone plan.ID) plan.Pipe {
		return plan.Pipe{From: from, To: to, Zone: zone, Class: "c", NominalIn: 1}
	}
	return &plan.Plan{
		Zones: map[plan.ID]plan.Zone{"z1": {Name: "One", Station: 1}, "z2": {Name: "Two", Station: 2}},
		Heads: map[plan.ID]plan.Head{
			"h1": {Zone: "z1", Body: "b", X: 20, Y: 10}, "h2": {Zone: "z1", Body: "b", X: 30, Y: 10},
			"h3": {Zone: "z2", Body: "b", X: 60, Y: 0}, "h4": {Zone: "z2", Body: "b", X: 50, Y: -10},
			"h5": {Zone: "z2", Body: "b", X: 90, Y: 0},
		},
		Bodies: map[plan.ID]catalog.Body{"b": {Name: "Body", InletIn: 0.5}},
		PipeClasses: map[plan.ID]catalog.PipeClass{"c": {Name: "Class", Material: catalog.PVC, Potable: true, Sizes: []catalog.PipeSize{
			{Nominal: 0.75, Inside: 0.8}, {Nominal: 1, Inside: 1.05}}}},
		Nodes: map[plan.ID]plan.Node{
			"src": at("connection", 0, 0), "dev": at("backflow", 10, 0),
			"v1": zoned(at("valve", 20, 0), "z1"), "v2": zoned(at("valve", 40, 0), "z2"), "j": at("joint", 50, 0),
			"nh1": head("h1", 20, 10), "nh2": head("h2", 30, 10), "nh3": head("h3", 60, 0), "nh4": head("h4", 50, -10),
		},
		Pipes: map[plan.ID]plan.Pipe{
			"m1": pipe("src", "dev", ""), "m2": pipe("v1", "dev", ""), "m3": pipe("v1", "v2", ""),
			"a1": pipe("v1", "nh1", "z1"), "a2": pipe("nh1", "nh2", "z1"),
			"b1": pipe("v2", "j", "z2"), "b2": pipe("nh3", "j", "z2"), "b3": pipe("j", "nh4", "z2"),
		},
	}
}

func TestNetworkIsToldFromTheSourceOn(t *testing.T) {
	net := Of(yard())
	if net.Source != "src" || len(net.Loops) != 0 || len(net.Loose) != 0 {
		t.Fatalf("source %q, loops %v, loose %v", net.Source, net.Loops, net.Loose)
	}
	for _, c := range []struct{ pipe, from, to, zone plan.ID }{
		{"m1", "src", "dev", ""}, {"m2", "dev", "v1", ""}, {"m3", "v1", "v2", ""},
		{"a1", "v1", "nh1", "z1"}, {"a2", "nh1", "nh2", "z1"},
		{"b1", "v2", "j", "z2"}, {"b2", "j", "nh3", "z2"}, {"b3", "j", "nh4", "z2"},
	} {
		p := net.Pipes[c.pipe]
		if p.From != c.from || p.To != c.to || p.Zone != c.zone || p.Valved != (c.zone != "") || p.Size.Inside != 1.05 {
			t.Errorf("%s: %s to %s of %q, behind a valve %v, inside %v", c.pipe, p.From, p.To, p.Zone, p.Valved, p.Size.Inside)
		}
		if net.Nodes[c.to].Up != c.pipe || !slices.Contains(net.Nodes[c.from].Down, c.pipe) {
			t.Errorf("%s is not told by its nodes: up %q, down %v", c.pipe, net.Nodes[c.to].Up, net.Nodes[c.from].Down)
		}
	}
	z1, z2 := net.Zones["z1"], net.Zones["z2"]
	if !z1.Fed || z1.Valve != "v1" || !slices.Equal(z1.Pipes, []plan.ID{"a1", "a2"}) || !slices.Equal(z1.Heads, []plan.ID{"h1", "h2"}) || z1.Unfed != nil {
		t.Errorf("zone 1: %+v", z1)
	}
	if z2.Valve != "v2" || !slices.Equal(z2.Pipes, []plan.ID{"b1", "b2", "b3"}) || !slices.Equal(z2.Heads, []plan.ID{"h3", "h4"}) || !slices.Equal(z2.Unfed, []plan.ID{"h5"}) {
		t.Errorf("zone 2: %+v", z2)
	}
	if got := net.Pipes["m2"].Heads; len(got) != 4 {
		t.Errorf("the main feeds %v", got)
	}
	if got := net.Pipes["b1"].Heads; !slices.Equal(got, []plan.ID{"h3", "h4"}) {
		t.Errorf("b1 feeds %v", got)
	}
}

func TestLengthGoesAlongCornersAndArcs(t *testing.T) {
	p := yard()
	e := p.Pipes["b3"]
	e.Via = geom.Line{{X: 53, Y: 0}, {X: 53, Y: -10, Bulge: 1}} // 3 + 10 + half a circle of 3 across
	p.Pipes["b3"] = e
	if got, want := float64(Of(p).Pipes["b3"].Length), 13+1.5*math.Pi; math.Abs(got-want) > 1e-9 {
		t.Errorf("length %v, want %v", got, want)
	}
}

func feet(v float64) units.Feet { return units.Feet(v) }
