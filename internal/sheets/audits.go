package sheets

import (
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// noAudit is said where there is nothing to list.
const noAudit = "No catch-can audit is in the plan yet."

// Audits lists catch-can audits: of each its figures with their forms, every can beside
// what is predicted there, what the catches say of each head, and what they cannot tell.
func Audits(p *plan.Plan, audits []*proof.Audited) Table {
	sys := p.Show
	t := Table{Title: "Catch-can audits", Columns: []Column{
		{"Audit", 28}, {"On", 12}, {"What", 12}, {"Item", 28}, {"Measured", 18}, {"Depth", 12}, {"Predicted", 18}, {"Of the mean", 10},
		lengths.column(sys, "East", 10), lengths.column(sys, "North", 10), {"Says", 80}, {"Note", 40},
	}}
	for _, a := range audits {
		row := func(what, item string) []Cell {
			cells := make([]Cell, len(t.Columns))
			cells[0], cells[1], cells[2], cells[3] = Text(a.Name), Text(p.Proof.Audits[a.ID].On), Text(what), Text(item)
			t.Rows = append(t.Rows, cells)
			return cells
		}
		row("Audit", "")[10] = Text(a.Says)
		for _, f := range a.Figures {
			r := row("Figure", f.Name)
			r[4], r[6], r[10] = Text(f.Measured), Text(f.Expected), Text(f.Form)
		}
		for _, c := range a.Cans {
			r := row("Can", "")
			r[3], r[4], r[5], r[6], r[7] = Count(c.Number), Text(c.Catch), Text(c.Depth), Text(c.Predicted), Text(c.Percent)
			r[8], r[9] = lengths.cell(sys, float64(c.X)), lengths.cell(sys, float64(c.Y))
			r[10], r[11] = Text(canSays(c)), Text(c.Note)
		}
		for _, h := range a.Heads {
			r := row("Head", h.Tag)
			r[4], r[10] = Text(h.Output), Text(FaultWords(h))
			if h.Fault && !h.Sure {
				r[11] = Text("not sure")
			}
		}
		for _, part := range []struct {
			what  string
			lines []string
		}{{"Cannot tell", a.Unsure}, {"Not kept", a.Rules}, {"Taken", a.Notes}, {"Use", []string{a.Uses}}} {
			for _, s := range part.lines {
				if s != "" {
					row(part.what, "")[10] = Text(s)
				}
			}
		}
	}
	if len(audits) == 0 {
		return noted(t, "Says", noAudit)
	}
	return t
}

// canSays is what stands out in a can.
func canSays(c proof.CanRead) string {
	switch {
	case c.Out:
		return "left out of the sums"
	case c.Low:
		return "of the driest quarter"
	case c.Catch == "":
		return "not read"
	}
	return ""
}

// FaultWords is what an audit says of a head: how it does, how it leans, what to look at.
func FaultWords(h proof.HeadFault) string { return inSentences(h.Verdict, h.Tilt, h.Look) }
