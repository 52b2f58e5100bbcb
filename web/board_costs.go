package web

import (
	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// CostView is what the parts come to by the user's prices, list by list and line by
// line as Board.Parts has them.
type CostView struct {
	Says  string         `json:"says"`
	Sum   string         `json:"sum"`   // "" where nothing has a price
	Lists []CostListView `json:"lists"` // none where nothing has a price
	Total []CostLineView `json:"total"`
}

// CostListView is what one list of the parts comes to.
type CostListView struct {
	Sum     string         `json:"sum"`     // "" where none of its lines has a price
	Missing int            `json:"missing"` // lines without a price
	Lines   []CostLineView `json:"lines"`
}

// CostLineView is what one line comes to.
type CostLineView struct {
	Price plan.ID  `json:"price,omitempty"` // of the plan, that it goes by; "" none
	Each  string   `json:"each,omitempty"`  // "$ 4.20 a stick of 20 ft"
	Sum   string   `json:"sum,omitempty"`
	Per   []string `json:"per,omitempty"` // in the total: units a price may be for, the one to ask for first
}

// costs puts the user's prices to the parts.
func (m *maker) costs() *CostView {
	list := m.d.Parts
	v := &CostView{Lists: []CostListView{}, Total: make([]CostLineView, len(list.Total))}
	for i, l := range list.Total {
		v.Total[i].Per = l.Units()
	}
	if len(m.p.Prices) == 0 {
		return v
	}
	cost := parts.Priced(list, m.p.Prices, m.p.Quote.Currency)
	v.Says, v.Sum = cost.Says, cost.Sum.In(cost.Currency)
	for i, c := range cost.Total {
		per := v.Total[i].Per
		v.Total[i] = costLine(c, cost.Currency)
		v.Total[i].Per = per
	}
	for _, l := range cost.Lists {
		view := CostListView{Sum: listSum(l, cost.Currency), Missing: l.Missing, Lines: make([]CostLineView, len(l.Lines))}
		for i, c := range l.Lines {
			view.Lines[i] = costLine(c, cost.Currency)
		}
		v.Lists = append(v.Lists, view)
	}
	return v
}

func costLine(c parts.CostLine, currency string) CostLineView {
	if !c.Priced {
		return CostLineView{}
	}
	return CostLineView{Price: c.Price, Each: eachWords(c.Each, c.Per, currency), Sum: c.Sum.In(currency)}
}

// eachWords is a price with what it is for: "$4.20 a stick of 20 ft".
func eachWords(each float64, per, currency string) string {
	price := parts.PriceIn(each, currency)
	if per == "each" {
		return price + " each"
	}
	return price + " a " + per
}

// listSum is what a list comes to; "" where none of its lines has a price.
func listSum(l parts.CostList, currency string) string {
	if l.Missing == len(l.Lines) {
		return ""
	}
	return l.Sum.In(currency)
}
