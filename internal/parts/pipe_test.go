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

// piped is a main of 1-1/4 in with a breaker and one valve of 1 in, and a lateral of
// 3/4 in past one head to another, with a corner on its way.
func piped() *plan.Plan {
	p := &plan.Plan{
		Show:  units.US,
		Zones: map[plan.ID]plan.Zone{"z1": {Name: "Front", Station: 1, Valve: "valve-1"}},
		Heads: map[plan.ID]plan.Head{"h1": {Tag: "1-1", Body: "b4", Nozzle: "n1", Zone: "z1"}, "h2": {Tag: "1-2", Body: "b4", Nozzle: "n1", Zone: "z1"}},
		Nodes: map[plan.ID]plan.Node{
			"src": {Kind: "connection"}, "dev": {Kind: "backflow", X: 25}, "v": {Kind: "valve", Zone: "z1", X: 50.5},
			"n1": {Kind: "head", Head: "h1", X: 60.5}, "n2": {Kind: "head", Head: "h2", X: 70.5, Y: 20},
		},
		Pipes: map[plan.ID]plan.Pipe{
			"m1": {From: "src", To: "dev", Class: "pvc-sch40", NominalIn: 1.25},
			"m2": {From: "dev", To: "v", Class: "pvc-sch40", NominalIn: 1.25},
			"l1": {From: "v", To: "n1", Class: "pvc-class200", NominalIn: 0.75, Zone: "z1"},
			"l2": {From: "n1", To: "n2", Class: "pvc-class200", NominalIn: 0.75, Zone: "z1", Via: geom.Line{{X: 70.5}}},
		},
	}
	rows(p)
	p.Supply = plan.Supply{BackflowDevice: "backflow-pvb-1", Isolation: "isolation-ball-1", Meter: "meter-0_75", Freeze: "blow_out"}
	return p
}

// linesOf are the lines of the lists of a kind.
func linesOf(list *List, kind ListKind) []Line {
	var out []Line
	for _, z := range list.Zones {
		if z.Kind == kind {
			out = append(out, z.Lines...)
		}
	}
	return out
}

// said lists the lines of pipe and of what stands at the supply.
func said(lines []Line) []string {
	var out []string
	for _, l := range lines {
		if slices.Contains([]string{GroupBody, GroupNozzle, GroupJoint, GroupFlag}, l.Group) {
			continue
		}
		s := fmt.Sprintf("%s: %d %s of %s", l.Group, l.Count, l.Unit, l.Item)
		if l.Sold != "" {
			s += " (" + l.Sold + ")"
		}
		out = append(out, s)
	}
	return out
}

func TestPipeFittingsAndDevicesAreCountedFromTheDrawing(t *testing.T) {
	p := piped()
	list, _ := compute(p)
	want := map[string][]string{
		OnMain.Name(): {
			"box: 4 each of Brick",
			"box: 35 lb of Gravel, washed", // 200 in² 3 in deep are 0.347 cubic feet
			"box: 1 each of Valve box, round 10 in",
			"pipe: 51 ft of Schedule 40 PVC pipe, 1-1/4 in", // 25 and 25.5 ft
			"fitting: 3 each of PVC male adapter, 1-1/4 × 1 in",
			"used up: 7 joint of Primer for PVC", // 3 adapters, and a bell in either pipe: 5 of 1.398
			"used up: 7 joint of Solvent cement for PVC",
			"used up: 3 joint of Thread tape",
		},
		AtConnection.Name(): {
			"box: 4 each of Brick",
			"box: 35 lb of Gravel, washed",
			"box: 1 each of Valve box, round 10 in",
			"backflow: 1 each of Cover for the backflow device, insulated",
			"backflow: 2 each of Nipple, thick wall (Schedule 80 or brass), 1 in",
			"backflow: 1 each of Pressure vacuum breaker 1 in",
			"backflow: 2 each of Union, 1 in",
			"supply: 1 each of Ball valve 1 in",
			"frost: 1 each of Blow-out port, capped",
		},
		"Front": {
			"valve: 1 each of Zone valve 1 in",
			"pipe: 40 ft of Class 200 PVC pipe, 3/4 in", // 10 and 10 + 20 ft
			"fitting: 1 each of PVC 90° ell, 3/4 in",
			"fitting: 1 each of PVC ell, 3/4 in, with a threaded outlet of 1/2 in",
			"fitting: 1 each of PVC male adapter, 3/4 × 1 in",
			"fitting: 1 each of PVC tee, 3/4 in, with a threaded outlet of 1/2 in",
			"fitting: 2 each of Union, 1 in",
			"used up: 6 joint of Primer for PVC", // ell 2, outlet ell 1, adapter 1, tee 2, a bell in 30 ft: 7 of 0.75
			"used up: 6 joint of Solvent cement for PVC",
			"used up: 5 joint of Thread tape", // adapter, two outlets, two bodies
		},
		WholeJob.Name(): {"used up: 91 ft of Marking paint, white, for the ground"},
	}
	got := map[string][]string{}
	for _, z := range list.Zones {
		got[z.Name] = said(z.Lines)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("lists differ (-want +got):\n%s", diff)
	}
	total := said(list.Total)
	for _, want := range []string{
		"pipe: 40 ft of Class 200 PVC pipe, 3/4 in (3 sticks of 20 ft)", "pipe: 51 ft of Schedule 40 PVC pipe, 1-1/4 in (3 sticks of 20 ft)",
	} {
		if !slices.Contains(total, want) {
			t.Errorf("the total %q lacks %q", total, want)
		}
	}
	for _, l := range list.Total {
		if strings.Contains(l.Item, "meter") {
			t.Errorf("the supplier's meter is bought: %s", l.Item)
		}
	}
}

