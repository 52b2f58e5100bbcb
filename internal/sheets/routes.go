package sheets

import (
	"fmt"
	"io"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// Routes writes as plain text what a search for routes found: the offers side by
// side, of which one is taken, and the ends that no way leads to.
func Routes(w io.Writer, p *plan.Plan, found *trench.Proposal, taken int) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.section("Routes")
	rows := [][]string{{"Offer", "Cost", "Least there can be", "Trench", "Main", "Laterals", "For wire alone", "Crossings", "Longest", "Boxes"}}
	for i, o := range found.Offers {
		m := o.Measures
		rows = append(rows, []string{
			fmt.Sprintf("%d %s", i+1, o.Name), fmt.Sprintf("%.0f", m.Cost), fmt.Sprintf("%.0f", m.Bound), p.About(m.Trench),
			p.About(m.Main), p.About(m.Lateral), p.About(m.Wire), fmt.Sprint(m.Crossings), t.sys.Length(m.Longest), fmt.Sprint(m.Boxes),
		})
	}
	t.table(rows)
	if taken >= 0 && taken < len(found.Offers) {
		o := found.Offers[taken]
		t.wrap("  ", fmt.Sprintf("Taken: %s. %s", o.Name, o.Says))
		for _, n := range o.Notes {
			t.wrap("  ", "Note: "+n)
		}
	}
	for _, b := range found.Blocked {
		t.wrap("  ", "No way: "+b.Why)
	}
	for _, n := range found.Notes {
		t.wrap("  ", "Note: "+n)
	}
	t.line("")
	t.wrap("", trench.Caution)
	return t.write(w, "the routes")
}
