package parts

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// PricePreview is what taking a price list would do.
type PricePreview struct {
	Rows    []PreviewRow       `json:"rows"` // as in the file
	Errors  []catalog.RowError `json:"errors"`
	Notes   []string           `json:"notes"`
	New     int                `json:"new"`     // prices the plan does not have yet
	Changed int                `json:"changed"` // prices it has otherwise
	Same    int                `json:"same"`
	Unknown int                `json:"unknown"` // of all rows, those for nothing on the list
	Missing []Missing          `json:"missing"` // of the list, what still lacks a price
	Patch   plan.Patch         `json:"-"`       // of the plan; nil when it changes nothing
	Says    string             `json:"says"`
}

// PreviewRow is one price as it would be taken.
type PreviewRow struct {
	PriceRow
	Does   string  `json:"does"`          // new | changed | same
	Was    float64 `json:"was"`           // when it is changed
	Listed bool    `json:"listed"`        // the list has the item, by this unit
	Note   string  `json:"note,omitzero"` // why not, in words
}

// PreviewPrices says what taking a price list would change of the plan's prices.
// Prices that are not in the file stay, and prices of what is not on the list are
// kept, for another day. list is the plan's own.
func PreviewPrices(p *plan.Plan, list *List, f *PriceFile) *PricePreview {
	v := &PricePreview{Rows: []PreviewRow{}, Errors: append([]catalog.RowError{}, f.Errors...), Notes: append([]string{}, f.Notes...)}
	next := *p
	next.Prices = maps.Clone(p.Prices)
	if next.Prices == nil {
		next.Prices = map[plan.ID]plan.Price{}
	}
	kept := map[[2]string]plan.ID{}
	for _, id := range plan.SortedIDs(p.Prices) {
		key := priceKey(p.Prices[id].Item, p.Prices[id].Unit)
		if _, there := kept[key]; !there {
			kept[key] = id
		}
	}
	byItem := map[string][]Line{}
	for _, l := range list.Total {
		byItem[folded(l.Item)] = append(byItem[folded(l.Item)], l)
	}
	ids := map[string]int{}
	for _, row := range f.Rows {
		v.row(&next, kept, ids, byItem[folded(row.Item)], row)
	}
	v.finish(p, &next, list)
	return v
}

// row takes one price into next, the plan with those before it.
func (v *PricePreview) row(next *plan.Plan, kept map[[2]string]plan.ID, ids map[string]int, lines []Line, row PriceRow) {
	r := PreviewRow{PriceRow: row}
	for _, l := range lines {
		if row.Unit == "" && l.Pack == nil {
			r.Unit = l.Unit
		}
		if row.Unit == "" && l.Pack != nil {
			v.Errors = append(v.Errors, catalog.RowError{Line: row.Line, Column: "unit", Sentence: fmt.Sprintf(
				"%s is sold by the %s: say whether its price is for that or for one %s.", catalog.Shown(row.Item), l.Pack.named(), l.Unit)})
			return
		}
	}
	r.Unit = cmp.Or(r.Unit, "each")
	var by []string
	for _, l := range lines {
		r.Listed = r.Listed || l.takes(r.Unit)
		for _, unit := range []string{l.Unit, l.asked()} {
			if !slices.Contains(by, unit) {
				by = append(by, unit)
			}
		}
	}
	switch {
	case r.Listed:
	case len(lines) > 0:
		r.Note = "The list has it by the " + strings.Join(by, " or the ") + "."
	default:
		r.Note = "Not on the list of this plan."
	}
	price := plan.Price{Item: strings.Join(strings.Fields(row.Item), " "), Unit: r.Unit, Each: row.Each, Code: row.Code}
	key := priceKey(price.Item, price.Unit)
	id, there := kept[key]
	was := next.Prices[id]
	switch {
	case !there:
		id = priceID(price, next.Prices, ids)
		kept[key], r.Does = id, "new"
		v.New++
	case was.Each == row.Each && (row.Code == "" || was.Code == row.Code):
		price, r.Does = was, "same"
		v.Same++
	default:
		r.Does, r.Was = "changed", was.Each
		price.Code = cmp.Or(row.Code, was.Code)
		v.Changed++
	}
	next.Prices[id] = price
	if !r.Listed {
		v.Unknown++
	}
	v.Rows = append(v.Rows, r)
}

// finish makes the patch and counts what is still missing.
func (v *PricePreview) finish(p, next *plan.Plan, list *List) {
	if v.New+v.Changed > 0 {
		now := p.Encode()
		patch, err := plan.Diff(now, next.Encode())
		if err == nil {
			_, err = plan.Preview(now, patch)
		}
		if err != nil {
			v.Errors = append(v.Errors, catalog.RowError{Sentence: "The plan cannot take these prices: " + err.Error()})
			next, v.New, v.Changed = p, 0, 0
		} else {
			v.Patch = patch
		}
	}
	v.Missing = Priced(list, next.Prices, "").Missing
	v.Says = v.says()
}

func (v *PricePreview) says() string {
	var says []string
	for _, n := range []struct {
		count     int
		one, many string
	}{
		{v.New, "price is new", "prices are new"}, {v.Changed, "is changed", "are changed"}, {v.Same, "is as it was", "are as they were"},
		{len(v.Errors), "line could not be read", "lines could not be read"},
	} {
		if n.count > 0 {
			says = append(says, plan.Plural(n.count, n.one, n.many))
		}
	}
	if len(says) == 0 {
		return "There is no price in it."
	}
	text := plan.Capital(strings.Join(says, ", ")) + "."
	if v.Unknown > 0 {
		text += " " + plan.Plural(v.Unknown, "is", "are") + " for what this plan does not take; kept all the same."
	}
	if n := len(v.Missing); n > 0 {
		return text + " " + plan.Plural(n, "part of the list still has", "parts of the list still have") + " no price."
	}
	return text + " Every part of the list has a price then."
}

// priceID is an id for a price that no other has, made from its item. last holds the
// number given last to each beginning, so that many alike cost no more than others.
func priceID(v plan.Price, taken map[plan.ID]plan.Price, last map[string]int) plan.ID {
	words := strings.FieldsFunc(folded(v.Item), func(c rune) bool { return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9') })
	stem := "pr-" + strings.Join(words, "-")
	stem = strings.TrimRight(stem[:min(len(stem), plan.MaxID-6)], "-")
	for {
		last[stem]++
		id := plan.ID(stem)
		if n := last[stem]; n > 1 {
			id = plan.ID(fmt.Sprintf("%s-%d", stem, n))
		}
		if _, there := taken[id]; !there {
			return id
		}
	}
}