func TestInMetricPlansPipeIsCountedInMetres(t *testing.T) {
	p := piped()
	p.Show = units.Metric
	list, _ := compute(p)
	got := said(list.Total)
	for _, want := range []string{
		"pipe: 13 m of Class 200 PVC pipe, DN 20 (3 sticks of 6.1 m)", // 40 ft are 12.2 m
		"pipe: 16 m of Schedule 40 PVC pipe, DN 32 (3 sticks of 6.1 m)",
		"fitting: 3 each of PVC male adapter, DN 32 × 25",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("the total %q lacks %q", got, want)
		}
	}
}

func TestWhatStandsThereIsNotBought(t *testing.T) {
	p := piped()
	for id, e := range p.Pipes {
		if e.Zone == "" {
			e.Status = plan.Existing
			p.Pipes[id] = e
		}
	}
	p.Supply.Status = plan.Existing
	list, _ := compute(p)
	for _, l := range linesOf(list, OnMain) {
		if l.Group != GroupBox { // for the new valve
			t.Errorf("on the main is bought %q", l.Item)
		}
	}
	if got := linesOf(list, AtConnection); got != nil {
		t.Errorf("at the connection is bought %q", said(got))
	}
}

// Polyethylene comes in coils and takes a clamp at every end.
func TestInsertFittingsTakeClamps(t *testing.T) {
	p := piped()
	for id, e := range p.Pipes {
		if e.Zone != "" {
			e.Class = "pe-100"
			p.Pipes[id] = e
		}
	}
	list, _ := compute(p)
	got := said(list.Total)
	for _, want := range []string{
		"pipe: 40 ft of Polyethylene, 100 psi pipe, 3/4 in (1 coil of 100 ft)",
		"fitting: 6 each of Clamp, 3/4 in", // two pipes of two ends, and the two of the ell
		"fitting: 1 each of Insert tee, 3/4 in, with a threaded outlet of 1/2 in",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("the total %q lacks %q", got, want)
		}
	}
}

// An atmospheric breaker stands after every zone valve.
func TestAtmosphericBreakersAreCountedByZone(t *testing.T) {
	p := piped()
	p.Supply.BackflowDevice = "backflow-avb-1"
	p.Zones["z2"] = plan.Zone{Name: "Back", Station: 2}
	list, _ := compute(p)
	for _, z := range list.Zones {
		n := strings.Count(strings.Join(said(z.Lines), "\n"), "Atmospheric vacuum breaker")
		if want := map[bool]int{true: 1, false: 0}[z.Kind == OfZone]; n != want {
			t.Errorf("%s has %d breakers, want %d", z.Name, n, want)
		}
	}
}

func TestDrainsAreNamedByTheWayTheyOpen(t *testing.T) {
	for freeze, want := range map[string]string{
		"manual_drain": "Drain valve, opened by hand", "automatic_drain": "Drain valve, automatic", "": "Drain valve",
	} {
		p := piped()
		p.Supply.Freeze = freeze
		p.Nodes["d"] = plan.Node{Kind: "drain", X: 70.5, Y: 30, Zone: "z1"}
		p.Nodes["old"] = plan.Node{Kind: "drain", X: 80, Y: 30, Status: plan.Existing}
		list, _ := compute(p)
		if got := said(list.Total); !slices.Contains(got, "frost: 1 each of "+want) {
			t.Errorf("%q: %q lacks %q", freeze, got, want)
		}
	}
}

