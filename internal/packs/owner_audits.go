package packs

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// auditCode is the sheet of the catch-can audits.
const auditCode = "O9"

// audits is every catch-can audit: what was caught beside what was predicted, its
// figures, and the heads at fault; a form to fill in where there is none.
func (b *builder) audits() error {
	f := b.list()
	lines := proof.AuditLines(b.p)
	if len(lines) == 0 {
		f.para("No catch-can audit has been made yet, as far as this plan knows. Set out cans over one area, evenly or by its heads, let each of its zones run by itself, and write in what every can caught: from that follow how even the water is, how much comes, and which heads give too little or lean.")
		b.auditForm(f)
		return nil
	}
	for i, line := range lines {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		a, err := proof.AuditOf(b.ctx, b.p, line.ID)
		if err != nil {
			if b.ctx.Err() != nil {
				return b.ctx.Err()
			}
			a = &proof.Audited{ID: line.ID, Name: line.Says, Says: plan.Capital(err.Error())}
		}
		if i > 0 {
			f.newPage()
		}
		b.audited(f, a)
	}
	return nil
}

func (b *builder) audited(f *flow, a *proof.Audited) {
	title := a.Name
	rec := b.p.Proof.Audits[a.ID]
	if rec.On != "" && !strings.Contains(title, rec.On) {
		title += ", " + rec.On
	}
	f.section(title)
	if a.Says != "" {
		f.para(sentence(a.Says))
	}
	if s := b.auditRun(rec); s != "" {
		f.para(s)
	}
	if len(a.Figures) > 0 {
		g := grid{Head: []string{"", "Measured", "Predicted at the cans", "How it is reckoned"}, Shares: []float64{28, 14, 17, 50}}
		for _, k := range a.Figures {
			g.Rows = append(g.Rows, []string{k.Name, k.Measured, k.Expected, k.Form})
		}
		f.table(g)
	}
	b.auditMaps(f, a)
	b.auditFaults(f, a)
	if a.Uses != "" {
		f.para("Taken into the watering program: " + lowerFirst(a.Uses))
	}
	if note := strings.TrimSpace(rec.Note); note != "" {
		f.para("Noted: " + sentence(note))
	}
	if len(a.Rules)+len(a.Notes) > 0 {
		f.section("To know")
		f.bullets(append(append([]string{}, a.Rules...), a.Notes...)...)
	}
	if len(a.Cans) > 0 {
		f.section("Can by can")
		f.table(b.canGrid(a))
	}
}

// auditRun says how an audit was made: minutes, cans, wind.
func (b *builder) auditRun(a plan.Audit) string {
	var runs, says []string
	for _, id := range plan.SortedIDs(a.Runs) {
		name := "a zone that is gone"
		if _, there := b.p.Zones[id]; there {
			name = b.p.ZoneName(id)
		}
		runs = append(runs, fmt.Sprintf("%s for %g minutes", name, a.Runs[id]))
	}
	if len(runs) > 0 {
		says = append(says, "Run: "+plan.Series(runs)+".")
	}
	if a.WindMPH != nil {
		says = append(says, "Wind: "+b.sys.Speed(*a.WindMPH)+".")
	}
	return strings.Join(says, " ")
}

// auditFaults are the heads at fault with what to look at, and what the cans cannot tell.
func (b *builder) auditFaults(f *flow, a *proof.Audited) {
	if len(a.Faults) > 0 {
		f.section("Heads to look at")
		g := grid{Head: []string{"Head", "It gives", "What that says", "Look at"}, Shares: []float64{9, 33, 32, 40}, Ticks: true}
		for _, h := range a.Faults {
			sure := h.Verdict
			if !h.Sure {
				sure = joined(sure, "(not sure)")
			}
			g.Rows = append(g.Rows, []string{h.Tag, listed(h.Output, h.Tilt), sure, h.Look})
		}
		f.table(g)
	} else if a.Known && len(a.Heads) > 0 {
		f.para("No head is shown to be at fault by these cans.")
	}
	f.bullets(a.Unsure...)
}

// canGrid are the cans in walking order, twice beside one another.
func (b *builder) canGrid(a *proof.Audited) grid {
	t := grid{Head: []string{"Can", "Caught", "Depth", "Predicted", "% of mean", "Note"}}
	for i := range a.Cans {
		c := &a.Cans[i]
		note := strings.TrimSpace(c.Note)
		switch {
		case c.Out:
			note = listed("left out", note)
		case c.Low:
			note = listed("driest quarter", note)
		}
		t.Rows = append(t.Rows, []string{itoa(c.Number), c.Catch, c.Depth, c.Predicted, signless(c.Percent), note})
	}
	g := twoColumns(t, 6, 10, 10, 11, 9, 18)
	g.Small = true
	return g
}

// auditForm is a form for an audit to be made by hand.
func (b *builder) auditForm(f *flow) {
	f.section("To fill in")
	f.facts([2]string{"Area", "______________________________"}, [2]string{"On, by", "______________________________"}, [2]string{"Zones and their minutes", "______________________________"},
		[2]string{"Opening of a can", "____________"}, [2]string{"Wind", "____________"})
	const cans = 24
	t := grid{Head: []string{"Can", "Where", "Caught"}}
	for i := range cans {
		t.Rows = append(t.Rows, []string{itoa(i + 1), "", ""})
	}
	g := twoColumns(t, 6, 40, 16)
	g.Least = 18
	f.table(g)
	f.bullets("In still air, early in the morning. No can under a shrub, over a head or against an edge; their tops level.")
}

// listed are two things in a row, either of which may be nothing.
func listed(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}
