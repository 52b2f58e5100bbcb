package parts

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// yard draws a whole yard at random: a main along the south with valves on it, a
// lateral with heads from each, paving across, sleeves somewhere, a controller, sensors,
// a wire run and a splice box, each of any status.
func yard(t *rapid.T) *plan.Plan {
	p := plan.Empty("Yard", rapid.SampledFrom([]units.System{units.US, units.Metric}).Draw(t, "show"))
	rows(p)
	status := func() plan.Status {
		return rapid.SampledFrom([]plan.Status{"", plan.New, plan.Existing, plan.Remove}).Draw(t, "status")
	}
	class := func() plan.ID {
		return rapid.SampledFrom([]plan.ID{"", "pvc-class200", "pvc-sch40", "pe-100", "copper-l"}).Draw(t, "class")
	}
	size := func() units.Inches { return rapid.SampledFrom([]units.Inches{0, 0.75, 1, 1.5}).Draw(t, "size") }
	at := func() units.Feet { return units.Feet(rapid.IntRange(0, 120).Draw(t, "at")) }
	spot := func() *plan.Spot { return &plan.Spot{X: at(), Y: at()} }
	p.Zones, p.Heads, p.Nodes, p.Pipes = map[plan.ID]plan.Zone{}, map[plan.ID]plan.Head{}, map[plan.ID]plan.Node{"src": {Kind: "connection"}}, map[plan.ID]plan.Pipe{}
	p.Supply.BackflowDevice = rapid.SampledFrom([]plan.ID{"", "backflow-pvb-1", "backflow-avb-1"}).Draw(t, "device")
	p.Supply.Isolation = rapid.SampledFrom([]plan.ID{"", "isolation-ball-1"}).Draw(t, "isolation")
	p.Supply.Freeze = rapid.SampledFrom([]string{"", "none", "blow_out", "manual_drain"}).Draw(t, "freeze")
	p.Supply.Status = status()
	last, x := plan.ID("src"), units.Feet(0)
	for i := range rapid.IntRange(0, 4).Draw(t, "zones") {
		zone, valve := plan.ID(fmt.Sprintf("z%d", i)), plan.ID(fmt.Sprintf("v%d", i))
		x += units.Feet(rapid.IntRange(1, 30).Draw(t, "apart"))
		p.Zones[zone] = plan.Zone{Name: fmt.Sprint("Zone ", i), Station: i + 1, Status: status(), ValveAt: &plan.Spot{X: x}}
		p.Nodes[valve] = plan.Node{Kind: "valve", Zone: zone, X: x, Status: status()}
		p.Pipes[plan.ID(fmt.Sprintf("m%d", i))] = plan.Pipe{From: last, To: valve, Class: class(), NominalIn: size(), Status: status()}
		last = valve
		from, y := valve, units.Feet(0)
		for j := range rapid.IntRange(0, 4).Draw(t, "heads") {
			head, node := plan.ID(fmt.Sprintf("h%d-%d", i, j)), plan.ID(fmt.Sprintf("n%d-%d", i, j))
			y += units.Feet(rapid.IntRange(1, 30).Draw(t, "apart"))
			p.Heads[head] = plan.Head{Body: rapid.SampledFrom([]plan.ID{"b4", "b34"}).Draw(t, "body"), Nozzle: "n1", Zone: zone, X: x, Y: y, Status: status()}
			p.Nodes[node] = plan.Node{Kind: "head", Head: head, X: x, Y: y}
			p.Pipes[plan.ID(fmt.Sprintf("l%d-%d", i, j))] = plan.Pipe{From: from, To: node, Zone: zone, Class: class(), NominalIn: size(), Status: status()}
			from = node
		}
	}
	if rapid.Bool().Draw(t, "paved") {
		y := float64(rapid.IntRange(1, 60).Draw(t, "paving"))
		p.Areas = map[plan.ID]plan.Area{"walk": {Name: "Walk", Kind: plan.Paving, Outline: geom.Outline{{X: -10, Y: y}, {X: 140, Y: y}, {X: 140, Y: y + 4}, {X: -10, Y: y + 4}}}}
	}
	p.Sleeves = map[plan.ID]plan.Sleeve{}
	for i := range rapid.IntRange(0, 3).Draw(t, "sleeves") {
		p.Sleeves[plan.ID(fmt.Sprintf("s%d", i))] = plan.Sleeve{From: *spot(), To: *spot(), NominalIn: rapid.SampledFrom([]units.Inches{0, 1, 2}).Draw(t, "size"),
			Carries: rapid.SampledFrom([]string{"", "pipe", "wire", "spare"}).Draw(t, "carries"), Status: status()}
	}
	if rapid.Bool().Draw(t, "controlled") {
		p.Controller = plan.Controller{At: spot(), Status: status()}
		p.Wires = map[plan.ID]plan.WireRun{"w": {Line: geom.Line{{X: float64(p.Controller.At.X), Y: float64(p.Controller.At.Y)}, {}}, Status: status()}}
		p.Boxes = map[plan.ID]plan.Box{"b": {X: at(), Y: at(), Status: status()}}
	}
	p.Sensors = map[plan.ID]plan.Sensor{"rain": {Kind: "rain", X: at(), Y: at(), Status: status(), Wireless: rapid.Bool().Draw(t, "wireless")}}
	p.Options.Figures = map[plan.ID]plan.Figure{}
	for _, id := range []plan.ID{plan.HeadsSpare, plan.FlagsSpare, plan.PipeWaste, plan.BricksEach, plan.ValveUnions, plan.GravelDepth, plan.WireRise} {
		if rapid.Bool().Draw(t, "own figure") {
			p.Options.Figures[id] = plan.Figure{Value: float64(rapid.IntRange(0, 2).Draw(t, "figure"))}
		}
	}
	return p
}

