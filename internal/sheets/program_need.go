package sheets

import (
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// rainDepths are depths of water of a month or a week.
var rainDepths = measure{"in", "mm", 2, 0, units.MillimetresPerInch}

// Needs is what sprinklers have to bring each area on a day of each month.
func Needs(p *plan.Plan, prog *season.Program) Table {
	sys := p.Show
	t := Table{Title: "Need a day", Columns: []Column{{"Area", 24}}}
	for _, month := range ProgramMonths(prog) {
		t.Columns = append(t.Columns, dayDepths.column(sys, plan.Capital(MonthTitle(prog, month)), 12))
	}
	for _, n := range prog.Asked.Needs {
		row := []Cell{Text(p.AreaName(n.ID))}
		for _, month := range ProgramMonths(prog) {
			row = append(row, dayDepths.cell(sys, float64(n.Month[month].Day)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Soils is what the soil of each area holds and takes in, how long that lasts in a month,
// and the evenness that is reckoned with.
func Soils(p *plan.Plan, prog *season.Program, month int) Table {
	sys := p.Show
	t := Table{Title: "Soil, and evenness in the field", Columns: []Column{
		{"Area", 24}, rainDepths.column(sys, "Its soil holds", 12), rainDepths.column(sys, "May be used up", 12), {"Lasts, days in " + MonthTitle(prog, month), 12},
		rates.column(sys, "Takes in", 12), rainDepths.column(sys, "May stand on it", 12), {"Evenness, %", 10}, {"Whose", 30},
	}}
	for i, a := range prog.Asked.Input.Areas {
		n := prog.Asked.Needs[i]
		t.Rows = append(t.Rows, []Cell{
			Text(p.AreaName(n.ID)), rainDepths.cell(sys, float64(a.Holds)), rainDepths.cell(sys, float64(a.Available())), lasts(&a, month),
			rates.cell(sys, float64(a.Intake)), rainDepths.cell(sys, float64(a.Surface)), percent(float64(a.FieldDU)), Text(n.DUFrom),
		})
	}
	return t
}

// lasts is how many days an area's soil lasts in a month; empty where nothing is needed.
func lasts(a *watering.Area, month int) Cell {
	if a.Need[month] == 0 {
		return Cell{}
	}
	return Count(a.Interval(month))
}

// AreasWatered is what each area gets by the programs of a month beside what it needs. It
// has no rows where nothing is needed.
func AreasWatered(p *plan.Plan, prog *season.Program, month int) Table {
	sys, cycle := p.Show, watering.CycleWord(CycleDays(prog))
	t := Table{Title: "What the areas get in " + MonthTitle(prog, month), Columns: []Column{
		{"Area", 24}, rainDepths.column(sys, "Needs "+cycle, 12), rainDepths.column(sys, "Gets in the mean", 12), rainDepths.column(sys, "Its dry part gets", 12),
		rainDepths.column(sys, "Is used up at most", 12), rainDepths.column(sys, "May be used up", 12), {"Soil lasts, days", 10},
	}}
	m := prog.Year.Months[month]
	if m == nil {
		return t
	}
	for i, r := range m.Areas {
		t.Rows = append(t.Rows, []Cell{
			Text(p.AreaName(prog.Asked.Needs[i].ID)), rainDepths.cell(sys, float64(r.Need)), rainDepths.cell(sys, float64(r.Mean)), rainDepths.cell(sys, float64(r.Counts)),
			rainDepths.cell(sys, float64(r.Lowest)), rainDepths.cell(sys, float64(r.Allowed)), lasts(&prog.Asked.Input.Areas[i], month),
		})
	}
	return t
}

// Columns of PlainSums: minutes and water of a cycle by a zone's own sum. The last two
// columns are the same as solved.
const (
	PlainMinutesColumn = 9
	PlainWaterColumn   = 14
)

// PlainSums are the one-zone sums of a month, every figure of them, beside the minutes
// that are solved with all zones together.
func PlainSums(p *plan.Plan, prog *season.Program, month int) Table {
	sys, cycle := p.Show, watering.CycleWord(CycleDays(prog))
	t := Table{Title: "One-zone sums of " + MonthTitle(prog, month), Columns: []Column{
		{"Station", 9}, {"Zone", 24}, {"For", 24}, dayDepths.column(sys, "Need a day", 10), rainDepths.column(sys, "Need "+cycle, 10), rates.column(sys, "Rate of its own heads", 12),
		{"Minutes at the mean", 10}, {"Evenness, %", 10}, {"Times", 8}, {"Minutes " + cycle, 10}, {"Waterings", 10}, {"Minutes each", 10},
		{"Cycles", 8}, {"Soak, minutes", 10}, volumes.column(sys, "Water "+cycle, 12), {"Solved, minutes " + cycle, 12}, volumes.column(sys, "Solved, water "+cycle, 12),
	}}
	m := prog.Year.Months[month]
	if m == nil {
		return t
	}
	for _, s := range m.Plain {
		z := prog.Asked.Input.Zones[s.Zone]
		solved := ZoneMinutes(m, s.Zone)
		ends := []Cell{Count(solved), volumes.cell(sys, float64(z.Flow)*float64(solved))}
		row := []Cell{waterStation(z), Text(zoneName(p, z))}
		if s.Area < 0 {
			row = append(row, make([]Cell, len(t.Columns)-len(row)-len(ends))...)
		} else {
			row = append(row, Text(p.AreaName(prog.Asked.Needs[s.Area].ID)), dayDepths.cell(sys, float64(s.Need)), rainDepths.cell(sys, float64(s.Depth)), rates.cell(sys, float64(s.Rate)),
				Number(s.Base, 1), percent(float64(s.DU)), Number(s.Multiplier, 2), Number(s.Minutes, 1), Count(s.Waterings), Number(s.EachMinutes, 1),
				Count(s.Cycles), Number(s.SoakMinutes, 0), volumes.cell(sys, float64(s.Gallons)))
		}
		t.Rows = append(t.Rows, append(row, ends...))
	}
	return t
}

// Chain is the way from the weather of a month to the minutes of one zone: each figure
// with where it is from. It has no rows for a zone that stands for no area.
func Chain(p *plan.Plan, prog *season.Program, zone plan.ID, month int) Table {
	t := Table{Title: "From weather to minutes: " + refName(p, plan.RefTo("zones", zone)) + ", " + MonthTitle(prog, month), Columns: []Column{{"What", 34}, {"Figure", 16}, {"Where it is from", 70}}}
	for _, f := range season.MinutesOf(prog, zone, month) {
		t.Rows = append(t.Rows, texts(f.What, f.Shown(p.Show), f.Source))
	}
	return t
}
