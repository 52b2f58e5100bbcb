package parts

import (
	"math/big"
	"strings"

	"evenfall/internal/plan"
)

// book is the user's prices by item and unit.
type book map[[2]string]kept

// kept is a price of the plan.
type kept struct {
	id plan.ID
	plan.Price
}

func newBook(prices map[plan.ID]plan.Price) book {
	b := book{}
	for _, id := range plan.SortedIDs(prices) {
		key := priceKey(prices[id].Item, prices[id].Unit)
		if _, there := b[key]; !there {
			b[key] = kept{id, prices[id]}
		}
	}
	return b
}

// priceKey is what a price goes by: its item without regard to capitals and spaces,
// and its unit.
func priceKey(item, unit string) [2]string { return [2]string{folded(item), unitOf(unit)} }

func folded(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// unitWords are other ways to write the units of the list.
var unitWords = map[string]string{
	"": "each", "ea": "each", "ea.": "each", "piece": "each", "pieces": "each", "pc": "each", "pcs": "each", "item": "each",
	"foot": "ft", "feet": "ft", "ft.": "ft", "lf": "ft", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"lbs": "lb", "lb.": "lb", "pound": "lb", "pounds": "lb", "joints": "joint",
	"sticks": "stick", "coils": "coil", "rolls": "roll", "bags": "bag", "pints": "pint", "cans": "can", "bundles": "bundle",
}

// unitOf is a unit as the list writes it; what is not known stays as it is.
func unitOf(text string) string {
	unit := folded(text)
	first, size, sized := strings.Cut(unit, " of ")
	if known, ok := unitWords[first]; ok {
		first = known
	}
	if sized {
		return first + " of " + size
	}
	return first
}

// named is what a pack is asked for as: "stick of 20 ft".
func (k Pack) named() string {
	if k.Size == "" {
		return k.Unit
	}
	return k.Unit + " of " + k.Size
}

// asked is the unit to ask a line's price in.
func (l Line) asked() string {
	if l.Pack == nil {
		return l.Unit
	}
	return l.Pack.named()
}

// Units are those a line's price may be in, the one to ask for first: of the total,
// where it says how it is sold.
func (l Line) Units() []string {
	if l.Pack == nil {
		return []string{l.Unit}
	}
	return []string{l.asked(), l.Unit}
}

// line is what a line of the total costs.
func (b book) line(l Line) CostLine {
	c := CostLine{Group: l.Group, Item: l.Item, Count: l.Count, Unit: l.Unit, Per: l.asked()}
	take := func(unit string, per string, n int) bool {
		price, ok := b[priceKey(l.Item, unit)]
		if ok {
			c.Priced, c.Per, c.Bought, c.Each, c.Code, c.Price = true, per, n, price.Each, price.Code, price.id
			c.Sum = times(big.NewRat(int64(n), 1), price.Each)
		}
		return ok
	}
	if l.Pack != nil && (take(l.Pack.named(), c.Per, l.Pack.Count) || take(l.Pack.Unit, c.Per, l.Pack.Count)) {
		return c
	}
	take(l.Unit, l.Unit, max(l.Count, l.Needed))
	return c
}

// takes reports whether a price in a unit is one for a line.
func (l Line) takes(unit string) bool {
	unit = unitOf(unit)
	return unit == l.Unit || l.Pack != nil && (unit == folded(l.Pack.named()) || unit == l.Pack.Unit)
}