// statusOf is the status of the thing a line was counted from; false when the plan
// has no such thing.
func statusOf(p *plan.Plan, r plan.Ref) (plan.Status, bool) {
	c, id := r.Split()
	switch c {
	case "supply":
		return p.Supply.Status, true
	case "controller":
		return p.Controller.Status, p.Controller.At != nil
	case "heads":
		v, ok := p.Heads[id]
		return v.Status, ok
	case "zones":
		v, ok := p.Zones[id]
		return v.Status, ok
	case "pipes":
		v, ok := p.Pipes[id]
		return v.Status, ok
	case "nodes": // one that goes away leaves its pipes joined
		_, ok := p.Nodes[id]
		return "", ok
	case "sleeves":
		v, ok := p.Sleeves[id]
		return v.Status, ok
	case "sensors":
		v, ok := p.Sensors[id]
		return v.Status, ok
	case "wires":
		v, ok := p.Wires[id]
		return v.Status, ok
	case "boxes":
		v, ok := p.Boxes[id]
		return v.Status, ok
	case "areas":
		v, ok := p.Areas[id]
		return v.Status, ok
	}
	return "", false
}

// Of any yard the lists add up to the total line by line; what the lines come from is
// on the plan; every new pipe, sleeve, head, valve and sensor is on one list, and none
// that is not new.
func TestOfAnyYardTheListsAreThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := yard(t)
		net := pipework.Of(p)
		digs := trench.Of(p, net)
		wired := wire.Of(p, digs)
		list, _ := Compute(p, net, digs, wired)
		counts, from := map[[2]string]int{}, map[[2]string][]plan.Ref{}
		traced := map[string]map[plan.Ref]int{}
		for _, z := range list.Zones {
			for _, l := range z.Lines {
				key := [2]string{l.Group, l.Item}
				counts[key] += l.Count
				from[key] = append(from[key], l.From...)
				if l.Pack != nil || l.Sold != "" || l.Needed != 0 {
					t.Fatalf("%s: packs of one list alone: %+v", l.Item, l)
				}
				if z.Kind == WholeJob {
					continue // spares
				}
				if traced[l.Group] == nil {
					traced[l.Group] = map[plan.Ref]int{}
				}
				for _, r := range slices.Compact(slices.Clone(l.From)) {
					traced[l.Group][r]++
				}
			}
		}
		for _, l := range list.Total {
			key := [2]string{l.Group, l.Item}
			slices.Sort(from[key])
			if counts[key] != l.Count || !slices.Equal(from[key], l.From) {
				t.Fatalf("%s: total %d of %v, the lists add up to %d of %v", l.Item, l.Count, l.From, counts[key], from[key])
			}
			delete(counts, key)
			if l.Count < 0 || l.Count == 0 && (l.Unit == "each" || l.Length > 1e-6) || len(l.From) == 0 || l.Rule == "" || slices.Index(groupOrder, l.Group) < 0 {
				t.Fatalf("%+v", l)
			}
			if l.Pack != nil && (float64(l.Pack.Count)*l.Pack.Of < float64(l.Needed)-1e-6 || l.Needed < l.Count) {
				t.Fatalf("%s: %d, %d needed, sold as %s", l.Item, l.Count, l.Needed, l.Sold)
			}
			for _, r := range l.From {
				if status, there := statusOf(p, r); !there {
					t.Fatalf("%s is counted from %s, which is not on the plan", l.Item, r)
				} else if status == plan.Remove {
					t.Fatalf("%s is counted from %s, which goes away", l.Item, r)
				}
			}
		}
		if len(counts) > 0 {
			t.Fatalf("the total leaves out %v", counts)
		}
		want := map[string]map[plan.Ref]int{}
		add := func(group string, r plan.Ref, s plan.Status) {
			if !s.IsNew() {
				return
			}
			if want[group] == nil {
				want[group] = map[plan.Ref]int{}
			}
			want[group][r] = 1
		}
		for id, v := range p.Pipes {
			add(GroupPipe, plan.RefTo("pipes", id), v.Status)
		}
		for id, v := range p.Heads {
			add(GroupBody, plan.RefTo("heads", id), v.Status)
		}
		for id, v := range p.Sensors {
			add(GroupSensor, plan.RefTo("sensors", id), v.Status)
		}
		for _, group := range []string{GroupPipe, GroupBody, GroupSensor} {
			if diff := cmp.Diff(want[group], traced[group]); diff != "" {
				t.Fatalf("%s (-on the plan +on the list):\n%s", group, diff)
			}
		}
		for id, v := range p.Sleeves { // pipe and caps
			if n := traced[GroupSleeve][plan.RefTo("sleeves", id)]; (n > 0) != v.Status.IsNew() || n > 2 {
				t.Fatalf("sleeve %s, %q, is on %d lines", id, v.Status, n)
			}
		}
		for id, v := range p.Zones {
			if n := traced[GroupValve][plan.RefTo("zones", id)]; (n == 1) != v.Status.IsNew() {
				t.Fatalf("the valve of %s, %q, is on %d lines", id, v.Status, n)
			}
		}
		// As much of pipe and wire is on the list as is drawn and led, and a connector for each splice.
		var pipe, cable units.Feet
		connectors := 0
		for id, e := range net.Pipes {
			if p.Pipes[id].Status.IsNew() {
				pipe += e.Length
			}
		}
		for _, c := range wired.Cables {
			cable += c.Length
		}
		for _, c := range wired.Splices {
			connectors += c.Connectors
		}
		for _, l := range list.Total {
			switch {
			case l.Group == GroupPipe:
				pipe -= l.Length
			case strings.Contains(l.Item, " for direct burial"):
				cable -= l.Length
			case strings.HasPrefix(l.Item, "Waterproof wire connector"):
				connectors -= l.Count
			}
		}
		if math.Abs(float64(pipe)) > 1e-6 || math.Abs(float64(cable)) > 1e-6 || connectors != 0 {
			t.Fatalf("%v ft of pipe, %v ft of wire and %d connectors are not on the list", pipe, cable, connectors)
		}
		if cost := Priced(list, nil, ""); len(cost.Missing) != len(list.Total) {
			t.Fatalf("%d of %d lines lack a price", len(cost.Missing), len(list.Total))
		}
	})
}

