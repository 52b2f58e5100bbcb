package plan

import (
	"fmt"

	"evenfall/internal/units"
)

// PipeName names a pipe by its water and what it leads to, or comes from: "pipe of
// zone 3 to head 3-6", "main pipe from the point of connection"; one between bare
// joints by where it begins.
func (p *Plan) PipeName(id ID) string {
	e := p.Pipes[id]
	water := "main pipe"
	if e.Zone != "" {
		water = "pipe of " + p.zoneShort(e.Zone)
	}
	if to := p.standsAt(p.Nodes[e.To]); to != "" {
		return water + " to " + to
	}
	if from := p.standsAt(p.Nodes[e.From]); from != "" {
		return water + " from " + from
	}
	return water + " " + p.placeName(p.Nodes[e.From].Spot())
}

// NodeName names a joint of pipes by what stands there, or by its place: "pipe joint
// of head 2-8", "joint at 30, 15 ft".
func (p *Plan) NodeName(id ID) string {
	n := p.Nodes[id]
	if at := p.standsAt(n); at != "" {
		return "pipe joint of " + at
	}
	switch n.Kind {
	case "drain":
		return "drain " + p.placeName(n.Spot())
	case "valve":
		return "valve " + p.placeName(n.Spot())
	}
	return "joint " + p.placeName(n.Spot())
}

// standsAt names the head, valve or place of the supply that a node is the joint of;
// "" for a bare joint.
func (p *Plan) standsAt(n Node) string {
	switch n.Kind {
	case "head":
		if _, ok := p.Heads[n.Head]; ok {
			return p.HeadName(n.Head)
		}
	case "valve":
		if _, ok := p.Zones[n.Zone]; ok {
			return "the valve of " + p.zoneShort(n.Zone)
		}
	case "connection":
		return "the point of connection"
	case "backflow":
		return "the backflow device"
	}
	return ""
}

// SleeveName is a sleeve by where it begins: "sleeve at 30, 15 ft".
func (p *Plan) SleeveName(id ID) string { return "sleeve " + p.placeName(p.Sleeves[id].From) }

// WireName is a wire run by where it begins: "wire run at 30, 15 ft".
func (p *Plan) WireName(id ID) string {
	line := p.Wires[id].Line
	if len(line) == 0 {
		return "wire run"
	}
	return "wire run " + p.placeName(Spot{units.Feet(line[0].X), units.Feet(line[0].Y)})
}

// zoneShort is a zone by its station, or by its name where it has none.
func (p *Plan) zoneShort(id ID) string {
	if z := p.Zones[id]; z.Station > 0 {
		return "zone " + itoa(z.Station)
	}
	return p.ZoneName(id)
}

// placeName is a place a person can find: "at 30, 15 ft".
func (p *Plan) placeName(s Spot) string {
	if p.Show == units.Metric {
		return fmt.Sprintf("at %s, %s m", short(s.X.Metres(), 2), short(s.Y.Metres(), 2))
	}
	return fmt.Sprintf("at %s, %s ft", short(float64(s.X), 1), short(float64(s.Y), 1))
}
