package sheets

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// QuoteOf is what parts and work of a design come to by the plan's own prices and rates.
func QuoteOf(p *plan.Plan, d *design.Design) *parts.Quote {
	return parts.Quoted(p, parts.Priced(d.Parts, p.Prices, p.Quote.Currency), d.Digs)
}

// QuoteTable is a quote, a line for each sum, and after the total what is not in it.
func QuoteTable(p *plan.Plan, q *parts.Quote) Table {
	t := Table{Title: "Quote", Columns: []Column{{"What", 44}, {"Count", 8}, {"Unit", 8}, {moneyColumn("Rate", q.Currency), 12}, {moneyColumn("Sum", q.Currency), 12}, {"How", 40}}}
	sum := func(what string, of parts.Cents, how string) {
		t.Rows = append(t.Rows, []Cell{Text(what), Text(""), Text(""), Text(""), money(of), Text(how)})
	}
	lines := func(list []parts.QuoteLine) {
		for _, l := range list {
			count := Number(l.Count, countDecimals(l.Count))
			t.Rows = append(t.Rows, []Cell{Text(l.What), count, Text(l.Unit), Number(l.Each, priceDecimals(l.Each)), money(l.Sum), Text("")})
		}
	}
	sum("Parts", q.Parts, "By the parts list")
	if q.MarkUpBy != "" {
		sum("Mark-up", q.MarkUp, q.MarkUpBy)
	}
	lines(q.Work)
	lines(q.Rentals)
	sum("Subtotal", q.Subtotal, "")
	if q.TaxBy != "" {
		sum("Tax", q.Tax, q.TaxBy)
	}
	sum("Total", q.Total, "Every line is rounded to the nearest cent, halves up")
	for _, left := range q.Left {
		t.Rows = append(t.Rows, []Cell{Text("Not in it"), Text(""), Text(""), Text(""), Text(""), Text(plan.Capital(left))})
	}
	if q.Notes != "" {
		t.Rows = append(t.Rows, []Cell{Text(NoteName), Text(""), Text(""), Text(""), Text(""), Text(q.Notes)})
	}
	return t
}

func countDecimals(v float64) int {
	if _, behind, ok := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), "."); ok {
		return min(len(behind), 4)
	}
	return 0
}

// QuoteText writes the quote of a plan to be read.
func QuoteText(w io.Writer, p *plan.Plan, d *design.Design) error {
	r := &reporter{p: p, d: d, sys: p.Show}
	q := QuoteOf(p, d)
	name := p.Name
	if name == "" {
		name = "Plan without a name"
	}
	r.line("Quote: %s", strings.Join(strings.Fields(name), " "))
	r.supplyNote(&d.Pressure.Supply)
	r.line("")
	table := QuoteTable(p, q)
	widest, longest := 0, 0
	for _, row := range table.Rows {
		if row[4].String() != "" {
			widest, longest = max(widest, len([]rune(quoted(row)))), max(longest, len(row[4].String()))
		}
	}
	for _, row := range table.Rows {
		if row[4].String() == "" {
			continue
		}
		what := quoted(row)
		r.line("  %s%s  %*s", what, strings.Repeat(" ", widest-len([]rune(what))), longest, row[4].String())
	}
	if q.Currency != "" {
		r.line("  Sums in %s.", q.Currency)
	}
	r.section("Not in it")
	for _, left := range q.Left {
		r.wrap("  ", plan.Capital(left)+".")
	}
	if q.Notes != "" {
		r.section("Notes")
		for line := range strings.Lines(q.Notes) {
			r.wrap("  ", line)
		}
	}
	if _, err := w.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the quote: %w", err)
	}
	return nil
}

// quoted is a line of a quote in words, without its sum.
func quoted(row []Cell) string {
	text := strings.Join(strings.Fields(row[0].String()), " ")
	switch {
	case row[1].String() != "":
		unit := row[2].String()
		if unit != "ft" && unit != "m" && row[1].String() != "1" {
			unit += "s"
		}
		return fmt.Sprintf("%s: %s %s at %s", text, row[1], unit, row[3])
	case row[5].String() != "" && text != "Total":
		return text + ": " + strings.ToLower(row[5].String()[:1]) + row[5].String()[1:]
	}
	return text
}
