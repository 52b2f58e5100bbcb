package web

import (
	"bytes"
	"encoding/json"
	"net/http"

	"evenfall/internal/catalog"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// PricesView is what taking a price list would do, in words: the value of POST
// /plans/{id}/prices/preview.
type PricesView struct {
	Rev     int64              `json:"rev"`  // of the stored plan it was made for
	Says    string             `json:"says"` // what it comes to
	Rows    []PricesRow        `json:"rows"` // those for what the plan takes first, each as in the file
	Errors  []catalog.RowError `json:"errors"`
	Notes   []string           `json:"notes"`
	Missing []string           `json:"missing"` // what still lacks a price then
	Label   string             `json:"label"`
	Patch   json.RawMessage    `json:"patch,omitempty"` // none: there is nothing to take
}

// PricesRow is one price as it would be taken.
type PricesRow struct {
	Line   int    `json:"line"` // of the file
	Item   string `json:"item"`
	Each   string `json:"each"` // with what it is for
	Does   string `json:"does"` // "new", "was $4.00", "as it was"
	Listed bool   `json:"listed"`
	Note   string `json:"note,omitempty"` // why it is not for the list
}

// previewPrices reads a user's price list against the stored plan and answers with
// what it would change. Nothing is kept: the page that takes it makes a step of the
// patch.
func (s *Site) previewPrices(w http.ResponseWriter, r *http.Request) {
	b, err := sent(w, r, csvMost, csvKind)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var v *PricesView
	err = s.run(r.Context(), q.o, q.p, func(pic picture) error {
		v = pricesWords(q.p, q.rev, parts.PreviewPrices(q.p, pic.design.Parts, parts.ReadPrices(bytes.NewReader(b))))
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, v)
}

func pricesWords(p *plan.Plan, rev int64, read *parts.PricePreview) *PricesView {
	currency := p.Quote.Currency
	v := &PricesView{
		Rev: rev, Says: read.Says, Rows: []PricesRow{}, Errors: orEmpty(read.Errors), Notes: orEmpty(read.Notes),
		Missing: []string{}, Patch: patchOf(read.Patch), Label: "Take " + plan.Plural(read.New+read.Changed, "price", "prices") + " from a list",
	}
	var others []PricesRow
	for _, row := range read.Rows {
		view := PricesRow{Line: row.Line, Item: row.Item, Each: eachWords(row.Each, row.Unit, currency), Does: row.Does, Listed: row.Listed, Note: row.Note}
		switch row.Does {
		case "changed":
			view.Does = "was " + parts.PriceIn(row.Was, currency)
			if row.Was == row.Each {
				view.Does = "another code"
			}
		case "same":
			view.Does = "as it was"
		}
		if row.Listed {
			v.Rows = append(v.Rows, view)
		} else {
			others = append(others, view)
		}
	}
	v.Rows = append(v.Rows, others...)
	for _, m := range read.Missing {
		if m.Unit != "each" {
			m.Item += ", by the " + m.Unit
		}
		v.Missing = append(v.Missing, m.Item)
	}
	return v
}
