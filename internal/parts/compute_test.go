package parts

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// compute counts a plan with its own pipework, trenches and wires.
func compute(p *plan.Plan) (*List, []plan.Finding) {
	net := pipework.Of(p)
	digs := trench.Of(p, net)
	return Compute(p, net, digs, wire.Of(p, digs))
}

// rows are the catalogue rows of the test plans.
func rows(p *plan.Plan) {
	p.Bodies = map[plan.ID]catalog.Body{
		"b4":  {Name: "Pop-up body 4 in", InletIn: 0.5, Takes: "spray", Height: 4},
		"b34": {Name: "Gear-drive body 4 in", InletIn: 0.75, Takes: "rotor", Height: 4},
	}
	p.Nozzles = map[plan.ID]catalog.Nozzle{
		"n1": {Name: "Spray 10 ft, quarter", Thread: "spray"},
		"n2": {Name: "Rotor 30 ft, nozzle 1.5", Thread: "rotor"},
	}
}

func TestEachNewHeadTakesABodyANozzleAJointAndAFlag(t *testing.T) {
	p := &plan.Plan{
		Zones: map[plan.ID]plan.Zone{"z1": {Name: "Front", Station: 1}},
		Heads: map[plan.ID]plan.Head{
			"h1": {Tag: "1-1", Body: "b4", Nozzle: "n1", Zone: "z1"},
			"h2": {Tag: "1-2", Body: "b34", Nozzle: "n2", Zone: "z1", Status: plan.New},
			"h3": {Tag: "1-3", Body: "b4", Nozzle: "n1", Zone: "z1", Status: plan.Existing},
			"h4": {Tag: "1-4", Body: "b4", Nozzle: "n1", Zone: "z1", Status: plan.Remove},
			"h5": {Body: "b4", Nozzle: "n1"},
		},
	}
	rows(p)
	list, _ := compute(p)
	var got []string
	for _, z := range list.Zones {
		for _, l := range z.Lines {
			got = append(got, fmt.Sprintf("%s | %s | %d %s | %v", z.Name, l.Item, l.Count, l.Unit, l.From))
		}
	}
	want := []string{
		"Front | Gear-drive body 4 in | 1 each | [heads/h2]",
		"Front | Pop-up body 4 in | 1 each | [heads/h1]",
		"Front | Rotor 30 ft, nozzle 1.5 | 1 each | [heads/h2]",
		"Front | Spray 10 ft, quarter | 1 each | [heads/h1]",
		"Front | Swing joint, 1/2 in | 1 each | [heads/h1]",
		"Front | Swing joint, 3/4 in | 1 each | [heads/h2]",
		"Front | Zone valve | 1 each | [zones/z1]",
		"Front | Union, 1 in | 2 each | [zones/z1 zones/z1]",
		"Front | Thread tape | 2 joint | [heads/h1 heads/h2]",
		"Front | Flag, white, tag printed | 2 each | [heads/h1 heads/h2]",
		"Whole job | Flag, white, to be written on | 1 each | [heads/h1 heads/h2 heads/h5]",
		"Not in a zone | Pop-up body 4 in | 1 each | [heads/h5]",
		"Not in a zone | Spray 10 ft, quarter | 1 each | [heads/h5]",
		"Not in a zone | Swing joint, 1/2 in | 1 each | [heads/h5]",
		"Not in a zone | Thread tape | 1 joint | [heads/h5]",
		"Not in a zone | Flag, white, tag printed | 1 each | [heads/h5]",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("lists differ (-want +got):\n%s", diff)
	}
}

// Of what is placed on the plan beside heads, the list holds what can be marked
// as new or existing: the controller and the sensors.
func TestControllerAndSensorsAreBoughtWhenPlacedAsNew(t *testing.T) {
	at := &plan.Spot{X: 1, Y: 2}
	const conduit = "wire | Conduit for wire, 3/4 in, with straps and a bend | 6 | [controller/at]"
	there := func(n int) map[plan.ID]plan.Zone {
		out := map[plan.ID]plan.Zone{}
		for i := range n {
			out[plan.ID(fmt.Sprint("z", i))] = plan.Zone{Status: plan.Existing}
		}
		return out
	}
	sensors := map[plan.ID]plan.Sensor{"s1": {Kind: "rain"}, "s2": {Kind: "soil", Status: plan.Existing}, "s3": {Kind: "rain", Status: plan.Remove}}
	for _, c := range []struct {
		name string
		plan plan.Plan
		want []string
	}{
		{"placed", plan.Plan{Controller: plan.Controller{At: at, Stations: 6}, Sensors: sensors},
			[]string{"controller | Controller, 6 stations | 1 | [controller/at]", "sensor | Rain sensor | 1 | [sensors/s1]", conduit}},
		{"stations unsaid", plan.Plan{Controller: plan.Controller{At: at}}, []string{"controller | Controller | 1 | [controller/at]", conduit}},
		{"stations used", plan.Plan{Controller: plan.Controller{At: at, Outdoors: true}, Zones: there(7)}, // 7 · 1.2 is 8.4
			[]string{"controller | Controller, 12 stations, in a weatherproof case | 1 | [controller/at]", conduit}},
		{"wireless", plan.Plan{Sensors: map[plan.ID]plan.Sensor{"s1": {Kind: "rain", Wireless: true}}}, []string{"sensor | Rain sensor, wireless, with its receiver | 1 | [sensors/s1]"}},
		{"only described", plan.Plan{Controller: plan.Controller{Stations: 6, Place: "garage"}}, nil},
		{"there already", plan.Plan{Controller: plan.Controller{At: at, Status: plan.Existing}}, nil},
		{"a backflow device and a connection", plan.Plan{Supply: plan.Supply{BackflowAt: at, Connection: at}}, nil},
	} {
		list, _ := compute(&c.plan)
		var got []string
		for _, l := range list.Total {
			got = append(got, fmt.Sprintf("%s | %s | %d | %v", l.Group, l.Item, l.Count, l.From))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: lines differ (-want +got):\n%s", c.name, diff)
		}
		if len(c.want) > 0 && !slices.EqualFunc(linesOf(list, Electrical), list.Total, func(a, b Line) bool { return a.Item == b.Item }) {
			t.Errorf("%s: listed under %v, want %q", c.name, list.Zones, Electrical)
		}
		for _, left := range []string{"pipe", "fittings", "wire", "valve boxes", "backflow device"} {
			if !strings.Contains(list.Scope, left) {
				t.Errorf("%s: the list does not say that it leaves out %s", c.name, left)
			}
		}
	}
}

