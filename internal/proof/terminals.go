package proof

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
)

// terminals is the map that is kept inside the controller's door: the common, the master
// valve, each station, zones without one, and what is left over.
func (f *wireWork) terminals(wires []WireAt) []TerminalEntry {
	if len(f.zones) == 0 && len(wires) == 0 {
		return nil
	}
	out := []TerminalEntry{{Terminal: commonTerminal, Zone: "Common of all valves"}}
	if f.hasMaster {
		out = append(out, TerminalEntry{Terminal: masterTerminal, Zone: "Master valve"})
	}
	for _, z := range f.zones {
		s := f.p.Zones[z].Station
		if last := &out[len(out)-1]; s > 0 && last.Station == s {
			last.Zones = append(last.Zones, z)
			last.Zone += ", " + f.zone(z)
			continue
		}
		e := TerminalEntry{Terminal: noTerminal, Station: s, Zones: []plan.ID{z}, Zone: plan.Capital(f.zone(z))}
		if s > 0 {
			e.Terminal = fmt.Sprint(s)
		}
		out = append(out, e)
	}
	for i := range out {
		f.fill(&out[i], wires)
	}
	for _, w := range wires {
		ofNone := w.Kind == WireZone && !slices.ContainsFunc(w.Zones, func(z plan.ID) bool { return !f.gone(z) })
		if ofNone || w.Kind == WireSpare || w.Kind == WireShorted || w.Kind == WireUnknown {
			e := TerminalEntry{Terminal: noTerminal, Zone: w.Is}
			e.take(&w)
			out = append(out, e)
		}
	}
	return out
}

// noTerminal stands for none.
const noTerminal = "–"

// fill puts the wires of a terminal on it.
func (f *wireWork) fill(e *TerminalEntry, wires []WireAt) {
	for _, w := range wires {
		on := e.Terminal == w.Goes
		if len(e.Zones) > 0 {
			on = slices.ContainsFunc(w.Zones, func(z plan.ID) bool { return slices.Contains(e.Zones, z) })
		}
		if on {
			e.take(&w)
		}
	}
}

// take puts a wire on a terminal.
func (e *TerminalEntry) take(w *WireAt) {
	e.Wires = append(e.Wires, w.ID)
	e.Wire = joinedBy(e.Wire, ", ", w.Mark)
	switch {
	case w.Open:
		e.Ohms = joinedBy(e.Ohms, ", ", "open")
	case w.Ohms != nil:
		e.Ohms = joinedBy(e.Ohms, ", ", ohmsSay(*w.Ohms))
	}
	warn := strings.TrimSpace(w.Warn + " " + w.Moves)
	if w.Left {
		warn = strings.TrimSpace("Not tried: the only one left. " + warn)
	}
	e.Warn = joinedBy(e.Warn, " ", warn)
}

// joinedBy joins two texts, of which either may be empty.
func joinedBy(a, by, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + by + b
}
