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
		r.line("  Nothing: no head or zone is new.")
		r.wrap("  ", list.Scope)
		return
	}
	header := []string{"Item"}
	for _, z := range list.Zones {
		header = append(header, zoneColumn(z.Zone, z.Station))
	}
	rows := [][]string{append(header, "Total")}
	for _, line := range list.Total {
		row := []string{line.Item}
		for _, z := range list.Zones {
			row = append(row, countOf(z.Lines, line))
		}
		rows = append(rows, append(row, fmt.Sprint(line.Count)))
	}
	r.table(rows)
	r.wrap("  ", "Columns are stations. New things only; the zone, the heads and the rule behind each count are in parts.csv.")
	r.wrap("  ", list.Scope)
	r.wrap("  ", "Have buried lines located and marked before you dig. Local code decides on backflow protection, permits and electrical work.")
}

// zoneColumn names a zone's column of the parts table: by station when it has
// one.
func zoneColumn(zone plan.ID, station int) string {
	switch {
	case zone == "":
		return "none"
	case station > 0:
		return fmt.Sprint(station)
	default:
		return string(zone)
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
