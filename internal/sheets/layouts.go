package sheets

import (
	"fmt"
	"io"
	"slices"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/zones"
)

// Layouts writes as plain text what a search for layouts found: the offers, of
// which one is taken, and for each area its layouts and what falls past its edge.
func Layouts(w io.Writer, p *plan.Plan, found *arrange.Proposal, taken int) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.section("Offers")
	rows := [][]string{headings("Offer")}
	for i, o := range found.Offers {
		rows = append(rows, figures(p, fmt.Sprintf("%d %s", i+1, o.Name), &o.Total))
	}
	t.table(rows)
	if taken >= 0 && taken < len(found.Offers) {
		o := found.Offers[taken]
		t.wrap("  ", fmt.Sprintf("Taken: %s. %s", o.Name, o.Says))
	}
	for i := range found.Answers {
		t.layouts(&found.Answers[i])
	}
	t.line("")
	for _, n := range found.Notes {
		t.wrap("", "Note: "+n)
	}
	t.columns()
	t.wrap("", arrange.Caution)
	return t.write(w, "the layouts")
}

// layouts writes what was found for one area.
func (r *reporter) layouts(a *arrange.Answer) {
	r.section(r.p.AreaName(a.Area))
	if a.Why != "" {
		r.wrap("  ", a.Why)
	}
	if len(a.Layouts) == 0 {
		return
	}
	rows := [][]string{headings("Layout")}
	for i := range a.Layouts {
		y := &a.Layouts[i]
		name := fmt.Sprintf("%d %s", i+1, arrange.FamilyWord(y.Family))
		if y.Tidy {
			name += ", tidy"
		}
		rows = append(rows, figures(r.p, name, &y.Measures))
	}
	r.table(rows)
	for i := range a.Layouts {
		r.wrap("  ", fmt.Sprintf("%d: %s", i+1, a.Layouts[i].Says))
		for _, s := range a.Layouts[i].Measures.PastTold() {
			r.line("     %s: %s of the flow", plan.Capital(s.Name), arrange.SmallShare(r.sys, s.Share))
		}
	}
}

func headings(first string) []string {
	row := []string{first}
	for _, c := range arrange.Columns() {
		row = append(row, c.Short)
	}
	return row
}

func figures(p *plan.Plan, first string, m *arrange.Measures) []string {
	row := []string{first}
	for _, f := range m.Figures(p) {
		row = append(row, f.Text)
	}
	return row
}

// columns says what the headings of the tables stand for.
func (r *reporter) columns() {
	for _, c := range arrange.Columns() {
		if c.Short != c.Label {
			r.line("%s: %s", c.Short, c.Label)
		}
	}
	r.line("")
}

// Mends writes as plain text what would improve a layout, and which of that is
// taken, by index.
func Mends(w io.Writer, p *plan.Plan, found *arrange.Improvement, taken []int) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.wrap("", found.Says)
	for i := range found.Mends {
		m := &found.Mends[i]
		mark := "passed over"
		if slices.Contains(taken, i) {
			mark = "taken"
		}
		t.section(fmt.Sprintf("%d, %s, %s", i+1, p.AreaName(m.Area), mark))
		t.wrap("  ", m.Says+" "+m.Why)
		rows := [][]string{{"", "Before", "After"}}
		for _, b := range m.Readings(p) {
			rows = append(rows, []string{b.Label, b.Before, b.After})
		}
		t.table(rows)
	}
	if len(found.Left) > 0 {
		t.section("What no such change cures")
		for _, s := range found.Left {
			t.wrap("  ", s)
		}
	}
	t.line("")
	t.wrap("", arrange.Caution)
	return t.write(w, "the changes")
}

// Groups writes as plain text which heads share a valve.
func Groups(w io.Writer, p *plan.Plan, o *zones.Offer) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.wrap("", o.Says)
	t.wrap("", o.Bound.Says)
	t.wrap("", o.Window)
	t.section("Zones, at the most " + t.sys.Flow(o.Limit) + " each")
	rows := [][]string{{"Station", "Zone", "Heads", "Flow", "Rate", "Minutes a week", "Alike in", "Valve"}}
	for _, g := range o.Groups {
		name := g.Name
		if g.Locked {
			name += ", locked"
		}
		rows = append(rows, []string{
			fmt.Sprint(g.Station), name, fmt.Sprint(len(g.Heads)), t.sys.Flow(g.Flow), t.sys.Rate(g.Rate), arrange.Minutes(g.Minutes), g.Kind, g.Where,
		})
	}
	t.table(rows)
	for _, n := range o.Notes {
		t.wrap("  ", "Note: "+n)
	}
	t.line("")
	t.wrap("", zones.Caution)
	return t.write(w, "the zones")
}
