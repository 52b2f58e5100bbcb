package sheets

import (
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// SupplyNote is what every print and list says of the supply: that it was not
// measured properly, that its flow is a choice, that its water is reclaimed, that
// something is put into it; "" where there is nothing to say.
func SupplyNote(p *plan.Plan, s *pressure.Supply) string {
	var notes []string
	add := func(note string) { notes = append(notes, note) }
	switch {
	case s.Rough:
		add("The water supply is ROUGH: a container was timed, which tells no pressure, and " + p.Show.Flow(s.DesignGPM) + " is ASSUMED. Measure the pressure left while water runs before anything is bought or dug.")
	case s.Assumed:
		add("The water supply is ASSUMED, not measured: " + p.Show.Flow(s.DesignGPM) + " to plan on. Measure flow and pressure before anything is bought or dug.")
	}
	if s.Binding == pressure.Override {
		reason := "with no reason kept"
		if s.Override != "" {
			reason = "because: " + strings.TrimRight(s.Override, ".")
		}
		add("The design flow of " + p.Show.Flow(s.DesignGPM) + " was CHOSEN, " + reason + ".")
	}
	if p.Supply.Kind == plan.Reclaimed { // purple: APWA uniform colour code
		add("The water is RECLAIMED, not for drinking: mark pipe, valves, boxes and heads purple, and keep it apart from drinking water. Local code decides.")
	}
	if p.Supply.Injection { // International Plumbing Code 608, from memory
		kind := ""
		if p.Supply.Kind.Drunk() {
			kind = "only a reduced-pressure backflow device will do, and "
		}
		add("Fertilizer or other chemicals are INJECTED: " + kind + "nothing for drinking or hoses is taken off the system. Local code decides.")
	}
	return strings.Join(notes, " ")
}

// supplyNote says of the supply what every print does.
func (r *reporter) supplyNote(s *pressure.Supply) {
	if note := SupplyNote(r.p, s); note != "" {
		r.wrap("", note)
	}
}

// noted is a table whose last line is a note, in the column of that name; as it
// is where there is nothing to note.
func noted(t Table, column, note string) Table {
	if note == "" {
		return t
	}
	row := make([]Cell, len(t.Columns))
	row[0] = Text(NoteName)
	for i, c := range t.Columns {
		if c.Name == column {
			row[i] = Text(note)
		}
	}
	t.Rows = append(t.Rows[:len(t.Rows):len(t.Rows)], row)
	return t
}
