package packs

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// throughTheYear says how the programs of the peak are changed by month: by one
// percentage where that serves, else by a table of what is keyed in.
func (b *builder) throughTheYear(f *flow) {
	prog := b.in.Program
	f.keep(125) // section, words and percentages
	f.section("Through the year")
	if prog.Asked.PeakOnly {
		f.para("100 % is the hottest weeks. With a climate in the plan its months stand here. Until then write in what you set, so that the next year starts right.")
		f.table(percentGrid(nil))
		return
	}
	f.para(sheets.AdjustSays(b.p, prog))
	f.bullets(sheets.RefillsSay(b.p, prog)...)
	if percents, serves := b.percents(sheets.MonthPercent); serves {
		f.table(percentGrid(percents))
		return
	}
	f.table(b.monthsGrid())
	if percents, may := b.percents(sheets.InsteadPercent); may {
		f.keep(60)
		f.para("Or the program of " + sheets.MonthTitle(prog, prog.Year.Peak) + " at:")
		f.table(percentGrid(percents))
	}
}

// percents are the percentages of the months, by who answers for them; false where the
// month of the program itself has none.
func (b *builder) percents(of func(*plan.Plan, *season.Program, int) (int, bool)) ([]string, bool) {
	percents := make([]string, 12)
	for month := range percents {
		percents[month] = "off"
		if n, ok := of(b.p, b.in.Program, month); ok {
			percents[month] = itoa(n) + " %"
		}
	}
	_, any := of(b.p, b.in.Program, b.in.Program.Year.Peak)
	return percents, any
}

// monthHeads are the months in as few letters as a column of them has room for.
func monthHeads() []string {
	out := make([]string, 12)
	for i := range out {
		out[i] = climate.MonthNames[i][:3]
	}
	return out
}

// percentGrid has a percentage for each month, and room to write in what is set; without
// percentages that room alone.
func percentGrid(percents []string) grid {
	g := grid{Head: append([]string{""}, monthHeads()...), Numbers: make([]bool, 13), Shares: []float64{1.5}, Least: 19}
	for i := range 12 {
		g.Shares, g.Numbers[i+1] = append(g.Shares, 1), true
	}
	if percents != nil {
		g.Rows = append(g.Rows, append([]string{"Set to"}, percents...))
	}
	g.Rows = append(g.Rows, append([]string{"Was set"}, strings.Split(strings.Repeat("%,", 11)+"%", ",")...))
	return g
}

// monthsGrid is what is keyed in by month: each program's days and starts where they are
// not the same all year, and the minutes of its stations.
func (b *builder) monthsGrid() grid {
	prog := b.in.Program
	cycle := sheets.CycleDays(prog)
	g := grid{Head: append([]string{"Minutes keyed in"}, monthHeads()...), Numbers: make([]bool, 13), Shares: []float64{4}, Groups: map[int]bool{}, Even: true}
	for i := range 12 {
		g.Shares, g.Numbers[i+1] = append(g.Shares, 1), true
	}
	for i := range b.mostPrograms() {
		of := func(month int) *watering.Program {
			if m := prog.Year.Months[month]; m != nil && i < len(m.Programs) {
				return &m.Programs[i]
			}
			return nil
		}
		row := func(name string, cell func(p *watering.Program) string) ([]string, bool) {
			cells, first, same := []string{name}, "", true
			for month := range 12 {
				s := "–"
				if p := of(month); p != nil {
					s = cell(p)
					same = same && (first == "" || s == first)
					first = or(first, s)
				}
				cells = append(cells, s)
			}
			return cells, same
		}
		title := "Program " + sheets.ProgramLetter(i)
		days, sameDays := row("Days", func(p *watering.Program) string { return shortDays(cycle, p.Days) })
		_, sameStarts := row("", func(p *watering.Program) string { return sheets.StartClocks(p.Starts) })
		most := 0
		for month := range 12 {
			p := of(month)
			if p == nil {
				continue
			}
			if most == 0 && sameDays {
				title += ": " + sheets.ProgramDays(cycle, p.Days)
			}
			if most == 0 && sameStarts {
				title += ", " + plan.Choose(len(p.Starts), "start", "starts") + " at " + sheets.StartClocks(p.Starts)
			}
			most = max(most, len(p.Starts))
		}
		g.Groups[len(g.Rows)] = true
		g.Rows = append(g.Rows, []string{title})
		if !sameDays {
			g.Rows = append(g.Rows, days)
		}
		for n := 0; n < most && !sameStarts; n++ {
			starts, _ := row(fmt.Sprintf("Start %d", n+1), func(p *watering.Program) string {
				if n < len(p.Starts) {
					return sheets.Clock(p.Starts[n])
				}
				return "–"
			})
			g.Rows = append(g.Rows, starts)
		}
		for _, z := range b.zonesOf(i) {
			id := plan.ID(prog.Asked.Input.Zones[z].ID)
			name := zoneTitle(b.p, id)
			if n := b.p.Zones[id].Station; n > 0 {
				name = itoa(n) + "  " + name
			}
			cells, _ := row(name, func(p *watering.Program) string {
				for _, r := range p.Runs {
					if r.Zone == z {
						return itoa(sheets.KeyedMinutes(*p, r))
					}
				}
				return "0"
			})
			g.Rows = append(g.Rows, cells)
		}
	}
	g.Note = "Minutes are of each start. A dash: there is none in that month. Set the days, starts and minutes of each month when it begins."
	return g
}

// mostPrograms is how many programs the month has that has most.
func (b *builder) mostPrograms() int {
	most := 0
	for _, m := range b.in.Program.Year.Months {
		if m != nil {
			most = max(most, len(m.Programs))
		}
	}
	return most
}

// zonesOf are the zones that a program runs in any month, by index, in the order of
// their stations as runs have it.
func (b *builder) zonesOf(program int) []int {
	var out []int
	for _, m := range b.in.Program.Year.Months {
		if m == nil || program >= len(m.Programs) {
			continue
		}
		for _, r := range m.Programs[program].Runs {
			if !slices.Contains(out, r.Zone) {
				out = append(out, r.Zone)
			}
		}
	}
	slices.Sort(out)
	return out
}

// shortDays are the days of a program for a narrow column.
func shortDays(cycle int, on []int) string {
	if len(on) == cycle {
		return "all"
	}
	out := make([]string, len(on))
	for i, d := range on {
		out[i] = itoa(d + 1)
		if cycle == 7 {
			out[i] = watering.Weekdays[d][:3]
		}
	}
	return strings.Join(out, " ")
}
