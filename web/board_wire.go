package web

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/wire"
)

// WireView is how valves and sensors are wired.
type WireView struct {
	Says     string        `json:"says"` // all of it in one line
	Why      string        `json:"why"`  // this cable
	Sums     bool          `json:"sums"` // the thinnest wire does not do: the sums are worth a look
	Runs     []WireRunView `json:"runs"` // valves by station, then sensors
	Splices  []SpliceView  `json:"splices"`
	Cables   []CableView   `json:"cables"`
	Cautions []string      `json:"cautions"`
	Gauges   []GaugeView   `json:"gauges"` // to choose from, the plan's own among them
}

// GaugeView is a size of wire as a choice.
type GaugeView struct {
	Value string `json:"value"` // AWG
	Label string `json:"label"`
}

// WireRunView is the wire of one valve or sensor.
type WireRunView struct {
	To      plan.Ref   `json:"to"`
	Name    string     `json:"name"`
	Station string     `json:"station"`
	Length  string     `json:"length"`
	Size    string     `json:"size"`
	Volts   string     `json:"volts"`
	Drop    string     `json:"drop"`
	Sum     string     `json:"sum"`
	Missing string     `json:"missing"` // why there is no way for it
	At      *orb.Point `json:"at,omitempty"`
	New     bool       `json:"new"`
}

// SpliceView is the joined wires of one place.
type SpliceView struct {
	At    orb.Point `json:"at"`
	Where string    `json:"where"`
	Says  string    `json:"says"`
	Boxed bool      `json:"boxed"`
}

// CableView is wire to be bought.
type CableView struct {
	What   string `json:"what"`
	Length string `json:"length"`
	Why    string `json:"why"`
}

// wire puts the wiring into words.
func (m *maker) wire() WireView {
	w := m.d.Wiring
	v := WireView{
		Says: w.Says, Why: w.Why, Sums: w.Drops, Runs: []WireRunView{}, Splices: []SpliceView{}, Cables: []CableView{},
		Cautions: wire.Cautions(m.sys), Gauges: m.gauges(),
	}
	for _, runs := range [][]wire.Run{w.Runs, w.Sensors} {
		for i := range runs {
			v.Runs = append(v.Runs, m.wireRun(&runs[i]))
		}
	}
	for _, s := range w.Splices {
		b := m.d.Digs.Boxes[s.Box]
		box := m.box(&b)
		v.Splices = append(v.Splices, SpliceView{
			At: b.At, Where: box.Words, Boxed: true,
			Says: fmt.Sprintf("%s in %s", plan.Plural(s.Wires, "wire end", "wire ends"), plan.Plural(s.Connectors, "waterproof connector", "waterproof connectors")),
		})
	}
	for _, u := range w.Unboxed {
		v.Splices = append(v.Splices, SpliceView{
			At: u.At, Where: "No box stands here", Says: plan.Plural(u.Joints, "joint", "joints") + " would lie in bare ground: set a splice box",
		})
	}
	for _, c := range w.Cables {
		v.Cables = append(v.Cables, m.cable(c))
	}
	return v
}

// gauges are the sizes wire is made in, thinnest first, and the plan's own if it has others.
func (m *maker) gauges() []GaugeView {
	all := []int{m.p.Wiring.HotAWG, m.p.Wiring.CommonAWG}
	for _, g := range wire.Gauges() {
		all = append(all, g.AWG)
	}
	slices.Sort(all)
	all = slices.Compact(all)
	out := make([]GaugeView, 0, len(all))
	for _, awg := range slices.Backward(all) {
		if awg > 0 {
			out = append(out, GaugeView{fmt.Sprint(awg), wire.GaugeName(m.sys, awg)})
		}
	}
	return out
}

func (m *maker) wireRun(r *wire.Run) WireRunView {
	v := WireRunView{To: r.To, Name: plan.Capital(wire.Named(m.p, r.To)), Sum: r.Sum, Missing: r.Missing, New: r.New}
	if r.Station > 0 {
		v.Station = fmt.Sprint(r.Station)
	}
	if way := m.wayTo(r.To); way >= 0 && !r.Known {
		if at := m.d.Digs.Ways[way].From; at != (orb.Point{}) {
			v.At = &at
		}
	}
	if !r.Known {
		return v
	}
	v.Length = wire.Length(m.sys, r.Length)
	if r.Hot > 0 {
		v.Size = wire.GaugeName(m.sys, r.Hot)
	}
	if r.Volts > 0 {
		v.Volts, v.Drop = fmt.Sprintf("%.1f V", r.Volts), fmt.Sprintf("%.2f V", r.Drop)
	}
	return v
}

// wayTo is the way of the wire to a thing among the digs; -1: none.
func (m *maker) wayTo(to plan.Ref) int {
	for i := range m.d.Digs.Ways {
		if m.d.Digs.Ways[i].To == to {
			return i
		}
	}
	return -1
}

func (m *maker) cable(c wire.Cable) CableView {
	what := wire.GaugeName(m.sys, c.AWG)
	if c.Conductors > 1 {
		what += fmt.Sprintf(", %d conductors", c.Conductors)
	} else if c.Colour != "" {
		what += ", " + c.Colour
	}
	return CableView{what, wire.Length(m.sys, c.Length), c.Why}
}
