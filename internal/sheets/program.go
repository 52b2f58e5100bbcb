package sheets

import (
	"slices"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// The tables of the watering program are read from a season.Program, month by month, 0
// January. The page, the door card and the files have them from here, so that they cannot
// differ.

var (
	dayDepths = measure{"in", "mm", 3, 1, units.MillimetresPerInch} // depths of a day
	volumes   = measure{"gal", "L", 0, 0, units.LitresPerGallon}
)

// programColumns are what Program says of a station.
func programColumns() []Column {
	return []Column{
		{"Program", 9}, {"Days", 32}, {"Starts", 22}, {"Station", 9}, {"Zone", 24}, {"Minutes keyed in", 12}, {"Minutes a day", 12},
		{"Cycles", 8}, {"Soak, minutes", 12}, {"Ends", 18}, {"One-zone sum, minutes a day", 14},
	}
}

// Program is what is keyed in for one month: a row for each station of each program. It
// has no rows where nothing is needed.
func Program(p *plan.Plan, prog *season.Program, month int) Table {
	t := Table{Title: "Program of " + MonthTitle(prog, month), Columns: programColumns()}
	m := prog.Year.Months[month]
	if m == nil {
		return t
	}
	cycle := CycleDays(prog)
	for i, program := range m.Programs {
		for _, r := range program.Runs {
			z := prog.Asked.Input.Zones[r.Zone]
			plain := Cell{}
			if v, ok := PlainMinutes(m, r.Zone); ok {
				plain = Number(v, 0)
			}
			t.Rows = append(t.Rows, []Cell{
				Text(ProgramLetter(i)), Text(ProgramDays(cycle, program.Days)), Text(StartClocks(program.Starts)),
				waterStation(z), Text(zoneName(p, z)), Count(KeyedMinutes(program, r)), Count(r.Minutes),
				Count(r.Cycles), Count(r.Soak), Text(EndClock(program.Ends)), plain,
			})
		}
	}
	return t
}

// ProgramList is the whole year in one table, as program.csv has it: the rows of Program
// by month. A month in which nothing is needed has a row that says so. Without a program
// its one row is no, the sentence why.
func ProgramList(p *plan.Plan, prog *season.Program, no string) Table {
	t := Table{Title: "Watering program", Columns: append([]Column{{"Month", 11}, {"Fits", 8}}, programColumns()...)}
	if prog == nil {
		return noted(t, "Days", no)
	}
	for _, month := range ProgramMonths(prog) {
		name, fits := Text(plan.Capital(MonthTitle(prog, month))), Text(yes(MonthFits(prog, month)))
		rows := Program(p, prog, month).Rows
		if len(rows) == 0 {
			blank := make([]Cell, len(t.Columns))
			blank[0], blank[1], blank[3] = name, fits, Text("nothing is to be watered")
			t.Rows = append(t.Rows, blank)
		}
		for _, row := range rows {
			t.Rows = append(t.Rows, append([]Cell{name, fits}, row...))
		}
	}
	for _, month := range ProgramMonths(prog) {
		for _, why := range WhyNot(prog, month) {
			t = noted(t, "Days", plan.Capital(MonthTitle(prog, month))+" does not fit: "+why)
		}
	}
	for _, n := range append(RefillsSay(p, prog), prog.Asked.Notes...) {
		t = noted(t, "Days", n)
	}
	return noted(noted(t, "Days", AdjustSays(p, prog)), "Days", ProgramCaution)
}

// ProgramYear is the year by month: what is needed, what is run, what it takes, and the
// percentage of the program of the peak where there is one.
func ProgramYear(p *plan.Plan, prog *season.Program) Table {
	sys, cycle := p.Show, watering.CycleWord(CycleDays(prog))
	t := Table{Title: "The year by month", Columns: []Column{
		{"Month", 11}, rainDepths.column(sys, "Reference ET", 12), rainDepths.column(sys, "Rain", 10), {"Percent of " + peakName(prog), 12},
		{"Programs", 10}, {"Minutes " + cycle, 14}, {"Longest day ends", 18}, {"Fits", 8},
		volumes.column(sys, "Water "+cycle, 14), volumes.column(sys, "Water of the month", 14), volumes.column(sys, "One-zone sums", 14),
	}}
	for _, month := range ProgramMonths(prog) {
		m, c := prog.Year.Months[month], prog.Asked.Year.Months[month]
		row := []Cell{Text(plan.Capital(MonthTitle(prog, month))), rainDepths.cell(sys, float64(c.ET)), rainDepths.cell(sys, float64(c.Rain))}
		if m == nil {
			row = append(row, Cell{}, Count(0), Count(0), Text("nothing is to be watered"), Text(yes(true)), Count(0), Count(0), Count(0))
			t.Rows = append(t.Rows, row)
			continue
		}
		percent := Cell{}
		if n, ok := MonthPercent(p, prog, month); ok {
			percent = Count(n)
		} else if n, ok := InsteadPercent(p, prog, month); ok {
			percent = Count(n)
		}
		row = append(row, percent, Count(len(m.Programs)), Count(minutesOf(m)), Text(EndClock(lastEnd(m))), Text(yes(m.Fits)),
			volumes.cell(sys, float64(m.Gallons)), volumes.cell(sys, float64(GallonsOfMonth(prog, month))),
			volumes.cell(sys, float64(m.PlainGallons)*cyclesOf(prog, month)))
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Timetable is which station runs when on a day of each program of a month.
func Timetable(p *plan.Plan, prog *season.Program, month int) Table {
	t := Table{Title: "Timetable of " + MonthTitle(prog, month), Columns: []Column{{"Program", 9}, {"From", 18}, {"Until", 18}, {"Minutes", 9}, {"Station", 9}, {"Zone", 24}}}
	m := prog.Year.Months[month]
	if m == nil {
		return t
	}
	for i, program := range m.Programs {
		for _, s := range program.Steps {
			z := prog.Asked.Input.Zones[s.Zone]
			t.Rows = append(t.Rows, []Cell{
				Text(ProgramLetter(i)), Text(EndClock(s.From)), Text(EndClock(s.Until)), Count(s.Until - s.From), waterStation(z), Text(zoneName(p, z)),
			})
		}
	}
	return t
}

// CycleDays is how many days go by until a program begins again: 7 of a week.
func CycleDays(prog *season.Program) int { return len(prog.Asked.Input.Calendar.Days) }

// MonthFits reports whether a month is kept within all limits, as one in which nothing is
// needed is.
func MonthFits(prog *season.Program, month int) bool {
	m := prog.Year.Months[month]
	return m == nil || m.Fits
}

// MonthPercent is the percentage of the program of the peak that serves in a month; false
// where one percentage does not serve the year, the controller has none, or no climate is
// given.
func MonthPercent(p *plan.Plan, prog *season.Program, month int) (int, bool) {
	y := prog.Year
	if y.Percent == nil || !y.Percent.Serves || !percentHeld(p) || y.Months[month] == nil || prog.Asked.PeakOnly {
		return 0, false
	}
	return y.Percent.ByMonth[month], true
}

// InsteadPercent is the percentage of the program of the peak that no plant goes short of in
// a month, where the months take so much less by programs of their own that these are told
// first; false where one serves or cannot be had, and where that program does not fit.
func InsteadPercent(p *plan.Plan, prog *season.Program, month int) (int, bool) {
	y := prog.Year
	if y.Percent == nil || y.Percent.Serves || !percentHeld(p) || y.Months[month] == nil || prog.Asked.PeakOnly || !MonthFits(prog, y.Peak) || slices.Max(y.Percent.ByMonth[:]) > 100 {
		return 0, false
	}
	return y.Percent.ByMonth[month], true
}

// percentHeld reports whether the controller turns all minutes by one percentage.
func percentHeld(p *plan.Plan) bool { return p.Controller.Adjusts != "none" }

// PlainMinutes are the minutes of the one-zone sum on each day on which a month's programs
// run a zone; false where it has no such sum, or never runs.
func PlainMinutes(m *watering.Month, zone int) (float64, bool) {
	days := 0
	for _, program := range m.Programs {
		for _, r := range program.Runs {
			if r.Zone == zone {
				days += len(program.Days)
			}
		}
	}
	if days == 0 || zone >= len(m.Plain) || m.Plain[zone].Area < 0 {
		return 0, false
	}
	return m.Plain[zone].Minutes / float64(days), true
}

// ZoneMinutes are the minutes that a month's programs run a zone in a cycle of days.
func ZoneMinutes(m *watering.Month, zone int) int {
	sum := 0
	for _, program := range m.Programs {
		for _, r := range program.Runs {
			if r.Zone == zone {
				sum += r.Minutes * len(program.Days)
			}
		}
	}
	return sum
}

// GallonsOfMonth is what a month's programs take, all its days together.
func GallonsOfMonth(prog *season.Program, month int) units.Gallons {
	m := prog.Year.Months[month]
	if m == nil {
		return 0
	}
	return m.Gallons * units.Gallons(cyclesOf(prog, month))
}

// cyclesOf is how many cycles of days a month has.
func cyclesOf(prog *season.Program, month int) float64 {
	return float64(climate.Days[month]) / float64(CycleDays(prog))
}

// minutesOf are the minutes that all stations run in a cycle of days.
func minutesOf(m *watering.Month) int {
	sum := 0
	for _, program := range m.Programs {
		for _, r := range program.Runs {
			sum += r.Minutes * len(program.Days)
		}
	}
	return sum
}

// lastEnd is when the day of a month ends that ends last.
func lastEnd(m *watering.Month) int {
	last := 0
	for _, program := range m.Programs {
		last = max(last, program.Ends)
	}
	return last
}

// peakName is the month that asks for most; "the peak" when none asks.
func peakName(prog *season.Program) string {
	if prog.Year.Peak < 0 {
		return "the peak"
	}
	return MonthTitle(prog, prog.Year.Peak)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
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
