package sheets

import (
	"math"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/stakeout"
	"evenfall/internal/units"
)

// The columns of the nozzle setting list that say where the edges of an arc point.
const (
	LeftEdge  = "Left edge, looking out"
	RightStop = "Right stop"
)

// ZoneSetting is the nozzle setting list of one zone.
type ZoneSetting struct {
	Zone  plan.ID // "" heads in no zone
	Heads []plan.ID
	Table Table
}

// Setting is the nozzle setting list: what is set on every standing head, zone by zone by
// station, in walking order within each; heads in no zone come last.
func Setting(p *plan.Plan, r *coverage.Result, s *stakeout.Plan) []ZoneSetting {
	readings := map[plan.ID]*coverage.HeadReading{}
	for i := range r.Heads {
		readings[r.Heads[i].ID] = &r.Heads[i]
	}
	step, off := map[plan.ID]int{}, map[plan.ID]units.Feet{}
	for i, f := range s.Flags {
		if f.What != "head" {
			continue
		}
		_, id := f.Of.Split()
		step[id] = i + 1
		if f.How == stakeout.AlongEdge {
			off[id] = f.B
		}
	}
	var out []ZoneSetting
	for _, id := range HeadOrder(p) {
		h := p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		if n := len(out); n == 0 || out[n-1].Zone != h.Zone {
			out = append(out, ZoneSetting{Zone: h.Zone})
		}
		z := &out[len(out)-1]
		z.Heads = append(z.Heads, id)
	}
	aims := stakeout.Aims(p, s)
	for i := range out {
		z := &out[i]
		slices.SortStableFunc(z.Heads, func(a, b plan.ID) int {
			x, y := step[a], step[b]
			if x == 0 || y == 0 {
				return y - x // those without a flag come last
			}
			return x - y
		})
		z.Table = settingTable(p, z.Zone)
		for _, id := range z.Heads {
			z.Table.Rows = append(z.Table.Rows, settingRow(p, id, aims[id], readings[id], off[id]))
		}
	}
	return out
}

// SettingTable is the nozzle setting list as one table, with the zone of each head.
func SettingTable(p *plan.Plan, d *design.Design, s *stakeout.Plan) Table {
	out := settingTable(p, "")
	out.Title = "Nozzle setting"
	out.Columns = slices.Insert(out.Columns, 1, Column{"Zone", 24})
	for _, z := range Setting(p, d.Coverage, s) {
		for _, row := range z.Table.Rows {
			out.Rows = append(out.Rows, slices.Insert(row, 1, Text(z.Table.Title)))
		}
	}
	return noted(out, "Nozzle", SupplyNote(p, &d.Pressure.Supply))
}

func settingTable(p *plan.Plan, zone plan.ID) Table {
	title := "In no zone"
	if zone != "" {
		title = p.Label(plan.RefTo("zones", zone))
	}
	return Table{Title: title, Columns: []Column{
		{"Tag", 8}, {"Nozzle", 30}, {"Arc", 8}, {LeftEdge, 40}, {RightStop, 40}, {"Throw", 10}, {"Turned down", 12},
		pressures.column(p.Show, "Pressure", 12), {"Body", 30}, {"Pops up", 9}, {"Off the edge", 12},
	}}
}

func settingRow(p *plan.Plan, id plan.ID, aim stakeout.Aim, r *coverage.HeadReading, off units.Feet) []Cell {
	h := p.Heads[id]
	arc, left := p.Show.Angle(h.SweepDeg), aim.Left
	switch {
	case aim.Strip:
		arc = "strip"
	case aim.Whole:
		left = "full circle: no edge to set"
	}
	tag := headTag(p, id)
	if h.Status == plan.Existing {
		tag += " (there)"
	}
	if h.SetBack != nil {
		off = *h.SetBack
	}
	row := []Cell{Text(tag), Text(rowName(p.NozzleName(h.Nozzle), h.Nozzle)), Text(arc), Text(left), Text(aim.Right)}
	row = append(row, throwCells(p, r)...)
	back := ""
	if off > 0 {
		back = p.Show.Length(off)
	}
	return append(row, Text(rowName(p.BodyName(h.Body), h.Body)), Text(p.Show.Inches(p.Bodies[h.Body].Height)), Text(back))
}

// throwCells are throw, what it is turned down by, and pressure.
func throwCells(p *plan.Plan, r *coverage.HeadReading) []Cell {
	if r == nil {
		return make([]Cell, 3)
	}
	down := "full"
	if n := math.Round(100 * (1 - float64(r.Throw/r.TableThrow))); r.TableThrow > 0 && n >= 1 {
		down = p.Show.Percent(1 - units.Ratio(r.Throw/r.TableThrow))
	}
	return []Cell{Text(p.Show.Length(r.Throw)), Text(down), pressures.cell(p.Show, float64(r.Pressure))}
}