// Boxes by the valves that stand together, each on its gravel: 1, 2, 3, 4, 5 and 6
// valves (trade.md B5), and what the bags come to by hand.
func TestB5_ValvesThatStandTogetherShareABox(t *testing.T) {
	for n, want := range map[int][]string{
		1: {"Valve box, round 10 in 1"}, 2: {"Valve box, standard rectangle 1"}, 3: {"Valve box, standard rectangle 1"},
		4: {"Valve box, jumbo 1"}, 5: {"Valve box, jumbo 1"}, 6: {"Valve box, standard rectangle 2"},
	} {
		p := &plan.Plan{Show: units.US, Zones: map[plan.ID]plan.Zone{}}
		for i := range n {
			p.Zones[plan.ID(fmt.Sprint("z", i))] = plan.Zone{Station: i + 1, ValveAt: &plan.Spot{X: units.Feet(i) * 0.4}}
		}
		list, _ := compute(p)
		var boxes []string
		bricks, number := 0, 0
		for _, l := range linesOf(list, OnMain) {
			switch {
			case l.Item == "Brick":
				bricks = l.Count
			case l.Unit == "each":
				boxes = append(boxes, fmt.Sprintf("%s %d", l.Item, l.Count))
				number += l.Count
			}
		}
		if n < 6 && !slices.Equal(boxes, want) || bricks != 4*number {
			t.Errorf("%d valves: %q on %d bricks, want %q", n, boxes, bricks, want)
		}
		if n == 6 && number < 2 {
			t.Errorf("six valves in %q", boxes)
		}
	}
}

