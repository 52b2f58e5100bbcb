package packs

import (
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// terminalMap is which wire goes to which terminal of the controller, and what else was
// found of the wires there.
func (b *builder) terminalMap() error {
	b.terminals(b.list(), proof.WiresAlong(b.p, b.in.Design.Wiring))
	return nil
}

func (b *builder) terminals(f *flow, m proof.WireMap) {
	f.caution(m.Caution)
	switch {
	case m.Zones == 0:
		f.para("No zone is drawn yet.")
	case len(m.Wires) == 0:
		f.para("No wire has been noted at the controller yet. Power the terminals one by one, see which zone runs, and write in the wire's colour or the tape put on it, and the resistance of its coil.")
	case m.Says != "":
		f.para(sentence(m.Says))
	}
	f.bullets(m.Warnings...)
	f.section("Terminals")
	f.table(b.terminalGrid(m))
	f.section("Changed since")
	f.table(grid{Head: []string{"On", "Terminal", "Wire", "Zone", "By"}, Shares: []float64{12, 10, 20, 34, 14}, Least: 19, Rows: blankRows(4, 5)})
}

// terminalGrid is the map by terminal: as planned, as found, and a blank for whoever
// looks again. Where nothing was found what the plan asks for stands alone.
func (b *builder) terminalGrid(m proof.WireMap) grid {
	g := grid{Head: []string{"Terminal", "Zone", "Planned wire", "Wire found", "Coil", "To know", "Looked at"}, Shares: []float64{11, 25, 15, 15, 9, 37, 12}, Least: 17}
	for _, t := range m.Terminals {
		g.Rows = append(g.Rows, []string{t.Terminal, t.Zone, b.plannedWire(t), t.Wire, t.Ohms, t.Warn, ""})
	}
	g.Note = "A dash: a wire that belongs on no terminal. Coil: resistance of the valve's coil with its wire, read with the plug out. Write the station on both ends of every wire."
	return g
}

// plannedWire is the conductor that the plan has for a terminal.
func (b *builder) plannedWire(t proof.TerminalEntry) string {
	w := b.in.Design.Wiring
	if t.Station == 0 && len(t.Zones) == 0 {
		if w.Common > 0 && t.Terminal == "Common" {
			return "white"
		}
		return ""
	}
	var out []string
	for _, id := range t.Zones {
		for _, r := range w.Runs {
			if r.To == plan.RefTo("zones", id) && r.Known && r.New {
				out = append(out, strings.Join(r.Colours, ", then "))
			}
		}
	}
	return strings.Join(out, "; ")
}
