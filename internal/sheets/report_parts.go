package sheets

import (
	"fmt"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// parts prints what to buy: a line an item, a column a zone.
func (r *reporter) parts() {
	list := r.d.Parts
	r.section("Parts to buy")
	if len(list.Total) == 0 {
		r.line("  Nothing: nothing drawn is new.")
		r.wrap("  ", list.Scope)
		return
	}
	header := []string{"Item"}
	for _, z := range list.Zones {
		header = append(header, zoneColumn(z))
	}
	rows := [][]string{append(header, "Total", "As sold")}
	for _, line := range list.Total {
		if line.Group == parts.GroupFitting {
			continue
		}
		row := []string{line.Item}
		if line.Unit != "each" {
			row[0] += ", " + line.Unit
		}
		for _, z := range list.Zones {
			row = append(row, countOf(z.Lines, line))
		}
		rows = append(rows, append(row, fmt.Sprint(line.Count), line.Sold))
	}
	if row := fittings(list); row != nil {
		rows = append(rows, row)
	}
	r.table(rows)
	r.wrap("  ", "Columns with a number are stations; supply is the point of connection. New things only; the zone, the heads and the rule behind each count are in parts.csv.")
	if cost := costOf(r.p, r.d); cost != nil {
		r.wrap("  ", cost.Says)
	}
	r.wrap("  ", list.Scope)
	r.wrap("  ", "Have buried lines located and marked before you dig. Local code decides on backflow protection, permits and electrical work.")
}

// fittings is one row for all fittings of pipe, of which there are many kinds; nil for
// none.
func fittings(list *parts.List) []string {
	sum := func(lines []parts.Line) (count, kinds int) {
		for _, l := range lines {
			if l.Group == parts.GroupFitting {
				count, kinds = count+l.Count, kinds+1
			}
		}
		return count, kinds
	}
	all, kinds := sum(list.Total)
	if kinds == 0 {
		return nil
	}
	row := []string{"Fittings of pipe: " + plan.Plural(kinds, "kind", "kinds") + ", in parts.csv"}
	for _, z := range list.Zones {
		cell := ""
		if n, _ := sum(z.Lines); n > 0 {
			cell = fmt.Sprint(n)
		}
		row = append(row, cell)
	}
	return append(row, fmt.Sprint(all), "")
}

// columnWords name the columns of the lists that are no zone's.
var columnWords = map[parts.ListKind]string{
	parts.AtConnection: "supply", parts.OnMain: "main", parts.Electrical: "wire", parts.WholeJob: "job", parts.InNoZone: "none",
}

// zoneColumn names a list's column of the parts table: a zone's by station when it
// has one.
func zoneColumn(z parts.ZoneList) string {
	switch {
	case z.Zone == "":
		return columnWords[z.Kind]
	case z.Station > 0:
		return fmt.Sprint(z.Station)
	default:
		return string(z.Zone)
	}
}

// countOf is the count of the same item on a zone's list, as text; "" for none.
func countOf(lines []parts.Line, item parts.Line) string {
	for _, l := range lines {
		if l.Group == item.Group && l.Item == item.Item {
			return fmt.Sprint(l.Count)
		}
	}
	return ""
}
