package sheets

import (
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// SupplyNote is what every print and list says of a supply that was not measured
// properly; "" for one that was.
func SupplyNote(p *plan.Plan, s *pressure.Supply) string {
	switch {
	case s.Rough:
		return "The water supply is ROUGH: a container was timed, which tells no pressure, and " + p.Show.Flow(s.DesignGPM) + " is ASSUMED. Measure the pressure left while water runs before anything is bought or dug."
	case s.Assumed:
		return "The water supply is ASSUMED, not measured: " + p.Show.Flow(s.DesignGPM) + " to plan on. Measure flow and pressure before anything is bought or dug."
	}
	return ""
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