func TestZonesAreListedByStation(t *testing.T) {
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{
		"za": {Name: "No station"}, "zb": {Name: "Two", Station: 2}, "zc": {Name: "One", Station: 1},
		"zd": {Name: "Gone", Station: 3, Status: plan.Remove}, "ze": {Name: "There", Station: 4, Status: plan.Existing},
	}}
	list, _ := compute(p)
	var got []string
	for _, z := range list.Zones {
		got = append(got, fmt.Sprintf("%s %d", z.Name, len(z.Lines)))
	}
	// A zone to be removed has nothing to say; an existing one has no valve to buy.
	if want := []string{"One 2", "Two 2", "There 0", "No station 2"}; !slices.Equal(got, want) {
		t.Errorf("zones %q, want %q", got, want)
	}
}

func TestTwoRowsOfOneNameStayTwoLines(t *testing.T) {
	p := &plan.Plan{
		Nozzles: map[plan.ID]catalog.Nozzle{"n1": {Name: "Spray"}, "n2": {Name: "Spray"}, "n3": {}},
		Bodies:  map[plan.ID]catalog.Body{"b": {Name: "Body"}},
		Heads: map[plan.ID]plan.Head{
			"h1": {Body: "b", Nozzle: "n1"}, "h2": {Body: "b", Nozzle: "n2"}, "h3": {Body: "b", Nozzle: "n3"},
		},
	}
	list, _ := compute(p)
	var got []string
	for _, l := range list.Total {
		if l.Group == GroupNozzle || l.Group == GroupJoint {
			got = append(got, l.Item)
		}
	}
	if want := []string{" (n3)", "Spray (n1)", "Spray (n2)", "Swing joint"}; !slices.Equal(got, want) {
		t.Errorf("lines %q, want %q", got, want)
	}
}

// randomPlan draws heads of every status in and out of zones of every status.
func randomPlan(t *rapid.T) *plan.Plan {
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{}, Heads: map[plan.ID]plan.Head{}}
	rows(p)
	status := rapid.SampledFrom([]plan.Status{"", plan.New, plan.Existing, plan.Remove})
	zones := []plan.ID{""}
	for i := range rapid.IntRange(0, 5).Draw(t, "zones") {
		id := plan.ID(fmt.Sprintf("z%d", i))
		p.Zones[id] = plan.Zone{Name: string(id), Station: rapid.IntRange(0, 3).Draw(t, "station"), Status: status.Draw(t, "status")}
		zones = append(zones, id)
	}
	for i := range rapid.IntRange(0, 30).Draw(t, "heads") {
		p.Heads[plan.ID(fmt.Sprintf("h%d", i))] = plan.Head{
			Body: rapid.SampledFrom([]plan.ID{"b4", "b34"}).Draw(t, "body"), Nozzle: rapid.SampledFrom([]plan.ID{"n1", "n2"}).Draw(t, "nozzle"),
			Zone: rapid.SampledFrom(zones).Draw(t, "zone"), Status: status.Draw(t, "status"),
		}
	}
	return p
}

func TestTotalsAreTheZonesAddedUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, _ := compute(randomPlan(t))
		counts := map[string]int{}
		from := map[string][]plan.Ref{}
		for _, z := range list.Zones {
			for _, l := range z.Lines {
				counts[l.Group+"/"+l.Item] += l.Count
				from[l.Group+"/"+l.Item] = append(from[l.Group+"/"+l.Item], l.From...)
			}
		}
		for _, l := range list.Total {
			key := l.Group + "/" + l.Item
			slices.Sort(from[key])
			if counts[key] != l.Count || !slices.Equal(from[key], l.From) {
				t.Errorf("%s: total %d %v, zones add up to %d %v", key, l.Count, l.From, counts[key], from[key])
			}
			delete(counts, key)
		}
		if len(counts) > 0 {
			t.Errorf("the total leaves out %v", counts)
		}
	})
}

