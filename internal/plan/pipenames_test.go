package plan

import (
	"testing"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Pipes and joints go by what a person finds in the yard, never by an id.
func TestPipesAndJointsAreNamedByWhatStandsThere(t *testing.T) {
	p := &Plan{
		Show:  units.US,
		Heads: map[ID]Head{"h1": {Tag: "3-6"}},
		Zones: map[ID]Zone{"z3": {Name: "Side lawn", Station: 3}, "z9": {Name: "Spare"}},
		Nodes: map[ID]Node{
			"c": {Kind: "connection"}, "b": {Kind: "backflow"}, "v": {Kind: "valve", Zone: "z3"}, "w": {Kind: "valve", X: 7},
			"h": {Kind: "head", Head: "h1"}, "j": {Kind: "joint", X: 30, Y: 15.25}, "k": {Kind: "joint", X: 1, Y: 2}, "d": {Kind: "drain", X: 5},
		},
		Pipes: map[ID]Pipe{
			"p1": {From: "c", To: "b"}, "p2": {From: "b", To: "j"}, "p3": {From: "v", To: "h", Zone: "z3"}, "p4": {From: "j", To: "k", Zone: "z9"},
		},
	}
	for ref, want := range map[Ref]string{
		"pipes/p1": "Main pipe to the backflow device", "pipes/p2": "Main pipe from the backflow device",
		"pipes/p3": "Pipe of zone 3 to head 3-6", "pipes/p4": "Pipe of zone Spare at 30, 15.3 ft", "pipes/p9": "Pipe p9",
		"nodes/c": "Pipe joint of the point of connection", "nodes/v": "Pipe joint of the valve of zone 3", "nodes/h": "Pipe joint of head 3-6",
		"nodes/j": "Joint at 30, 15.3 ft", "nodes/d": "Drain at 5, 0 ft", "nodes/w": "Valve at 7, 0 ft", "nodes/n9": "Pipe joint n9",
	} {
		if got := p.Label(ref); got != want {
			t.Errorf("%s is %q, want %q", ref, got, want)
		}
	}
	p.Show = units.Metric
	if got := p.NodeName("j"); got != "joint at 9.14, 4.65 m" {
		t.Errorf("in metres the joint is %q", got)
	}
}

// Sleeves and wire runs have no name of their own: they are found by where they begin.
func TestSleevesAndWireRunsAreNamedByTheirPlace(t *testing.T) {
	p := &Plan{Show: units.US, Sleeves: map[ID]Sleeve{"s": {From: Spot{30, 15.25}, To: Spot{36, 15}}},
		Wires: map[ID]WireRun{"w": {Line: geom.Line{{X: 2, Y: 3.06}, {X: 9}}}, "none": {}}}
	if got := p.SleeveName("s") + ", " + p.WireName("w") + ", " + p.WireName("none"); got != "sleeve at 30, 15.3 ft, wire run at 2, 3.1 ft, wire run" {
		t.Error(got)
	}
	p.Show = units.Metric
	if got := p.SleeveName("s"); got != "sleeve at 9.14, 4.65 m" {
		t.Error(got)
	}
}
