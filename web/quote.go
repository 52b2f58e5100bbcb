package web

import (
	"cmp"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/web/view"
)

// quotePage shows what parts and work come to by the user's own prices and rates, to
// be printed.
func (s *Site) quotePage(w http.ResponseWriter, r *http.Request) {
	o, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var m view.QuoteModel
	err = s.run(r.Context(), o, p, func(pic picture) error {
		cost := parts.Priced(pic.design.Parts, p.Prices, p.Quote.Currency)
		m = quoteWords(bill{pic.design.Parts, cost, parts.Quoted(p, cost, pic.design.Digs)})
		m.Supply = sheets.SupplyNote(p, &pic.design.Pressure.Supply)
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	m.ID, m.Name, m.Date = saved.ID, p.Name, s.Now().Format("2 January 2006")
	s.show(w, r, http.StatusOK, view.Quote(m))
}

func quoteWords(b bill) view.QuoteModel {
	q := b.quote
	in := func(c parts.Cents) string { return c.In(q.Currency) }
	m := view.QuoteModel{
		Empty: !b.money(), Currency: q.Currency, Parts: in(q.Parts), Subtotal: in(q.Subtotal), Total: in(q.Total),
	}
	if n := len(q.Missing); n > 0 {
		m.Short = "This is not the whole: " + plan.Plural(n, "part has", "parts have") + " no price yet and " + plan.Choose(n, "is", "are") + " not in it."
	}
	for _, l := range b.cost.Lists {
		row := view.QuoteList{Name: listTitle(l), Lines: strconv.Itoa(len(l.Lines)), Sum: listSum(l, q.Currency)}
		if l.Missing > 0 {
			row.Missing = strconv.Itoa(l.Missing)
		}
		m.Lists = append(m.Lists, row)
	}
	if q.MarkUpBy != "" {
		m.MarkUp = []string{q.MarkUpBy, in(q.MarkUp)}
	}
	if q.TaxBy != "" {
		m.Tax = []string{q.TaxBy, in(q.Tax)}
	}
	for _, lines := range [][]parts.QuoteLine{q.Work, q.Rentals} {
		for _, l := range lines {
			m.Work = append(m.Work, view.QuoteRow{What: l.What, Count: quoteCount(l), Each: eachWords(l.Each, l.Unit, q.Currency), Sum: in(l.Sum)})
		}
	}
	for _, left := range q.Left {
		m.Left = append(m.Left, plan.Capital(left)+".")
	}
	for line := range strings.Lines(q.Notes) {
		if line = strings.TrimSpace(line); line != "" {
			m.Notes = append(m.Notes, line)
		}
	}
	return m
}

// listTitle names a list of parts as the panel does: a zone's by its station.
func listTitle(l parts.CostList) string {
	name := cmp.Or(l.Name, string(l.Zone))
	if l.Station > 0 {
		return fmt.Sprintf("Station %d: %s", l.Station, name)
	}
	return name
}

// quoteCount is how much of some work there is, with its unit.
func quoteCount(l parts.QuoteLine) string {
	unit := l.Unit
	if unit != "ft" && unit != "m" && l.Count != 1 {
		unit += "s"
	}
	return strconv.FormatFloat(l.Count, 'f', -1, 64) + " " + unit
}
