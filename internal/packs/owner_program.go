package packs

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// programCard is what is keyed into the controller: a card for its door with the programs
// of the watering plan and how they are turned through the year, then where that comes
// from. Without a watering plan it is a first figure.
func (b *builder) programCard() error {
	f := b.list()
	ids := b.standingZones()
	switch {
	case len(ids) == 0:
		f.para("No zone is drawn yet, so there is nothing to key in.")
	case b.peakMonth() == nil:
		b.firstFigure(f, ids)
	default:
		b.keyedProgram(f)
	}
	return nil
}

// peakMonth is the program of the month that asks for most; nil when there is none.
func (b *builder) peakMonth() *watering.Month {
	prog := b.in.Program
	if prog == nil || prog.Year.Peak < 0 {
		return nil
	}
	if m := prog.Year.Months[prog.Year.Peak]; len(m.Programs) > 0 {
		return m
	}
	return nil
}

// alone is the share of a page from which on what is keyed in has it to itself, so that it
// can hang without its small print: chosen.
const alone = 0.4

// keyedProgram is the card of a watering plan, so far that it can be keyed in without a
// question, and after it where its figures come from.
func (b *builder) keyedProgram(f *flow) {
	prog, m := b.in.Program, b.peakMonth()
	b.doesNotFit(f)
	f.para(b.peakFor())
	f.facts(
		[2]string{"Water is allowed", b.allowedWords()},
		[2]string{"Controller", b.controllerWords()},
	)
	f.section(plan.Choose(len(m.Programs), "Program", "Programs"))
	f.table(b.programsGrid(m))
	f.bullets(b.startsSay(m)...)
	f.section("Minutes of the stations")
	f.table(b.stationsGrid(m))
	b.throughTheYear(f)
	b.rainAndWinter(f)
	f.gap(8)
	b.byHand(f, "Changed since, and why")
	f.note(sheets.ProgramCaution)
	if f.y < f.top-alone*(f.top-f.bottom) {
		f.newPage()
	}
	b.whereFrom(f, prog)
}

// peakFor says what the programs are for.
func (b *builder) peakFor() string {
	if b.in.Program.Asked.PeakOnly {
		return "For the hottest weeks. The plan has no climate yet, so that this is not worked out month by month: in other weeks turn it down, as the ground says."
	}
	return "For " + sheets.MonthName(b.in.Program.Year.Peak) + ", the month that asks for most. For the other months it is changed as stands under “Through the year”."
}

const minutesOfDay = 24 * 60

// allowedWords are the days and hours of the plan: where programs begin at midnight as a
// day has them, its own small hours and its own evening.
func (b *builder) allowedWords() string {
	c := b.in.Program.Asked.Input.Calendar
	var on []int
	for d, allowed := range c.Days {
		if allowed {
			on = append(on, d)
		}
	}
	days := sheets.ProgramDays(len(c.Days), on)
	if c.Until > minutesOfDay && b.peakMonth().Begins() == 0 {
		return days + ", from 00:00 to " + sheets.Clock(c.Until) + " and from " + sheets.Clock(c.From) + " on"
	}
	return days + ", from " + sheets.Clock(c.From) + " to " + sheets.EndClock(c.Until)
}

// programsGrid has the days and starts of each program.
func (b *builder) programsGrid(m *watering.Month) grid {
	cycle := sheets.CycleDays(b.in.Program)
	g := grid{Head: []string{"Program", "Days", "Starts", "Done at", "Keyed in, with the date"}, Shares: []float64{2, 5, 5, 3, 5}, Least: 19}
	for i, p := range m.Programs {
		g.Rows = append(g.Rows, []string{sheets.ProgramLetter(i), plan.Capital(sheets.ProgramDays(cycle, p.Days)), sheets.StartClocks(p.Starts), sheets.EndClock(p.Ends), ""})
	}
	if cycle != 7 {
		g.Note = "Day 1 is the first day that it waters: the day from which it is keyed in."
	}
	return g
}