// A valve in the pipe that is no zone's shuts by hand.
func TestValvesByHandAreCountedWhereTheyStand(t *testing.T) {
	p := piped()
	p.Nodes["s"] = plan.Node{Kind: "valve", X: 10}
	p.Pipes["m0"] = plan.Pipe{From: "src", To: "s", Class: "pvc-sch40", NominalIn: 1.25}
	e := p.Pipes["m1"]
	e.From = "s"
	p.Pipes["m1"] = e
	list, _ := compute(p)
	if got := said(linesOf(list, OnMain)); !slices.Contains(got, "valve: 1 each of Shut-off valve, 1-1/4 in") ||
		!slices.Contains(got, "fitting: 2 each of PVC male adapter, 1-1/4 in") {
		t.Errorf("on the main there is %q", got)
	}
}

func TestUnsizedPipeSaysSo(t *testing.T) {
	p := piped()
	e := p.Pipes["l1"]
	e.NominalIn = 0
	p.Pipes["l1"] = e
	e = p.Pipes["l2"]
	e.Class, e.NominalIn, e.Material = "", 0.75, "black poly"
	p.Pipes["l2"] = e
	list, _ := compute(p)
	got := said(list.Total)
	for _, want := range []string{"pipe: 10 ft of Class 200 PVC pipe, not sized yet (1 stick of 20 ft)", "pipe: 30 ft of Black poly pipe, 3/4 in"} {
		if !slices.Contains(got, want) {
			t.Errorf("the total %q lacks %q", got, want)
		}
	}
}

// The scope tells of this plan what is in the list and what is not.
func TestScopeIsTrueOfThePlan(t *testing.T) {
	for _, c := range []struct {
		name      string
		change    func(*plan.Plan)
		has, hasN []string
	}{
		{"all drawn", func(*plan.Plan) {}, []string{"pipe as drawn with its fittings", "devices chosen"}, []string{"none is drawn", "none is chosen"}},
		{"no pipe", func(p *plan.Plan) { p.Pipes = nil }, []string{"pipe and fittings, since none is drawn"}, []string{"as drawn with"}},
		{"a zone without", func(p *plan.Plan) {
			p.Zones["z2"] = plan.Zone{Name: "Back", Station: 2}
			h := p.Heads["h2"]
			h.Zone = "z2"
			p.Heads["h9"] = h
		}, []string{"pipe as drawn with its fittings", "pipe and fittings of zone 2 (Back), since none is drawn"}, nil},
		{"an old zone without", func(p *plan.Plan) {
			p.Zones["z2"] = plan.Zone{Name: "Back", Station: 2, Status: plan.Existing}
			p.Heads["h9"] = plan.Head{Body: "b4", Nozzle: "n1", Zone: "z2", Status: plan.Existing}
		}, nil, []string{"zone 2"}},
		{"no device", func(p *plan.Plan) { p.Supply.BackflowDevice = "" }, []string{"a backflow device, since none is chosen"}, []string{"devices chosen"}},
	} {
		p := piped()
		c.change(p)
		list, _ := compute(p)
		for _, words := range c.has {
			if !strings.Contains(list.Scope, words) {
				t.Errorf("%s: the scope lacks %q: %s", c.name, words, list.Scope)
			}
		}
		for _, words := range c.hasN {
			if strings.Contains(list.Scope, words) {
				t.Errorf("%s: the scope says %q: %s", c.name, words, list.Scope)
			}
		}
	}
}

