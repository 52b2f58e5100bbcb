package sheets

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// TotalName stands in the zone column of the lines that hold for the whole plan.
const TotalName = "Total"

// Parts is the parts list by list, and after them the total: its lines have "Total"
// for a zone, so that the lists' lines add up to them. The last line is a note of
// what the list counts and what not. cost is what they come to; without it the table
// has no prices.
func Parts(p *plan.Plan, list *parts.List, cost *parts.Cost) Table {
	t := Table{Title: "Parts", Columns: append([]Column{{"Zone", 20}, {"Station", 9}}, partColumns(cost)...)}
	for i, z := range list.Zones {
		for j, line := range z.Lines {
			t.Rows = append(t.Rows, append([]Cell{Text(zoneTitle(z)), stationCell(z)}, partCells(p, line, priceOf(cost, i, j))...))
		}
	}
	for j, line := range list.Total {
		t.Rows = append(t.Rows, append([]Cell{Text(TotalName), Text("")}, partCells(p, line, priceOf(cost, inTotal, j))...))
	}
	if cost != nil {
		t.Rows = append(t.Rows, append([]Cell{Text(SumName), Text("")}, sumCells(cost.Sum, cost.Says)...))
	}
	t.Rows = append(t.Rows, append([]Cell{Text(NoteName), Text("")}, scopeCells(list, cost)...))
	return t
}

// NoteName stands in the zone column of the line that says what is not counted.
const NoteName = "Note"

// SumName stands in that of the line of the sum of money.
const SumName = "Sum"

// PartsTotal is the parts list of the whole plan, and the same note.
func PartsTotal(p *plan.Plan, list *parts.List, cost *parts.Cost) Table {
	t := Table{Title: "Parts in total", Columns: partColumns(cost)}
	for j, line := range list.Total {
		t.Rows = append(t.Rows, partCells(p, line, priceOf(cost, inTotal, j)))
	}
	if cost != nil {
		t.Rows = append(t.Rows, sumCells(cost.Sum, cost.Says))
	}
	t.Rows = append(t.Rows, scopeCells(list, cost))
	return t
}

// PartsOf is one list of the parts by itself, as a sheet.
func PartsOf(p *plan.Plan, list *parts.List, cost *parts.Cost, i int) Table {
	z := list.Zones[i]
	title := zoneTitle(z)
	if z.Station > 0 {
		title = fmt.Sprintf("%d %s", z.Station, title)
	}
	t := Table{Title: title, Columns: partColumns(cost)}
	for j, line := range z.Lines {
		t.Rows = append(t.Rows, partCells(p, line, priceOf(cost, i, j)))
	}
	if cost != nil {
		own := cost.Lists[i]
		says := "This list's share, by count, of what is bought for all."
		if own.Missing > 0 {
			says += " " + plan.Plural(own.Missing, "line has", "lines have") + " no price."
		}
		t.Rows = append(t.Rows, sumCells(own.Sum, says))
	}
	return t
}

func stationCell(z parts.ZoneList) Cell {
	if z.Station > 0 {
		return Count(z.Station)
	}
	return Text("")
}

func partColumns(cost *parts.Cost) []Column {
	columns := []Column{{"Part", 12}, {"Item", 36}, {"Count", 8}, {"Unit", 8}, {"As sold", 20}}
	if cost != nil {
		columns = append(columns, Column{"Price for", 16}, Column{"Price", 10}, Column{moneyColumn("Cost", cost.Currency), 12})
	}
	return append(columns, Column{"Counted from", 40}, Column{"Rule", 48})
}

// moneyColumn names a column of money by its currency.
func moneyColumn(name, currency string) string {
	if currency == "" {
		return name
	}
	return name + ", " + currency
}

// inTotal stands for the total among the lists.
const inTotal = -1

// priceOf is what a line costs; nil where nothing has a price.
func priceOf(cost *parts.Cost, list, line int) *parts.CostLine {
	switch {
	case cost == nil:
		return nil
	case list == inTotal:
		return &cost.Total[line]
	}
	return &cost.Lists[list].Lines[line]
}

