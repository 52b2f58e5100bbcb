package sheets

import (
	"io"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

var (
	daily   = measure{"in a day", "mm a day", 3, 1, units.MillimetresPerInch}
	volumes = measure{"gal", "L", 0, 0, units.LitresPerGallon}
)

// Program is what is keyed in for one month, 0 January: a row for each station of each
// program. It has no rows where nothing is needed.
func Program(p *plan.Plan, prog *season.Program, month int) Table {
	t := Table{Title: "Program of " + MonthName(month), Columns: []Column{
		{"Program", 9}, {"Days", 32}, {"Starts", 16}, {"Station", 9}, {"Zone", 24}, {"Minutes keyed in", 16}, {"Minutes a day", 14},
		{"Cycles", 8}, {"Soak, minutes", 14}, {"Ends", 18}, {"Plain minutes a day", 18},
	}}
	m := prog.Year.Months[month]
	if m == nil {
		return t
	}
	cycle := len(prog.Asked.Input.Calendar.Days)
	for i, program := range m.Programs {
		for _, r := range program.Runs {
			z := prog.Asked.Input.Zones[r.Zone]
			t.Rows = append(t.Rows, []Cell{
				Text(ProgramLetter(i)), Text(ProgramDays(cycle, program.Days)), Text(StartClocks(program.Starts)),
				waterStation(z), Text(zoneName(p, z)), Count(KeyedMinutes(program, r)), Count(r.Minutes),
				Count(r.Cycles), Count(r.Soak), Text(EndClock(program.Ends)), plainCell(m, r.Zone),
			})
		}
	}
	return t
}

// plainCell is the minutes of a watering by the one-zone sum; empty where a zone has none.
func plainCell(m *watering.Month, zone int) Cell {
	if zone >= len(m.Plain) || m.Plain[zone].Area < 0 {
		return Cell{}
	}
	return Number(m.Plain[zone].EachMinutes, 1)
}

func waterStation(z watering.Zone) Cell {
	if z.Station > 0 {
		return Count(z.Station)
	}
	return Cell{}
}

func zoneName(p *plan.Plan, z watering.Zone) string {
	return refName(p, plan.RefTo("zones", plan.ID(z.ID)))
}

// ProgramYear is the year by month: gallons of the month, minutes of its longest day,
// the percentage of the peak's program, and whether it fits its hours.
func ProgramYear(p *plan.Plan, prog *season.Program) Table {
	return Table{Title: "Program of the year"}
}

// Needs is what each area needs in each month, a day, of what sprinklers have to bring.
func Needs(p *plan.Plan, prog *season.Program) Table {
	return Table{Title: "Need a day"}
}

// Chain is the way from weather to the minutes of one zone, by index of
// Question.Input.Zones, in one month, 0 January: what, figure, unit, source.
func Chain(p *plan.Plan, prog *season.Program, zone, month int) Table {
	return Table{Title: "From weather to minutes", Columns: []Column{{"What", 44}, {"Figure", 14}, {"Source", 60}}}
}

// PlainSums are the one-zone sums of a month beside what is solved, by zone.
func PlainSums(p *plan.Plan, prog *season.Program, month int) Table {
	return Table{Title: "One-zone sums of " + MonthName(month)}
}

// ProgramList is all of it in one table, as program.csv has it: the rows of Program by
// month.
func ProgramList(p *plan.Plan, prog *season.Program) Table {
	return Table{Title: "Watering program"}
}

// MonthSays is the verdict on a month in sentences: what is keyed in, when it ends and
// what it takes, or that it does not fit.
func MonthSays(p *plan.Plan, prog *season.Program, month int) string { return "" }

// WhyNot are the limits that a month does not keep, in sentences.
func WhyNot(prog *season.Program, month int) []string { return nil }

// SavedSays compares a month with its one-zone sums, or the year when month is -1, in
// sentences.
func SavedSays(p *plan.Plan, prog *season.Program, month int) string { return "" }

// AdjustSays says whether one percentage a month serves.
func AdjustSays(p *plan.Plan, prog *season.Program) string { return "" }

// OffSays says in which months nothing is needed, and what is done about the controller.
func OffSays(prog *season.Program) string { return strings.TrimSpace("") }

// ProgramCalendar writes the programs of a year as iCalendar (RFC 5545), from its first
// day: a rule by week for each program of each month, in floating local time.
func ProgramCalendar(w io.Writer, p *plan.Plan, prog *season.Program, year int) error { return nil }
