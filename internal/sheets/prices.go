package sheets

import (
	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// CostOf is what the parts of a design come to; nil where the plan has no price.
func CostOf(p *plan.Plan, d *design.Design) *parts.Cost {
	if len(p.Prices) == 0 {
		return nil
	}
	return parts.Priced(d.Parts, p.Prices, p.Quote.Currency)
}

// PriceTable is a price list to be filled in: a line for each item of the list, in
// the unit it is bought by, with the price where the plan has one. parts.ReadPrices
// reads it back.
func PriceTable(p *plan.Plan, list *parts.List) Table {
	cost := parts.Priced(list, p.Prices, p.Quote.Currency)
	t := Table{Title: "Prices", Columns: []Column{{"Item", 40}, {"Unit", 16}, {"Price", 10}, {"Code", 14}, {"Needed", 8}, {"Part", 12}}}
	seen := map[string]bool{}
	for i, l := range cost.Total {
		if seen[l.Item+"\n"+l.Per] {
			continue // one item in two groups has one price
		}
		seen[l.Item+"\n"+l.Per] = true
		price, needed := Text(""), l.Bought
		if l.Priced {
			price = Number(l.Each, priceDecimals(l.Each))
		} else if needed = l.Count; list.Total[i].Pack != nil {
			needed = list.Total[i].Pack.Count
		}
		t.Rows = append(t.Rows, []Cell{Text(l.Item), Text(l.Per), price, Text(l.Code), Count(needed), Text(plan.Capital(l.Group))})
	}
	return t
}