// Packs by hand: what may be joined comes in what leaves least over, wire on one roll.
func TestB15_ThingsComeInThePacksTheyAreSoldIn(t *testing.T) {
	coil := packing{one: "coil", sizes: coilsOfPE}
	roll := packing{one: "roll", sizes: rolls, inOne: true}
	for _, c := range []struct {
		k      packing
		needed int
		want   string
	}{
		{coil, 80, "1 coil of 100 ft"}, {coil, 310, "4 coils of 100 ft"}, {coil, 500, "1 coil of 500 ft"}, {coil, 590, "2 coils of 300 ft"},
		{roll, 250, "1 roll of 250 ft"}, {roll, 251, "1 roll of 500 ft"}, {roll, 620, "1 roll of 1000 ft"}, {roll, 2600, "2 rolls of 2500 ft"},
		{packing{one: "pint", sizes: []float64{90}, plain: true}, 91, "2 pints"},
	} {
		got, ok := c.k.choose(units.US, byLength, c.needed)
		if !ok || got.words() != c.want {
			t.Errorf("%d: %s, want %s", c.needed, got.words(), c.want)
		}
	}
	bag := packing{one: "bag", sizes: []float64{gravelBagLb}, metric: []float64{gravelBagKg}}
	if got, _ := bag.choose(units.Metric, byWeight, 51); got.words() != "3 bags of 25 kg" {
		t.Error(got.words())
	}
	if _, ok := (packing{one: "stick", sizes: []float64{0}}).choose(units.US, byLength, 5); ok {
		t.Error("a class without a length is sold in sticks")
	}
}

// A body with a check valve holds the water by itself; a low one without is given one.
func TestRow30_LowHeadsGetTheCheckValveTheirBodiesLack(t *testing.T) {
	p := &plan.Plan{Show: units.US, Zones: map[plan.ID]plan.Zone{"z1": {Name: "Slope"}},
		Elevations: map[plan.ID]plan.Elevation{"a": {Z: 0}, "b": {Y: 50, Z: 5}},
		Heads: map[plan.ID]plan.Head{"top": {Zone: "z1", Body: "b4", Nozzle: "n1", Y: 50}, "low": {Zone: "z1", Body: "b4", Nozzle: "n1"},
			"held": {Zone: "z1", Body: "bc", Nozzle: "n1", X: 5}, "old": {Zone: "z1", Body: "b4", Nozzle: "n1", X: 9, Status: plan.Existing}}}
	rows(p)
	p.Bodies["bc"] = catalog.Body{Name: "Body with a check valve", InletIn: 0.5, CheckValve: true}
	list, _ := compute(p)
	var got []plan.Ref
	for _, l := range list.Total {
		if l.Group == GroupCheck {
			got = append(got, l.From...)
		}
	}
	if !slices.Equal(got, []plan.Ref{"heads/low"}) {
		t.Errorf("check valves under %v", got)
	}
}
