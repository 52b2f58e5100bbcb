package parts

import (
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// Quote is what parts and work come to by the user's own prices and rates. What has
// no rate is not in it, and Left says so.
type Quote struct {
	Currency string      `json:"currency"`
	Parts    Cents       `json:"parts_cents"`
	MarkUp   Cents       `json:"mark_up_cents"` // on parts
	Work     []QuoteLine `json:"work"`
	Rentals  []QuoteLine `json:"rentals"`
	Subtotal Cents       `json:"subtotal_cents"` // parts with mark-up, work and rentals
	Taxed    Cents       `json:"taxed_cents"`    // what tax is taken of
	Tax      Cents       `json:"tax_cents"`
	Total    Cents       `json:"total_cents"`
	MarkUpBy string      `json:"mark_up_by"` // how it was reckoned, in words; "" none
	TaxBy    string      `json:"tax_by"`
	Missing  []Missing   `json:"missing"` // parts without a price
	Left     []string    `json:"left"`    // what is not in it, each a phrase
	Notes    string      `json:"notes"`   // the user's own
}

// QuoteLine is work or a machine.
type QuoteLine struct {
	What  string  `json:"what"`
	Unit  string  `json:"unit"` // ft | m | head | valve | day
	Count float64 `json:"count"`
	Each  float64 `json:"each"`
	Sum   Cents   `json:"sum_cents"`
}

// Quoted is the quote of a plan: cost is what its parts come to, digs what is dug
// for it.
func Quoted(p *plan.Plan, list *List, cost *Cost, digs *trench.Digs) *Quote {
	return nil
}
