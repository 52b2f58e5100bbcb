package sheets

import (
	"evenfall/internal/proof"
)

// Terminals is the map of the controller's terminals: what is on each, by which wire, with
// what it reads; then wires that belong on none, and what is odd.
func Terminals(m proof.WireMap) Table {
	t := Table{Title: "Terminal map", Columns: []Column{{"Terminal", 12}, {"For", 34}, {"Wire", 18}, {"Reads", 12}, {"To do", 80}}}
	for _, e := range m.Terminals {
		t.Rows = append(t.Rows, []Cell{Text(e.Terminal), Text(e.Zone), Text(e.Wire), Text(e.Ohms), Text(e.Warn)})
	}
	note := func(s string) {
		if s != "" {
			t.Rows = append(t.Rows, []Cell{Text(NoteName), {}, {}, {}, Text(s)})
		}
	}
	note(m.Says)
	for _, w := range m.Warnings {
		note(w)
	}
	note(m.Caution)
	return t
}
