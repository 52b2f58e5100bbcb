package parts

import (
	"math/big"
	"slices"

	"evenfall/internal/plan"
)

// Cost is a list with the user's prices. A line without a price costs nothing here
// and is named in Missing: whoever shows the sum must show those, too.
type Cost struct {
	Currency string     `json:"currency"` // sign or code; "" none
	Lists    []CostList `json:"lists"`    // as the zones of the list; their sums add up to Sum
	Total    []CostLine `json:"total"`    // as the total of the list
	Sum      Cents      `json:"sum_cents"`
	Missing  []Missing  `json:"missing"` // in the order of the list
	Says     string     `json:"says"`    // what the sum is and lacks, in a sentence
}

// CostList is what one list of parts costs.
type CostList struct {
	Kind    ListKind   `json:"list"`
	Zone    plan.ID    `json:"zone"`
	Name    string     `json:"name"`
	Station int        `json:"station"`
	Lines   []CostLine `json:"lines"`
	Sum     Cents      `json:"sum_cents"`
	Missing int        `json:"missing"` // lines without a price
}

// CostLine is what one line costs. In the total it is what is bought, in whole packs
// where the price is for a pack; on a list it is that list's share of it by count.
type CostLine struct {
	Group  string  `json:"group"`
	Item   string  `json:"item"`
	Count  int     `json:"count"`
	Unit   string  `json:"unit"`
	Bought int     `json:"bought"` // of Per, in the total; 0 on a list
	Per    string  `json:"per"`    // unit of the price: "each", "stick of 20 ft"; without one, that to ask it for
	Priced bool    `json:"priced"`
	Each   float64 `json:"each"`
	Code   string  `json:"code,omitzero"`
	Sum    Cents   `json:"sum_cents"`
	Price  plan.ID `json:"price,omitzero"` // of the plan, that it goes by
}

// Missing is an item without a price.
type Missing struct {
	Item string `json:"item"`
	Unit string `json:"unit"` // to ask its price for
}

// Priced puts the user's prices to a list. A price goes by the text of its item and
// its unit, spaces and capitals aside. That of a pack is for whole packs and is taken
// before that of a foot, which is for every foot needed with what is lost. Of two prices
// of one item and unit the first by id is taken. list is that of Compute.
func Priced(list *List, prices map[plan.ID]plan.Price, currency string) *Cost {
	book := newBook(prices)
	cost := &Cost{Currency: currency, Lists: []CostList{}, Total: []CostLine{}, Missing: []Missing{}}
	for _, z := range list.Zones {
		cost.Lists = append(cost.Lists, CostList{Kind: z.Kind, Zone: z.Zone, Name: z.Name, Station: z.Station, Lines: make([]CostLine, len(z.Lines))})
	}
	for _, l := range list.Total {
		c := book.line(l)
		cost.Total = append(cost.Total, c)
		cost.Sum += c.Sum
		if !c.Priced {
			cost.Missing = append(cost.Missing, Missing{l.Item, c.Per})
		}
		cost.shareOut(list, l, c)
	}
	cost.Says = cost.says()
	return cost
}

// shareOut gives every list its part of what a line of the total costs, by its
// count: whole cents that add up to it, those left over to the largest remainders.
func (cost *Cost) shareOut(list *List, total Line, c CostLine) {
	type part struct {
		at   *CostLine
		list *CostList
		rest int64
	}
	var parts []part
	left := c.Sum
	for i, z := range list.Zones {
		for j, l := range z.Lines {
			if l.Group != total.Group || l.Item != total.Item {
				continue
			}
			mine := c
			mine.Count, mine.Bought, mine.Sum = l.Count, 0, 0
			p := part{at: &cost.Lists[i].Lines[j], list: &cost.Lists[i]}
			if total.Count > 0 {
				whole, rest := new(big.Int).DivMod(new(big.Int).Mul(big.NewInt(int64(c.Sum)), big.NewInt(int64(l.Count))), big.NewInt(int64(total.Count)), new(big.Int))
				mine.Sum, p.rest = Cents(whole.Int64()), rest.Int64()
			}
			*p.at = mine
			left -= mine.Sum
			parts = append(parts, p)
		}
	}
	bySize := slices.Clone(parts)
	slices.SortStableFunc(bySize, func(a, b part) int { return int(min(max(b.rest-a.rest, -1), 1)) })
	for i := range bySize {
		if left > 0 {
			bySize[i].at.Sum++
			left--
		}
	}
	for _, p := range parts {
		p.list.Sum += p.at.Sum
		if !c.Priced {
			p.list.Missing++
		}
	}
}

// says puts the sum into a sentence.
func (cost *Cost) says() string {
	missing, all := len(cost.Missing), len(cost.Total)
	switch {
	case all == 0:
		return "There is nothing to buy."
	case missing == all:
		return "No part has a price yet."
	case missing > 0:
		return "The parts that have a price come to " + cost.Sum.In(cost.Currency) + ". " +
			plan.Plural(missing, "part has", "parts have") + " none and " + plan.Choose(missing, "is", "are") + " not in it."
	}
	return "The parts come to " + cost.Sum.In(cost.Currency) + "."
}
