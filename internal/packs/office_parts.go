package packs

import (
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// partsSheet is what to buy: in total, as it is sold, and then what each list has of it
// and comes to. The lists themselves are on the crew's cards.
func (b *builder) partsSheet() error {
	f := b.list()
	list := b.in.Design.Parts
	if len(list.Total) == 0 {
		f.para("There is nothing to buy: nothing drawn is new.")
		f.note(list.Scope)
		return nil
	}
	cost := sheets.CostOf(b.p, b.in.Design)
	if b.supply != "" {
		f.caution(b.supply)
	}
	f.para(priceWords(cost))
	f.section("In total")
	f.table(totalGrid(sheets.PartsTotal(b.p, list, cost)))
	f.note(list.Scope)
	b.partsByList(f, list, cost)
	return nil
}

// partsByList is a line for each list: what it is for, how much there is in it, and its
// share of the cost.
func (b *builder) partsByList(f *flow, list *parts.List, cost *parts.Cost) {
	f.section("By list")
	g := grid{Head: []string{"List", "Kinds of part"}, Numbers: []bool{false, true}, Shares: []float64{8, 3}, Heavy: map[int]bool{}}
	if cost != nil {
		g.Head, g.Numbers, g.Shares = append(g.Head, "Without a price", inMoney("Share of the cost", cost.Currency)), append(g.Numbers, true, true), append(g.Shares, 3, 4)
	}
	var zones []plan.ID
	for i := range list.Zones {
		if len(list.Zones[i].Lines) == 0 {
			continue
		}
		zones = append(zones, list.Zones[i].Zone)
		row := []string{sheets.PartsOf(b.p, list, cost, i).Title, itoa(len(list.Zones[i].Lines))}
		if cost != nil {
			row = append(row, itoa(cost.Lists[i].Missing), cost.Lists[i].Sum.String())
		}
		g.Rows = append(g.Rows, row)
	}
	if cost != nil {
		g.Heavy[len(g.Rows)] = true
		g.Rows = append(g.Rows, []string{sheets.SumName, "", "", cost.Sum.String()})
	}
	mark := b.zoneMarker(zones)
	g.Mark = func(row int, at orb.Point) []drawing.Item {
		if row < len(zones) && zones[row] == "" {
			return nil
		}
		return mark(row, at)
	}
	g.Note = "What stands on each list is on the crew's cards (C9), which add up to the total, line by line, and in the parts files. Packs and what is added for waste are of the total alone."
	f.table(g)
}

// inMoney is a heading of sums with the currency.
func inMoney(heading, currency string) string {
	if currency == "" {
		return heading
	}
	return heading + ", " + currency
}

// priceWords say what the parts come to, and what has no price.
func priceWords(cost *parts.Cost) string {
	if cost == nil {
		return "The plan has no prices yet, so nothing is summed up: put in what your supplier asks, and print this again."
	}
	says := cost.Says
	if n := len(cost.Missing); n > 0 && n < len(cost.Total) {
		var names []string
		for _, m := range cost.Missing {
			names = append(names, "“"+m.Item+"”")
		}
		says += " Without a price: " + plan.Series(names) + "."
	}
	return says
}

// moneyColumns are the columns of prices a table has.
func moneyColumns(t sheets.Table) []string {
	var out []string
	for _, c := range t.Columns {
		if c.Name == "Price for" || c.Name == "Price" || strings.HasPrefix(c.Name, "Cost") {
			out = append(out, c.Name)
		}
	}
	return out
}

// totalGrid is the parts list in total, a heading over each kind of part.
func totalGrid(t sheets.Table) grid {
	money := moneyColumns(t)
	g := gridOf(t, append([]string{"Part", "Item", "Count", "Unit", "As sold"}, money...)...)
	g.Note = ""
	for i, name := range g.Head {
		g.Numbers[i] = g.Numbers[i] || name == "Price" // "no price" stands among them
	}
	out := grid{Head: g.Head[1:], Numbers: g.Numbers[1:], Groups: map[int]bool{}, Heavy: map[int]bool{}, Ticks: true}
	last := ""
	for _, row := range g.Rows {
		if row[0] == sheets.SumName {
			out.Heavy[len(out.Rows)] = true
			sum := make([]string, len(out.Head))
			sum[0], sum[len(sum)-1] = sheets.SumName, row[len(row)-1]
			out.Rows = append(out.Rows, sum)
			continue
		}
		if row[0] != last {
			last = row[0]
			out.Groups[len(out.Rows)] = true
			out.Rows = append(out.Rows, []string{last})
		}
		out.Rows = append(out.Rows, row[1:])
	}
	return out
}

// partsGrid is one list of parts: how many of what, and its share of the cost.
func partsGrid(t sheets.Table) grid {
	columns := []string{"Count", "Unit", "Item"}
	for _, c := range moneyColumns(t) {
		if strings.HasPrefix(c, "Cost") {
			columns = append(columns, c)
		}
	}
	// Cells stand in the order of the table: item, count, unit, cost.
	g := gridOf(t, columns...)
	g.Note = ""
	g.Heavy = map[int]bool{}
	for i, row := range t.Rows {
		if len(row) > 0 && row[0].String() == sheets.SumName {
			g.Heavy[i] = true
			g.Rows[i][0] = sheets.SumName + ": " + strings.ToLower(g.Rows[i][0][:1]) + g.Rows[i][0][1:]
		}
	}
	return g
}
