package packs

import (
	"strings"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
)

// partsSheet is what to buy: in total, as it is sold, and then list by list, which add
// up to it.
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
	f.section("By list")
	f.para("The same parts by where they go: one list for each zone and one each for what serves all. The lists add up to the total, line by line." + plan.Choose(len(list.Zones), "", " Packs and what is added for waste are of the total alone."))
	for i := range list.Zones {
		if len(list.Zones[i].Lines) == 0 {
			continue
		}
		t := sheets.PartsOf(b.p, list, cost, i)
		b.setCard(f, &zoneCard{title: t.Title, zone: list.Zones[i].Zone, parts: partsGrid(t)})
	}
	return nil
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
