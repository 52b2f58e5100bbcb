package parts

import (
	"math"
	"math/big"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
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
// for it. Only what is new is worked on. Sums are rounded to the nearest cent, halves
// up, each line by itself, so that the quote adds up on paper.
func Quoted(p *plan.Plan, cost *Cost, digs *trench.Digs) *Quote {
	own := p.Quote
	q := &Quote{Currency: own.Currency, Parts: cost.Sum, Missing: cost.Missing, Notes: own.Notes, Work: []QuoteLine{}, Rentals: []QuoteLine{}}
	if len(cost.Missing) > 0 {
		var names []string
		for _, m := range cost.Missing {
			names = append(names, "“"+m.Item+"”") // they hold commas
		}
		q.leave("parts without a price: " + plan.Several(names))
	}
	q.work(p, digs)
	for _, id := range plan.SortedIDs(own.Rentals) {
		r := own.Rentals[id]
		q.Rentals = append(q.Rentals, QuoteLine{r.What, "day", r.Days, r.Each, times(exact(r.Days), r.Each)})
	}
	if len(own.Rentals) == 0 {
		q.leave("machines to rent, since none is named")
	}
	q.sum(own)
	for _, left := range notQuoted {
		q.leave(left)
	}
	return q
}

// notQuoted is what no quote holds.
var notQuoted = []string{
	"permits, fees and the test of the backflow device", "mains electricity, which is an electrician's", "the water meter, which is the supplier's",
	"what the parts list leaves out (its note says what)", "putting lawn and paving back", "what turns up in the ground",
}

func (q *Quote) leave(what string) { q.Left = append(q.Left, what) }

// work adds the lines of work, and says which have no rate.
func (q *Quote) work(p *plan.Plan, digs *trench.Digs) {
	heads, valves := 0, 0
	for _, h := range p.Heads {
		if h.Status.IsNew() {
			heads++
		}
	}
	for _, z := range p.Zones {
		if z.Status.IsNew() {
			valves++
		}
	}
	foot, unit := 1.0, "ft"
	if p.Show == units.Metric {
		foot, unit = units.MetresPerFoot, "m"
	}
	for _, w := range []struct {
		what, unit string
		count      float64
		each       float64
	}{
		{"Trenches, dug and filled", unit, wholeUnits(digs.Totals.Trench, foot), perUnit(p.Quote.PerTrenchFt, foot)},
		{"Under paving, bored or cut", unit, wholeUnits(digs.Totals.Sleeved, foot), perUnit(p.Quote.PerSleeveFt, foot)},
		{"Heads, set", "head", float64(heads), p.Quote.PerHead},
		{"Valves, set", "valve", float64(valves), p.Quote.PerValve},
	} {
		switch {
		case w.count == 0:
		case w.each == 0:
			q.leave("work: " + strings.ToLower(w.what[:1]) + w.what[1:] + ", since it has no rate")
		default:
			q.Work = append(q.Work, QuoteLine{w.what, w.unit, w.count, w.each, times(exact(w.count), w.each)})
		}
	}
	if digs.Totals.Trench == 0 {
		q.leave("trenches, since none is drawn that is new")
	}
}

// wholeUnits is a length in whole feet or metres, rounded up.
func wholeUnits(length units.Feet, foot float64) float64 {
	return math.Ceil(float64(length)*foot - 1e-6)
}

// perUnit is a rate by the foot as one by the foot or the metre, to four decimals: so
// that what was typed by the metre comes out as it was typed.
func perUnit(rate, foot float64) float64 { return math.Round(rate/foot*1e4) / 1e4 }

// sum adds mark-up and tax.
func (q *Quote) sum(own plan.Quote) {
	if own.MarkUpShare > 0 {
		q.MarkUp = share(q.Parts, float64(own.MarkUpShare))
		q.MarkUpBy = percent(float64(own.MarkUpShare)) + " of the parts"
	}
	q.Taxed = q.Parts + q.MarkUp
	q.Subtotal = q.Taxed
	for _, list := range [][]QuoteLine{q.Work, q.Rentals} {
		for _, l := range list {
			q.Subtotal += l.Sum
		}
	}
	on := "of the parts with their mark-up"
	if own.TaxOn == "all" {
		q.Taxed, on = q.Subtotal, "of everything above"
	}
	if own.TaxShare > 0 {
		q.Tax = share(q.Taxed, float64(own.TaxShare))
		q.TaxBy = percent(float64(own.TaxShare)) + " " + on
	} else {
		q.leave("tax, since no rate is set")
	}
	q.Total = q.Subtotal + q.Tax
}

// percent writes a share as it was set: "8.25 %".
func percent(part float64) string {
	text := new(big.Rat).Mul(exact(part), big.NewRat(100, 1)).FloatString(6)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + " %"
}