func partCells(p *plan.Plan, line parts.Line, price *parts.CostLine) []Cell {
	cells := []Cell{Text(plan.Capital(line.Group)), Text(line.Item), Count(line.Count), Text(line.Unit), Text(line.Sold)}
	switch {
	case price == nil:
	case price.Priced:
		cells = append(cells, Text(price.Per), Number(price.Each, priceDecimals(price.Each)), money(price.Sum))
	default:
		cells = append(cells, Text(price.Per), Text("no price"), Text(""))
	}
	return append(cells, Text(strings.Join(countedFrom(p, line.From), "; ")), Text(line.Rule))
}

// money is a cell of a sum.
func money(c parts.Cents) Cell { return Number(float64(c)/100, 2) }

// priceDecimals are those a price is written with: two, or more where it has more.
func priceDecimals(each float64) int {
	text := strconv.FormatFloat(each, 'f', -1, 64)
	if _, behind, ok := strings.Cut(text, "."); ok {
		return min(max(len(behind), 2), 4)
	}
	return 2
}

// sumCells are the line of a sum of money, with what is to be said of it.
func sumCells(sum parts.Cents, says string) []Cell {
	return []Cell{Text(SumName), Text(says), Text(""), Text(""), Text(""), Text(""), Text(""), money(sum), Text(""), Text("")}
}

// scopeCells are the line that says what the list counts and what not.
func scopeCells(list *parts.List, cost *parts.Cost) []Cell {
	cells := make([]Cell, len(partColumns(cost)))
	cells[0], cells[1] = Text(NoteName), Text(list.Scope)
	return cells
}

// zoneTitle names a zone's list; a zone whose user gave no name by its id.
func zoneTitle(z parts.ZoneList) string {
	if z.Name == "" {
		return string(z.Zone)
	}
	return z.Name
}

// countedFrom names what a line was counted from as one looks for it on the plan,
// head 2-10 after head 2-9: the ids' own order means nothing to people. What is there
// several times has how many behind it.
func countedFrom(p *plan.Plan, refs []plan.Ref) []string {
	type thing struct {
		name, key string
		times     int
	}
	var things []thing
	for _, r := range refs { // sorted: what is there several times stands together
		name := refName(p, r)
		if last := len(things) - 1; last >= 0 && things[last].name == name {
			things[last].times++
			continue
		}
		things = append(things, thing{name, plan.NaturalKey(name), 1})
	}
	slices.SortStableFunc(things, func(a, b thing) int { return cmp.Compare(a.key, b.key) })
	names := make([]string, len(things))
	for i, n := range things {
		names[i] = n.name
		if n.times > 1 {
			names[i] += fmt.Sprintf(" (%d)", n.times)
		}
	}
	return names
}

// refNames lists things by the names people know: heads by tag, zones and areas
// by name.
func refNames(p *plan.Plan, refs []plan.Ref) string {
	names := make([]string, len(refs))
	for i, r := range refs {
		names[i] = refName(p, r)
	}
	return strings.Join(names, "; ") // names may hold commas
}

func refName(p *plan.Plan, r plan.Ref) string {
	collection, id := r.Split()
	name := ""
	switch collection {
	case "heads":
		name = p.HeadTag(id)
	case "zones":
		name = p.Zones[id].Name
	case "areas":
		name = p.Areas[id].Name
	case "barriers":
		name = p.Barriers[id].Name
	case "trees":
		name = p.Trees[id].Name
	case "keep_dry":
		name = p.KeepDry[id].Name
	case "boxes":
		name = p.Boxes[id].Name
		if name == "" {
			name = p.Label(r)
		}
	case "sleeves":
		name = p.SleeveName(id)
	case "wires":
		name = p.WireName(id)
	case "sensors", "controller", "supply":
		name = p.Label(r)
	case "pipes":
		name = p.PipeName(id)
	case "nodes":
		name = p.NodeName(id)
	}
	if name == "" {
		return string(id)
	}
	return name
}
