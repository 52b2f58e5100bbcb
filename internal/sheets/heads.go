package sheets

import (
	"cmp"
	"maps"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// Heads is the head setting list: for every head its body, its nozzle, where it
// stands, and what to set on it. Heads to be removed are listed as such.
func Heads(p *plan.Plan, r *coverage.Result) Table {
	sys := p.Show
	t := Table{Title: "Heads", Columns: []Column{
		{"Tag", 8}, {"Zone", 20}, {"Station", 9}, {"Status", 10}, {"Body", 30}, {"Nozzle", 30},
		lengths.column(sys, "East", 10), lengths.column(sys, "North", 10),
		{"Arc, °", 8}, {"Arc from, °", 10},
		lengths.column(sys, "Throw set", 12), lengths.column(sys, "Table throw", 12), {"Turn down, %", 10},
		pressures.column(sys, "Pressure", 12), flows.column(sys, "Flow", 11), rates.column(sys, "Rate", 11),
		{"Nearest head", 12}, lengths.column(sys, "Distance", 11),
	}}
	readings := map[plan.ID]coverage.HeadReading{}
	for _, h := range r.Heads {
		readings[h.ID] = h
	}
	for _, id := range HeadOrder(p) {
		h := p.Heads[id]
		station, zone := Text(""), Text("")
		if h.Zone != "" {
			zone = Text(refName(p, plan.RefTo("zones", h.Zone)))
			if n := p.Zones[h.Zone].Station; n > 0 {
				station = Count(n)
			}
		}
		row := []Cell{
			Text(headTag(p, id)), zone, station, Text(statusWord(h.Status)),
			Text(rowName(p.BodyName(h.Body), h.Body)), Text(rowName(p.NozzleName(h.Nozzle), h.Nozzle)),
			lengths.cell(sys, float64(h.X)), lengths.cell(sys, float64(h.Y)),
		}
		row = append(row, arcCells(p, h)...)
		t.Rows = append(t.Rows, append(row, runningCells(p, readings, id)...))
	}
	return t
}

func arcCells(p *plan.Plan, h plan.Head) []Cell {
	if p.Nozzles[h.Nozzle].Family == catalog.Strip {
		return []Cell{Text("strip"), Number(float64(h.StartDeg), 1)}
	}
	return []Cell{Number(float64(h.SweepDeg), 1), Number(float64(h.StartDeg), 1)}
}

func runningCells(p *plan.Plan, readings map[plan.ID]coverage.HeadReading, id plan.ID) []Cell {
	r, ok := readings[id]
	if !ok {
		return make([]Cell, 8)
	}
	sys := p.Show
	down, near, distance := Number(0, 0), Text(""), Text("")
	if r.TableThrow > 0 {
		down = percent(1 - float64(r.Throw/r.TableThrow))
	}
	if r.Nearest != nil {
		near, distance = Text(headTag(p, r.Nearest.Head)), lengths.cell(sys, float64(r.Nearest.DistanceFt))
	}
	return []Cell{
		lengths.cell(sys, float64(r.Throw)), lengths.cell(sys, float64(r.TableThrow)), down,
		pressures.cell(sys, float64(r.Pressure)), flows.cell(sys, float64(r.FlowGPM)), rates.cell(sys, float64(r.Rate)),
		near, distance,
	}
}

func rowName(name string, id plan.ID) string {
	if name == "" {
		return string(id)
	}
	return name
}

// HeadOrder sorts heads by station, zone, and tag the way people count: 2-9
// before 2-10. Heads in no zone come last.
func HeadOrder(p *plan.Plan) []plan.ID {
	place := func(h plan.Head) int {
		switch {
		case h.Zone == "":
			return 2
		case p.Zones[h.Zone].Station == 0:
			return 1
		default:
			return 0
		}
	}
	keys := make(map[plan.ID]string, len(p.Heads)) // once a head, not once a comparison
	for id, h := range p.Heads {
		keys[id] = plan.NaturalKey(h.Tag)
	}
	return slices.SortedFunc(maps.Keys(p.Heads), func(a, b plan.ID) int {
		x, y := p.Heads[a], p.Heads[b]
		return cmp.Or(
			cmp.Compare(place(x), place(y)),
			cmp.Compare(p.Zones[x.Zone].Station, p.Zones[y.Zone].Station),
			cmp.Compare(x.Zone, y.Zone),
			cmp.Compare(keys[a], keys[b]),
			cmp.Compare(a, b),
		)
	})
}
