package main

import (
	"cmp"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// waterAnswerOf is the watering plan as it is printed for programs: all months, or one, 0
// January, where it is not negative.
func waterAnswerOf(p *plan.Plan, prog *season.Program, month int) *waterAnswer {
	in, peak := &prog.Asked.Input, max(prog.Year.Peak, 0)
	head := headingOf("water", p)
	a := &waterAnswer{
		Format: head.Format, Name: head.Name, Plan: head.Plan,
		Says: sheets.MonthSays(p, prog, peak), Fits: sheets.MonthFits(prog, peak), PeakMonth: prog.Year.Peak + 1,
		Climate:  waterClimate{Source: prog.Asked.Year.Source, PeakOnly: prog.Asked.PeakOnly},
		Target:   cmp.Or(p.Watering.Target, plan.ByMultiplier),
		Calendar: calendarOf(in.Calendar),
		Controller: waterController{
			Stations: in.Controller.Stations, Programs: in.Controller.Programs, Starts: in.Controller.Starts, Soaks: in.Controller.Soaks,
		},
		Zones: []waterZone{}, Areas: []waterArea{}, Months: []waterMonth{},
		Year:  yearOf(p, prog),
		Unwet: append([]plan.ID{}, prog.Asked.Unwet...), Notes: append([]string{}, prog.Asked.Notes...), Caution: sheets.ProgramCaution,
	}
	for m, c := range prog.Asked.Year.Months {
		a.Climate.Months = append(a.Climate.Months, waterMonthSource{m + 1, figure(c.ET), figure(c.Rain)})
	}
	for _, z := range in.Zones {
		one := waterZone{plan.ID(z.ID), z.Name, z.Station, figure(z.Flow), []plan.ID{}}
		for _, own := range z.Own {
			one.Areas = append(one.Areas, plan.ID(in.Areas[own].ID))
		}
		a.Zones = append(a.Zones, one)
	}
	months := []int{month}
	if month < 0 {
		months = []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	}
	for i := range in.Areas {
		a.Areas = append(a.Areas, areaAnswer(prog, i, months))
	}
	for _, m := range months {
		a.Months = append(a.Months, monthAnswer(p, prog, m))
	}
	return a
}

func calendarOf(c watering.Calendar) waterCalendar {
	out := waterCalendar{CycleDays: len(c.Days), Days: []int{}, From: sheets.Clock(c.From), Minutes: c.Until - c.From, Together: c.Together, Flow: figure(c.Flow)}
	for d, allowed := range c.Days {
		if allowed {
			out.Days = append(out.Days, d+1)
		}
	}
	return out
}

func yearOf(p *plan.Plan, prog *season.Program) waterYear {
	y := prog.Year
	return waterYear{
		Gallons: figure(y.Gallons), Plain: figure(y.PlainGallons), Saved: figure(y.Saved), Serves: y.Percent != nil && y.Percent.Serves,
		Says: sheets.AdjustSays(p, prog), Off: sheets.OffSays(prog),
	}
}

func areaAnswer(prog *season.Program, i int, months []int) waterArea {
	a, n := &prog.Asked.Input.Areas[i], &prog.Asked.Needs[i]
	out := waterArea{
		ID: n.ID, Name: n.Name, Size: figure(a.Size), Holds: figure(a.Holds), Depleted: figure(a.Depleted), Intake: figure(a.Intake), Surface: figure(a.Surface),
		Evenness: figure(a.FieldDU), Whose: n.DUFrom, Soil: factorsOf(n.Soil), Needs: []waterAreaNeed{},
	}
	for _, m := range months {
		need := waterAreaNeed{Month: m + 1, Need: figure(a.Need[m]), Chain: factorsOf(season.ChainOf(prog.Asked, n.ID, m))}
		if a.Need[m] > 0 {
			need.Lasts = a.Interval(m)
		}
		out.Needs = append(out.Needs, need)
	}
	return out
}

func factorsOf(chain []season.Factor) []waterFactor {
	out := make([]waterFactor, len(chain))
	for i, f := range chain {
		out[i] = waterFactor{f.What, figure(f.Value), f.Unit, f.Source}
	}
	return out
}

func monthAnswer(p *plan.Plan, prog *season.Program, month int) waterMonth {
	out := waterMonth{
		Month: month + 1, Says: sheets.MonthSays(p, prog, month), Fits: sheets.MonthFits(prog, month),
		Programs: []waterProgram{}, Short: []waterShort{}, Binds: []waterBind{}, Eases: []waterEase{}, Areas: []waterReceived{}, Zones: []waterZoneChain{},
	}
	in, m := &prog.Asked.Input, prog.Year.Months[month]
	for i, z := range in.Zones {
		chain := waterZoneChain{ID: plan.ID(z.ID), Chain: factorsOf(season.MinutesOf(prog, plan.ID(z.ID), month))}
		if m != nil {
			chain.Minutes = sheets.ZoneMinutes(m, i)
			chain.Plain = figure(m.Plain[i].Minutes)
		}
		out.Zones = append(out.Zones, chain)
	}
	if m == nil {
		return out
	}
	out.Needed, out.Over, out.Meet = true, max(m.Over, 0), sheets.StartsMeetSay(prog, month)
	if n, ok := sheets.MonthPercent(p, prog, month); ok {
		out.Percent = &n
	}
	out.Gallons, out.Least, out.OfMonth = figure(m.Gallons), figure(m.Least), figure(sheets.GallonsOfMonth(prog, month))
	out.Fills, out.Filling = m.Refill, figure(m.RefillGallons)
	out.Plain, out.Saved, out.SaysIt = figure(m.PlainGallons), figure(m.Saved), sheets.SavedSays(p, prog, month)
	for _, s := range m.PlainShort {
		out.Short = append(out.Short, waterShort{plan.ID(in.Areas[s.Area].ID), figure(s.By)})
	}
	for i := range m.Programs {
		out.Programs = append(out.Programs, programAnswer(prog, &m.Programs[i], i))
	}
	for _, b := range m.Binds {
		one := waterBind{Limit: b.Limit, By: figure(b.By), Says: b.Says}
		if b.Area >= 0 {
			one.Area = plan.ID(in.Areas[b.Area].ID)
		}
		out.Binds = append(out.Binds, one)
	}
	for _, e := range m.Eases {
		out.Eases = append(out.Eases, waterEase{e.Says, e.Fits, max(e.Over, 0), figure(e.Gallons)})
	}
	for i, r := range m.Areas {
		out.Areas = append(out.Areas, waterReceived{plan.ID(in.Areas[i].ID), figure(r.Need), figure(r.Mean), figure(r.Counts), figure(r.Lowest), figure(r.Allowed)})
	}
	return out
}

func programAnswer(prog *season.Program, of *watering.Program, i int) waterProgram {
	zones := prog.Asked.Input.Zones
	out := waterProgram{
		Letter: sheets.ProgramLetter(i), On: sheets.ProgramDays(sheets.CycleDays(prog), of.Days), Ends: sheets.EndClock(of.Ends),
		Days: []int{}, Starts: []string{}, Stations: []waterRun{}, Table: []waterStep{}, Says: strings.TrimSpace(sheets.StartsSay(*of, sheets.CycleDays(prog)) + " " + of.BesideSays(&prog.Asked.Input)), Saves: figure(of.MinuteSaves),
	}
	for _, d := range of.Days {
		out.Days = append(out.Days, d+1)
	}
	for _, s := range of.Starts {
		out.Starts = append(out.Starts, sheets.Clock(s))
	}
	for _, r := range of.Runs {
		out.Stations = append(out.Stations, waterRun{plan.ID(zones[r.Zone].ID), zones[r.Zone].Station, sheets.KeyedMinutes(*of, r), r.Minutes, r.Cycles, r.Soak})
	}
	for _, s := range of.Steps {
		out.Table = append(out.Table, waterStep{plan.ID(zones[s.Zone].ID), s.From, s.Until})
	}
	return out
}
