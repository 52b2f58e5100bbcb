package sheets

import (
	"cmp"
	"fmt"
	"slices"

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
	for i := 0; i < len(list.Total); {
		n := i
		for n < len(list.Total) && list.Total[n].Group == list.Total[i].Group {
			n++
		}
		if n-i > mostKinds {
			rows = append(rows, inOneRow(list, list.Total[i:n]))
			i = n
		}
		for ; i < n; i++ {
			rows = append(rows, partRow(list, list.Total[i]))
		}
	}
	r.table(rows)
	r.wrap("  ", "Columns with a number are stations; supply is the point of connection. New things only; the zone, the heads and the rule behind each count are in parts.csv.")
	if cost := CostOf(r.p, r.d); cost != nil {
		r.wrap("  ", cost.Says)
	}
	r.wrap("  ", list.Scope)
	r.wrap("  ", "Have buried lines located and marked before you dig. Local code decides on backflow protection, permits and electrical work.")
}

// mostKinds is how many kinds of one group the report names one by one; what has more
// stands in one row and is told apart in parts.csv. Chosen.
const mostKinds = 3

// partRow is one item with its count on each list.
func partRow(list *parts.List, line parts.Line) []string {
	row := []string{line.Item}
	if line.Unit != "each" {
		row[0] += ", " + line.Unit
	}
	for _, z := range list.Zones {
		row = append(row, countOf(z.Lines, line))
	}
	return append(row, fmt.Sprint(line.Count), line.Sold)
}

// manyOf are what groups of many kinds are called.
var manyOf = map[string]string{
	parts.GroupBody: "Bodies", parts.GroupNozzle: "Nozzles", parts.GroupJoint: "Swing joints", parts.GroupBox: "Boxes, gravel and bricks",
	parts.GroupPipe: "Pipe", parts.GroupFitting: "Fittings of pipe", parts.GroupSleeve: "Sleeves with their caps",
	parts.GroupBackflow: "Backflow device with its fittings", parts.GroupWire: "Wire, connectors and conduit", parts.GroupUsedUp: "Cement, primer, tape and paint",
}

// inOneRow is one row for all lines of a group, with counts where all count alike.
func inOneRow(list *parts.List, of []parts.Line) []string {
	group := of[0].Group
	sum := func(lines []parts.Line) string {
		n := 0
		for _, l := range lines {
			if l.Group == group {
				n += l.Count
			}
		}
		alike := !slices.ContainsFunc(of, func(l parts.Line) bool { return l.Unit != of[0].Unit })
		if n == 0 || !alike {
			return ""
		}
		return fmt.Sprint(n)
	}
	row := []string{cmp.Or(manyOf[group], plan.Capital(group)) + ": " + plan.Plural(len(of), "kind", "kinds") + ", in parts.csv"}
	for _, z := range list.Zones {
		row = append(row, sum(z.Lines))
	}
	return append(row, sum(of), "")
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
