package parts

import "evenfall/internal/plan"

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
	Bought int     `json:"bought"` // of PerUnit, in the total
	Per    string  `json:"per"`    // unit of the price: "each", "stick of 20 ft"; without one, that to ask it for
	Priced bool    `json:"priced"`
	Each   float64 `json:"each"`
	Code   string  `json:"code,omitzero"`
	Sum    Cents   `json:"sum_cents"`
}

// Missing is an item without a price.
type Missing struct {
	Item string `json:"item"`
	Unit string `json:"unit"` // to ask its price for
}

// Priced puts the user's prices to a list. A price goes by the text of its item and
// its unit, spaces and capitals aside; that of a pack is taken before that of a foot.
func Priced(list *List, prices map[plan.ID]plan.Price, currency string) *Cost {
	return nil
}
