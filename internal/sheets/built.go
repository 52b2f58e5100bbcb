package sheets

import (
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// noneBuilt is said where there is nothing to list.
const noneBuilt = "No built place is measured yet: what is listed elsewhere is where things are drawn."

// Built is the record of what was built where: each thing that was measured in the ground,
// how far from where it was drawn, and how it is found again from fixed corners.
func Built(p *plan.Plan, things []proof.BuiltThing) Table {
	sys := p.Show
	t := Table{Title: "Record of what was built", Columns: []Column{
		{"Thing", 28}, {"Status", 10}, {"Measured on", 12}, {"Moved", 34}, {"Depth", 10},
		lengths.column(sys, "East", 10), lengths.column(sys, "North", 10), {"Found by", 90}, {"Note", 40},
	}}
	for _, b := range things {
		depth := ""
		if b.Depth > 0 {
			depth = sys.Inches(b.Depth)
		}
		moved := b.Moved
		if moved == "" {
			moved = "as drawn"
		}
		t.Rows = append(t.Rows, []Cell{Text(b.What), Text(statusWord(b.Status)), Text(b.On), Text(moved), Text(depth),
			lengths.cell(sys, b.At[0]), lengths.cell(sys, b.At[1]), Text(b.Says), Text(b.Note)})
	}
	if len(things) == 0 {
		return noted(t, "Found by", noneBuilt)
	}
	return t
}