func TestEachNewThingIsTracedOnceAGroupAndNoOtherIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomPlan(t)
		list, _ := compute(p)
		traced := map[string]int{}
		for _, l := range list.Total {
			if l.Group == GroupUsedUp || l.Group == GroupFlag && strings.Contains(l.Item, "written on") {
				continue // these go by shares
			}
			if l.Count != len(l.From) || l.Rule == "" {
				t.Errorf("%s: count %d of %d things, rule %q", l.Item, l.Count, len(l.From), l.Rule)
			}
			for _, r := range l.From {
				traced[l.Group+" "+string(r)]++
			}
		}
		want := map[string]int{}
		for id, h := range p.Heads {
			if h.Status.IsNew() {
				for _, g := range []string{GroupBody, GroupNozzle, GroupJoint, GroupFlag} {
					want[g+" heads/"+string(id)] = 1
				}
			}
		}
		for id, z := range p.Zones {
			if z.Status.IsNew() {
				want[GroupValve+" zones/"+string(id)] = 1
				want[GroupFitting+" zones/"+string(id)] = 2 // unions
			}
		}
		if diff := cmp.Diff(want, traced); diff != "" {
			t.Errorf("traces differ (-want +got):\n%s", diff)
		}
	})
}

func TestOrderIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomPlan(t)
		a, _ := compute(p)
		b, _ := compute(p)
		if diff := cmp.Diff(a, b); diff != "" {
			t.Errorf("two runs differ:\n%s", diff)
		}
		if !slices.IsSortedFunc(a.Total, func(x, y Line) int {
			if d := slices.Index(groupOrder, x.Group) - slices.Index(groupOrder, y.Group); d != 0 {
				return d
			}
			return strings.Compare(x.Item, y.Item)
		}) {
			t.Errorf("the total is out of order: %v", a.Total)
		}
	})
}

func TestExistingZoneWithOnlyNewHeadsIsAsked(t *testing.T) {
	zone := func(heads ...plan.Status) *plan.Plan {
		p := &plan.Plan{
			Zones: map[plan.ID]plan.Zone{"z1": {Name: "Old front", Station: 1, Status: plan.Existing}},
			Heads: map[plan.ID]plan.Head{},
		}
		rows(p)
		for i, s := range heads {
			p.Heads[plan.ID(fmt.Sprintf("h%d", i+1))] = plan.Head{Body: "b4", Nozzle: "n1", Zone: "z1", Status: s}
		}
		return p
	}
	_, found := compute(zone(plan.New, plan.New))
	if len(found) != 1 || found[0].Code != plan.ExistingBought {
		t.Fatalf("found %v, want one %s", found, plan.ExistingBought)
	}
	if want := []plan.Ref{"heads/h1", "heads/h2", "zones/z1"}; !slices.Equal(found[0].About, want) {
		t.Errorf("about %v, want %v", found[0].About, want)
	}
	for _, mended := range []*plan.Plan{zone(plan.Existing, plan.Existing), zone(plan.Existing, plan.New), zone()} {
		if _, found := compute(mended); len(found) != 0 {
			t.Errorf("found %v, want nothing", found)
		}
	}
}

// The joint that is listed and the row that pressures count go by the same inlet;
// where they differ, by a row chosen for all heads or an inlet no row takes, the
// line says so.
func TestRowE5_TheListedJointAgreesWithThePressures(t *testing.T) {
	for _, c := range []struct {
		named plan.ID
		inlet units.Inches
		item  string
		says  string // of the joint that pressures count instead
	}{
		{"", 0.5, "Swing joint, 1/2 in", ""}, {"", 0.75, "Swing joint, 3/4 in", ""}, {"", 0, "Swing joint", ""},
		{"swing-joint-0_75", 0.75, "Swing joint, 3/4 in", ""},
		{"swing-joint-0_5", 0.75, "Swing joint, 3/4 in", "“Swing joint 1/2 in”"}, {"", 1.5, "Swing joint, 1-1/2 in", "“Swing joint 1 in”"},
	} {
		p := &plan.Plan{Heads: map[plan.ID]plan.Head{"h1": {Body: "b", Nozzle: "n1"}}, Supply: plan.Supply{SwingJoint: c.named}}
		rows(p)
		p.Bodies["b"] = catalog.Body{Name: "Body", InletIn: c.inlet}
		list, _ := compute(p)
		found := false
		for _, l := range list.Total {
			if l.Group != GroupJoint {
				continue
			}
			found = true
			if l.Item != c.item || strings.Contains(l.Rule, "Pressures count") != (c.says != "") || !strings.Contains(l.Rule, c.says) {
				t.Errorf("%+v: %q, %q", c, l.Item, l.Rule)
			}
		}
		if !found {
			t.Errorf("%+v: no joint is listed", c)
		}
	}
}
