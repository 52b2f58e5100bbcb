package sheets

import (
	"cmp"
	"slices"
	"strings"

	"evenfall/internal/parts"
	"evenfall/internal/plan"
)

// TotalName stands in the zone column of the lines that hold for the whole plan.
const TotalName = "Total"

// Parts is the parts list zone by zone, and after the zones the total: its
// lines have "Total" for a zone, so that the zones' lines add up to them. The
// last line is a note of what the list counts and what not.
func Parts(p *plan.Plan, list *parts.List) Table {
	t := Table{Title: "Parts", Columns: append([]Column{{"Zone", 20}, {"Station", 9}}, partColumns...)}
	for _, z := range list.Zones {
		station := Text("")
		if z.Station > 0 {
			station = Count(z.Station)
		}
		for _, line := range z.Lines {
			t.Rows = append(t.Rows, append([]Cell{Text(zoneTitle(z)), station}, partCells(p, line)...))
		}
	}
	for _, line := range list.Total {
		t.Rows = append(t.Rows, append([]Cell{Text(TotalName), Text("")}, partCells(p, line)...))
	}
	t.Rows = append(t.Rows, append([]Cell{Text(NoteName), Text("")}, scopeCells(list)...))
	return t
}

// NoteName stands in the zone column of the line that says what is not counted.
const NoteName = "Note"

// PartsTotal is the parts list of the whole plan, and the same note.
func PartsTotal(p *plan.Plan, list *parts.List) Table {
	t := Table{Title: "Parts in total", Columns: partColumns}
	for _, line := range list.Total {
		t.Rows = append(t.Rows, partCells(p, line))
	}
	t.Rows = append(t.Rows, scopeCells(list))
	return t
}

var partColumns = []Column{{"Part", 12}, {"Item", 36}, {"Count", 8}, {"Unit", 8}, {"As sold", 20}, {"Counted from", 40}, {"Rule", 48}}

func partCells(p *plan.Plan, line parts.Line) []Cell {
	return []Cell{
		Text(plan.Capital(line.Group)), Text(line.Item), Count(line.Count), Text(line.Unit), Text(line.Sold),
		Text(strings.Join(countedFrom(p, line.From), "; ")), Text(line.Rule),
	}
}

// scopeCells are the line that says what the list counts and what not.
func scopeCells(list *parts.List) []Cell {
	return []Cell{Text(NoteName), Text(list.Scope), Text(""), Text(""), Text(""), Text(""), Text("")}
}

// zoneTitle names a zone's list; a zone whose user gave no name by its id.
func zoneTitle(z parts.ZoneList) string {
	if z.Name == "" {
		return string(z.Zone)
	}
	return z.Name
}

// countedFrom names what a line was counted from as one looks for it on the plan,
// head 2-10 after head 2-9: the ids' own order means nothing to people.
func countedFrom(p *plan.Plan, refs []plan.Ref) []string {
	named := make([]struct{ name, key string }, len(refs))
	for i, r := range refs {
		named[i].name = refName(p, r)
		named[i].key = naturalKey(named[i].name)
	}
	slices.SortStableFunc(named, func(a, b struct{ name, key string }) int { return cmp.Compare(a.key, b.key) })
	names := make([]string, len(named))
	for i, n := range named {
		names[i] = n.name
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