// Of any main with laterals the lists add up to the total, every new pipe is in one
// line, and what is sold is enough.
func TestPipeOfTheListsAddsUpToTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := piped()
		p.Show = rapid.SampledFrom([]units.System{units.US, units.Metric}).Draw(t, "show")
		status := rapid.SampledFrom([]plan.Status{"", plan.New, plan.Existing, plan.Remove})
		for i := range rapid.IntRange(0, 25).Draw(t, "pipes") {
			from := rapid.SampledFrom(plan.SortedIDs(p.Nodes)).Draw(t, "from")
			id := plan.ID(fmt.Sprintf("x%d", i))
			p.Nodes[id] = plan.Node{Kind: rapid.SampledFrom([]string{"joint", "drain"}).Draw(t, "kind"), X: units.Feet(rapid.Float64Range(0, 90).Draw(t, "x"))}
			p.Pipes[id] = plan.Pipe{
				From: from, To: id, Zone: rapid.SampledFrom([]plan.ID{"", "z1"}).Draw(t, "zone"), Status: status.Draw(t, "status"),
				Class:     rapid.SampledFrom([]plan.ID{"", "pvc-class200", "pvc-sch40", "pe-100", "copper-l", "steel-40"}).Draw(t, "class"),
				NominalIn: rapid.SampledFrom([]units.Inches{0, 0.75, 1, 1.25}).Draw(t, "size"),
			}
		}
		net := pipework.Of(p)
		digs := trench.Of(p, net)
		list, _ := Compute(p, net, digs, wire.Of(p, digs))
		counts, lengths := map[string]int{}, map[string]float64{}
		traced := map[plan.Ref]int{}
		for _, z := range list.Zones {
			for _, l := range z.Lines {
				counts[l.Group+l.Item] += l.Count
				lengths[l.Group+l.Item] += float64(l.Length)
				if l.Group == GroupPipe {
					for _, r := range l.From {
						traced[r]++
					}
				}
			}
		}
		sum := 0.0
		for _, l := range list.Total {
			key := l.Group + l.Item
			if counts[key] != l.Count || math.Abs(lengths[key]-float64(l.Length)) > 1e-6 {
				t.Fatalf("%s: total %d and %v, lists add up to %d and %v", l.Item, l.Count, l.Length, counts[key], lengths[key])
			}
			if l.Group == GroupFitting && !strings.HasPrefix(l.Item, "Clamp") && l.Count != len(l.From) {
				t.Fatalf("%s: %d of %d things", l.Item, l.Count, len(l.From))
			}
			if strings.Contains(l.Item, "%!") || l.Rule == "" {
				t.Fatalf("%q by the rule %q", l.Item, l.Rule)
			}
			if l.Group == GroupPipe {
				sum += float64(l.Length)
			}
		}
		want := 0.0
		for id, e := range net.Pipes {
			n := 0
			if p.Pipes[id].Status.IsNew() {
				n, want = 1, want+float64(e.Length)
			}
			if traced[plan.RefTo("pipes", id)] != n {
				t.Fatalf("pipe %s is in %d lines, want %d", id, traced[plan.RefTo("pipes", id)], n)
			}
		}
		if math.Abs(sum-want) > 1e-6 {
			t.Fatalf("%v ft are listed of %v", sum, want)
		}
	})
}

// Every kind of joint has its word and its rule.
func TestEveryJointHasItsWords(t *testing.T) {
	for _, kind := range []pipework.JointKind{
		pipework.JointTee, pipework.JointCross, pipework.JointEll90, pipework.JointEll45, pipework.JointReducer,
		pipework.JointTransition, pipework.JointOutletTee, pipework.JointOutletEll, pipework.JointAdapter, pipework.JointCap,
	} {
		if fittingWords[kind] == "" || fittingRules[kind] == "" {
			t.Errorf("%s: words %q, rule %q", kind, fittingWords[kind], fittingRules[kind])
		}
	}
	for _, m := range []catalog.PipeMaterial{catalog.PVC, catalog.PE, catalog.Copper, catalog.Steel} {
		if materials[m] == "" {
			t.Errorf("fittings of %s have no name", m)
		}
	}
}

// Reclaimed water is marked on the list: its pipe is asked for in purple, and the
// signs it takes are named.
func TestReclaimedWaterIsBoughtMarked(t *testing.T) {
	p := piped()
	p.Supply.Kind = plan.Reclaimed
	list, _ := compute(p)
	lines := strings.Join(said(list.Total), "\n")
	for _, want := range []string{"Valve box, round 10 in, purple lid", "Schedule 40 PVC pipe, 1-1/4 in, purple for reclaimed water", "Class 200 PVC pipe, 3/4 in, purple for reclaimed water"} {
		if !strings.Contains(lines, want) {
			t.Errorf("no %q in %s", want, lines)
		}
	}
	if !strings.Contains(list.Scope, "purple tags and signs") {
		t.Error(list.Scope)
	}
}

// The port that the pipes are blown out by stands behind a device in the main, and
// before the valves where the breakers are behind those.
func TestRow31_TheBlowOutPortHasItsPlaceByTheDevice(t *testing.T) {
	for device, want := range map[plan.ID]string{"backflow-pvb-1": "after the backflow device", "backflow-avb-1": "before the zone valves"} {
		p := piped()
		p.Supply.BackflowDevice = device
		list, _ := compute(p)
		found := false
		for _, l := range list.Total {
			found = found || l.Group == GroupFrost && strings.Contains(l.Rule, want)
		}
		if !found {
			t.Errorf("%s: no port %s in %+v", device, want, list.Total)
		}
	}
}