// stationsGrid has what is keyed in for each station, program by program.
func (b *builder) stationsGrid(m *watering.Month) grid {
	in := &b.in.Program.Asked.Input
	var run []plan.ID
	for z := range in.Zones {
		if slices.ContainsFunc(m.Programs, func(p watering.Program) bool { return runOf(p, z) != nil }) {
			run = append(run, plan.ID(in.Zones[z].ID))
		}
	}
	b.byStation(run)
	at := func(id plan.ID) int {
		return slices.IndexFunc(in.Zones, func(z watering.Zone) bool { return z.ID == string(id) })
	}
	g := grid{Mark: b.zoneMarker(run), Rows: make([][]string, len(run))}
	column := func(head string, number bool, share float64, cell func(id plan.ID) string) {
		g.Head, g.Numbers, g.Shares = append(g.Head, head), append(g.Numbers, number), append(g.Shares, share)
		for i, id := range run {
			g.Rows[i] = append(g.Rows[i], cell(id))
		}
	}
	blank := func(plan.ID) string { return "" }
	column("Station", false, 2, func(id plan.ID) string { return stationName(b.p.Zones[id]) })
	column("Zone", false, 5, func(id plan.ID) string { return zoneTitle(b.p, id) })
	sums := []string{"All, in turn", ""}
	if slices.ContainsFunc(m.Programs, partsItself) {
		cycle, soak := cyclesOf(m, len(in.Zones))
		dash := func(of []int) func(id plan.ID) string {
			return func(id plan.ID) string {
				if z := at(id); soak[z] > 0 {
					return itoa(of[z])
				}
				return "–"
			}
		}
		column("Cycle, most", true, 2, dash(cycle))
		column("Soak", true, 2, dash(soak))
		sums = append(sums, "", "")
	}
	for i, p := range m.Programs {
		sum := 0
		for _, r := range p.Runs {
			sum += sheets.KeyedMinutes(p, r)
		}
		sums = append(sums, itoa(sum), "")
		head := "Minutes"
		if len(m.Programs) > 1 {
			head = sheets.ProgramLetter(i) + ": minutes"
		}
		if len(p.Starts) > 1 {
			head += ", each start"
		}
		column(head, true, 2, func(id plan.ID) string {
			if r := runOf(p, at(id)); r != nil {
				return itoa(sheets.KeyedMinutes(p, *r))
			}
			return "0"
		})
		column("Keyed in", false, 2, blank)
	}
	for len(g.Head) < 6 {
		column("Later", false, 2, blank)
	}
	if !in.Calendar.Together && len(run) > 1 {
		g.Rows = append(g.Rows, sums)
		g.Heavy = map[int]bool{len(g.Rows) - 1: true}
	}
	g.Note = b.leftOut(run)
	return g
}

// partsItself reports whether a program is one of a controller that parts the minutes of
// a station into cycles by itself.
func partsItself(p watering.Program) bool {
	return len(p.Starts) == 1 && slices.ContainsFunc(p.Runs, func(r watering.Run) bool { return r.Cycles > 1 })
}

// cyclesOf are, by zone, the longest cycle that is keyed in where a controller parts
// minutes by itself, and the soak; 0 where no run is parted. One cycle is kept for all
// programs, as controllers do (common practice, from memory): the longest of them, so
// that none is parted into more than was reckoned.
func cyclesOf(m *watering.Month, zones int) (cycle, soak []int) {
	cycle, soak = make([]int, zones), make([]int, zones)
	for _, p := range m.Programs {
		for _, r := range p.Runs {
			cycle[r.Zone] = max(cycle[r.Zone], (r.Minutes+r.Cycles-1)/r.Cycles)
			soak[r.Zone] = max(soak[r.Zone], r.Soak)
		}
	}
	return cycle, soak
}

// runOf is what a program runs a zone for; nil when it does not.
func runOf(p watering.Program, zone int) *watering.Run {
	for i := range p.Runs {
		if p.Runs[i].Zone == zone {
			return &p.Runs[i]
		}
	}
	return nil
}

// byStation orders zones by their stations.
func (b *builder) byStation(ids []plan.ID) {
	order := b.standingZones()
	slices.SortFunc(ids, func(x, y plan.ID) int { return slices.Index(order, x) - slices.Index(order, y) })
}

// leftOut says which other stations are set to nothing, which nothing was worked out for,
// and which ground no station waters.
func (b *builder) leftOut(run []plan.ID) string {
	asked := b.in.Program.Asked
	var others, unknown, says []string
	for _, id := range b.standingZones() {
		switch {
		case slices.Contains(run, id):
		case !slices.ContainsFunc(asked.Input.Zones, func(z watering.Zone) bool { return z.ID == string(id) }):
			unknown = append(unknown, b.p.ZoneName(id))
		case b.p.Zones[id].Station > 0:
			others = append(others, stationName(b.p.Zones[id]))
		}
	}
	if len(others) > 0 {
		says = append(says, fmt.Sprintf("0 minutes: %s %s.", plan.Choose(len(others), "station", "stations"), plan.Series(others)))
	}
	if len(unknown) > 0 {
		says = append(says, "Nothing is worked out for "+plan.Several(unknown)+", as no water of theirs is reckoned. Key in by hand what they need.")
	}
	says = append(says, sheets.UnwetSay(b.p, b.in.Program)...)
	return strings.Join(says, " ")
}

// byHand has room to write in what is keyed in.
func (b *builder) byHand(f *flow, what ...string) {
	if len(b.p.Sensors) > 0 {
		what = append(what, "Sensor: on, and its setting")
	}
	rows := make([][]string, len(what))
	for i, w := range what {
		rows[i] = []string{w, ""}
	}
	f.table(grid{Head: []string{"Written in by hand", "As keyed in, with the date"}, Shares: []float64{2, 5}, Least: 18, Rows: rows})
}

// longestRun is the zone that runs longest on a day of the peak, by its program's index.
func longestRun(prog *season.Program, m *watering.Month) plan.ID {
	longest, zone := 0, 0
	for _, p := range m.Programs {
		for _, r := range p.Runs {
			if r.Minutes > longest {
				longest, zone = r.Minutes, r.Zone
			}
		}
	}
	return plan.ID(prog.Asked.Input.Zones[zone].ID)
}
