package packs

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// quoteSheet is what parts and work come to by the plan's own prices and rates, and
// what is not in it.
func (b *builder) quoteSheet() error {
	f := b.list()
	q := sheets.QuoteOf(b.p, b.in.Design)
	if b.supply != "" {
		f.caution(b.supply)
	}
	b.property(f, false)
	f.facts([2]string{"Offered by", or(strings.TrimSpace(b.p.Site.Licence), "________________________________") + "   Holds until ______________"})
	f.para("What parts and work come to by the prices and rates that were put into the plan. It binds nobody until it is signed, and holds for what is drawn.")
	switch n := len(q.Missing); {
	case q.Total == 0:
		f.para("No price and no rate is set yet, so every sum is nothing.")
	case n > 0:
		f.caution(fmt.Sprintf("This quote is not whole: %s without a price, so that the total is too low.", plan.Plural(n, "part is", "parts are")))
	}
	f.table(quoteGrid(sheets.QuoteTable(b.p, q)))
	if q.Currency != "" {
		f.note("Sums in " + q.Currency + ". Every line is rounded to the nearest cent, halves up.")
	} else {
		f.note("No currency is set. Every line is rounded to the nearest cent, halves up.")
	}
	f.section("Not in it")
	var left []string
	for _, l := range q.Left {
		left = append(left, plan.Capital(l)+".")
	}
	f.bullets(left...)
	if q.Notes != "" {
		f.section("Notes")
		f.para(q.Notes)
	}
	f.section("Agreed")
	f.table(grid{Head: []string{"", "Name", "Signed", "Date"}, Shares: []float64{3, 6, 6, 3}, Least: 26, Rows: [][]string{{"Owner", "", "", ""}, {"Contractor", "", "", ""}},
		Note: "Where local law wants a licence or a permit for this work, both are noted on the cover (F1) before anything is signed."})
	return nil
}

// quoteGrid is a quote on paper: each line with how it came about, totals heavy.
func quoteGrid(t sheets.Table) grid {
	g := grid{Heavy: map[int]bool{}, Numbers: []bool{false, true, false, true, true}}
	for _, c := range t.Columns[:5] {
		g.Head = append(g.Head, c.Name)
	}
	for _, row := range t.Rows {
		if row[4].String() == "" {
			continue
		}
		what := row[0].String()
		switch how := row[5].String(); {
		case what == "Subtotal" || what == "Total":
			g.Heavy[len(g.Rows)] = true
		case how != "":
			what += ", " + lowerFirst(how)
		}
		g.Rows = append(g.Rows, []string{what, row[1].String(), row[2].String(), row[3].String(), row[4].String()})
	}
	return g
}
