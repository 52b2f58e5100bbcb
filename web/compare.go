package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"evenfall/internal/parts"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/wire"
)

// CompareView is what the stored plan takes beside an earlier state of it, both by
// the prices and rates of now: the value of GET /plans/{id}/compare.
type CompareView struct {
	Rev  int64         `json:"rev"`
	Says string        `json:"says"`
	Sums []CompareSum  `json:"sums"` // none where nothing has a price or a rate
	Rows []ComparedRow `json:"rows"` // those that differ, in the order of the list
	Same string        `json:"same"` // how many lines do not
}

// CompareSum is one sum of both.
type CompareSum struct {
	What string `json:"what"`
	From string `json:"from"`
	To   string `json:"to"`
}

// ComparedRow is one item of both.
type ComparedRow struct {
	Part string `json:"part"`
	Item string `json:"item"`
	From string `json:"from"` // with its unit
	To   string `json:"to"`
	More string `json:"more"` // what it costs more, with a sign; "" where that is not known
}

// bill is what a plan takes and what that comes to.
type bill struct {
	list  *parts.List
	cost  *parts.Cost
	quote *parts.Quote
}

// billOf counts and prices a plan without reckoning its water.
func billOf(p *plan.Plan) bill {
	net := pipework.Of(p)
	digs := trench.Of(p, net)
	list, _ := parts.Compute(p, net, digs, wire.Of(p, digs))
	cost := parts.Priced(list, p.Prices, p.Quote.Currency)
	return bill{list, cost, parts.Quoted(p, cost, digs)}
}

// money reports whether anything has a price or a rate.
func (b bill) money() bool { return len(b.cost.Missing) < len(b.cost.Total) || b.quote.Total != 0 }

// compare answers with what the stored plan takes beside an earlier state of it.
func (s *Site) compare(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	earlier, err := s.earlier(r, q.o.id)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var v *CompareView
	err = s.within(r.Context(), computeMost, []chan struct{}{s.cores}, func(context.Context) error {
		then := *earlier
		then.Prices, then.Quote, then.Show = q.p.Prices, q.p.Quote, q.p.Show // what changed is the design, not what is paid
		v = compareWords(billOf(&then), billOf(q.p))
		v.Rev = q.rev
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, v)
}

// earlier is the state that a request names: a step's or a kept one.
func (s *Site) earlier(r *http.Request, id string) (*plan.Plan, error) {
	var doc []byte
	number := func(name string) (int64, error) {
		n, err := strconv.ParseInt(r.URL.Query().Get(name), 10, 64)
		if err != nil {
			return 0, plan.ErrNoPoint
		}
		return n, nil
	}
	switch query := r.URL.Query(); {
	case query.Has("point") == query.Has("step"):
		return nil, refuse(http.StatusUnprocessableEntity, "Say which kept point to compare with, or which step.")
	case query.Has("point"):
		n, err := number("point")
		if err == nil {
			doc, _, err = s.Plans.PointDoc(r.Context(), id, n)
		}
		if err != nil {
			return nil, err
		}
	default:
		n, err := number("step")
		if err == nil {
			doc, _, err = s.Plans.At(r.Context(), id, n)
		}
		if err != nil {
			return nil, err
		}
	}
	return plan.Decode(doc)
}

func compareWords(from, to bill) *CompareView {
	c := parts.Compare(from.cost, to.cost)
	currency := to.cost.Currency
	v := &CompareView{Sums: []CompareSum{}, Rows: []ComparedRow{}, Same: plan.Plural(c.Same, "line is", "lines are") + " the same in both."}
	v.Says = compareSays(c, from, to)
	if from.money() || to.money() {
		v.Sums = append(v.Sums,
			CompareSum{"Parts that have a price", c.From.In(currency), c.To.In(currency)},
			CompareSum{"Quote, with work, rentals, mark-up and tax", from.quote.Total.In(currency), to.quote.Total.In(currency)},
		)
	}
	for _, l := range c.Lines {
		row := ComparedRow{Part: plan.Capital(l.Group), Item: l.Item, From: countIn(l.From, l.Unit), To: countIn(l.To, l.Unit)}
		if l.Priced {
			row.More = signed(l.More, currency)
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// compareSays says which of the two takes and costs more.
func compareSays(c *parts.Comparison, from, to bill) string {
	if len(c.Lines) == 0 {
		return "Both take the same parts."
	}
	says := plan.Plural(len(c.Lines), "line differs", "lines differ") + "."
	if !from.money() && !to.money() {
		return says + " Nothing has a price or a rate yet, so they are compared by count."
	}
	currency := to.cost.Currency
	switch more := c.More; {
	case more > 0:
		says += " In parts, the plan of now costs " + more.In(currency) + " more."
	case more < 0:
		says += " In parts, the plan of now costs " + (-more).In(currency) + " less."
	default:
		says += " In parts, both cost the same."
	}
	if !c.Whole {
		says += " Some parts have no price, so this is not the whole difference."
	}
	return says
}

// countIn is a count with its unit, which "each" needs none of.
func countIn(n int, unit string) string {
	switch {
	case n == 0:
		return "none"
	case unit == "each":
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d %s", n, unit)
}

// signed is a difference of money with its sign.
func signed(c parts.Cents, currency string) string {
	if c > 0 {
		return "+" + c.In(currency)
	}
	return c.In(currency)
}

// priceOffers says beside each offer of routes what its parts come to, where
// anything has a price. Pipe that has no size yet has none.
func priceOffers(p *plan.Plan, v *RouteView, found *trench.Proposal) error {
	if len(p.Prices) == 0 || len(found.Offers) == 0 {
		return nil
	}
	v.Rows = append(v.Rows, "Parts, by your prices", "Without a price", "Quote")
	doc := p.Encode()
	for i := range found.Offers {
		laid := p
		if patch := found.Offers[i].Patch; len(patch) > 0 {
			var err error
			if laid, err = plan.Preview(doc, patch); err != nil {
				return err
			}
		}
		b := billOf(laid)
		missing := "none"
		if n := len(b.cost.Missing); n > 0 {
			missing = plan.Plural(n, "part", "parts")
		}
		o := &v.Offers[i]
		o.Figures = append(o.Figures, b.cost.Sum.In(b.cost.Currency), missing, b.quote.Total.In(b.cost.Currency))
		o.Least = append(o.Least, false, false, false)
		if len(b.cost.Missing) > 0 {
			o.Notes = append(o.Notes, "What has no price, as pipe without a size, is not in what the parts come to.")
		}
	}
	return nil
}
