package sheets

import (
	"io"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
)

// KeptOff writes as plain text how heads are kept off an area, or why they are not.
func KeptOff(w io.Writer, p *plan.Plan, found *arrange.TurnOff) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.wrap("", found.Says)
	if len(found.Changes) > 0 {
		title := "What would have to change"
		if found.Offered {
			title = "Changes"
		}
		t.section(title)
		for _, c := range found.Changes {
			t.wrap("  ", c.Says)
		}
	}
	for _, row := range found.Rows(p) {
		t.section(plan.Capital(p.AreaName(row.Area)))
		rows := [][]string{{"", "Before", "After"}}
		for _, b := range row.Readings {
			rows = append(rows, []string{b.Label, b.Before, b.After})
		}
		t.table(rows)
	}
	if len(found.Notes) > 0 {
		t.line("")
	}
	for _, n := range found.Notes {
		t.wrap("  ", "Note: "+n)
	}
	t.line("")
	t.wrap("", arrange.Caution)
	return t.write(w, "the changes")
}
