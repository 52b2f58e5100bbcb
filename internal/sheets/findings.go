package sheets

import (
	"evenfall/internal/plan"
)

// Findings is the list of findings, worst first, accepted ones last with their
// reason.
func Findings(p *plan.Plan, findings []plan.Finding) Table {
	t := Table{Title: "Findings", Columns: []Column{
		{"Rank", 8}, {"Finding", 30}, {"What", 60}, {"Why it matters", 48}, {"What to do", 40},
		{"About", 28}, {"Source", 40}, {"Accepted because", 30}, {"By", 14}, {"On", 12}, {"Code", 22},
	}}
	for _, f := range findings {
		var reason, by, on string
		if f.Accepted != nil {
			reason, by, on = f.Accepted.Reason, f.Accepted.By, f.Accepted.On
		}
		t.Rows = append(t.Rows, []Cell{
			Text(string(f.Rank)), Text(f.Title), Text(f.Sentence), Text(f.Why), Text(f.Do),
			Text(refNames(p, f.About)), Text(f.Source), Text(reason), Text(by), Text(on), Text(f.Code),
		})
	}
	return t
}
