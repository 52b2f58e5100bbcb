package web

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

// noWater is the answer for a plan that has no watering plan.
func noWater(rev int64, no *noProgram) *WaterView {
	return &WaterView{
		Rev: rev, Says: no.sentence, Assumed: []string{}, Months: []WaterMonth{}, Why: []string{}, Eases: []WaterEase{},
		Areas: []WaterArea{}, Caution: sheets.ProgramCaution,
	}
}

// waterMaker puts a watering plan into words.
type waterMaker struct {
	p     *plan.Plan
	sys   units.System
	prog  *season.Program
	in    *watering.Input
	year  *watering.Year
	cycle int // days
}

func waterMakerOf(p *plan.Plan, prog *season.Program) *waterMaker {
	in := &prog.Asked.Input
	return &waterMaker{p: p, sys: p.Show, prog: prog, in: in, year: prog.Year, cycle: len(in.Calendar.Days)}
}

// waterWords is a watering plan in words.
func waterWords(p *plan.Plan, rev int64, prog *season.Program) *WaterView {
	m := waterMakerOf(p, prog)
	v := &WaterView{
		Rev: rev, Offered: true, Peak: max(m.year.Peak, 0), Assumed: m.assumed(), Months: []WaterMonth{}, Why: []string{},
		Eases: []WaterEase{}, Areas: []WaterArea{}, Caution: sheets.ProgramCaution,
	}
	for i := range m.year.Months {
		if !m.prog.Asked.PeakOnly || i == v.Peak { // they are all the same, and no months
			v.Months = append(v.Months, m.month(i))
		}
	}
	if m.prog.Asked.PeakOnly {
		v.Peak = 0
	}
	peak := m.peak()
	if peak == nil {
		v.Says, v.Fits = "Nothing has to be watered: rain brings all that is needed in every month.", true
		if len(m.in.Areas) == 0 {
			v.Offered, v.Fits, v.Says = false, false, "No zone waters any planting yet, so there is no program. Draw heads and put them in zones first."
		}
		return v
	}
	v.Fits, v.Says = peak.Fits, sheets.MonthSays(p, prog, m.year.Peak)
	v.Why = orEmpty(sheets.WhyNot(prog, m.year.Peak))
	says := sheets.WouldFit(p, prog, m.year.Peak)
	for i, e := range peak.Eases {
		v.Eases = append(v.Eases, m.ease(e, says[i]))
	}
	slices.SortStableFunc(v.Eases, func(a, b WaterEase) int { // what is enough by itself first
		switch {
		case a.Fits == b.Fits:
			return 0
		case a.Fits:
			return -1
		}
		return 1
	})
	for i := range m.in.Areas {
		v.Areas = append(v.Areas, m.area(peak, i))
	}
	v.Saved, v.Adjust = sheets.SavedSays(p, prog, -1), sheets.AdjustSays(p, prog)
	return v
}

// peak is the month that asks most; nil where none asks.
func (m *waterMaker) peak() *watering.Month {
	if m.year.Peak < 0 {
		return nil
	}
	return m.year.Months[m.year.Peak]
}

// assumed is what was taken for what the plan does not say, and what is left out.
func (m *waterMaker) assumed() []string {
	return orEmpty(append(slices.Clone(m.prog.Asked.Notes), sheets.UnwetSay(m.p, m.prog)...))
}

// month is one month, 0 January.
func (m *waterMaker) month(i int) WaterMonth {
	v := WaterMonth{Name: m.monthName(i), Fits: true, Programs: []WaterProgram{}, Says: "Nothing has to be watered."}
	of := m.year.Months[i]
	if of == nil {
		return v
	}
	v.Needed, v.Fits = true, of.Fits
	v.Gallons = m.sys.Volume(roundVolume(sheets.GallonsOfMonth(m.prog, i)))
	if m.prog.Asked.PeakOnly {
		v.Gallons = m.sys.Volume(roundVolume(of.Gallons)) + " " + watering.CycleWord(m.cycle)
	}
	if n, ok := sheets.MonthPercent(m.p, m.prog, i); ok {
		v.Percent = fmt.Sprintf("%d %%", n)
	}
	v.Says = sheets.MonthSays(m.p, m.prog, i)
	if more := of.RefillSays; more != "" && !strings.Contains(v.Says, more) {
		v.Says += " " + more
	}
	for k, program := range of.Programs {
		w := WaterProgram{
			Letter: sheets.ProgramLetter(k), Days: sheets.ProgramDays(m.cycle, program.Days),
			Starts: sheets.StartClocks(program.Starts), Ends: sheets.EndClock(program.Ends), Stations: []WaterStation{},
		}
		for _, run := range program.Runs {
			w.Stations = append(w.Stations, m.station(of, program, run))
		}
		v.Programs = append(v.Programs, w)
	}
	return v
}

// monthName names a month, or the week that stands for all where no climate is given.
func (m *waterMaker) monthName(i int) string {
	if m.prog.Asked.PeakOnly {
		return "The week at peak"
	}
	return climate.MonthNames[i]
}

// roundVolume leaves water as it is told: nobody reads a meter to the hundredth.
func roundVolume(v units.Gallons) units.Gallons { return units.Gallons(int(v + 0.5)) }

func (m *waterMaker) station(of *watering.Month, program watering.Program, run watering.Run) WaterStation {
	z := m.in.Zones[run.Zone]
	v := WaterStation{
		Zone: plan.ID(z.ID), Station: "–", Name: m.zoneName(run.Zone),
		Minutes: fmt.Sprint(sheets.KeyedMinutes(program, run)), Cycles: sheets.CycleWords(run),
	}
	if n := len(program.Starts); n > 1 { // each start is a cycle: there is nothing more to key in
		v.Cycles = "at each of " + plan.Plural(n, "start", "starts")
	}
	if z.Station > 0 {
		v.Station = fmt.Sprint(z.Station)
	}
	if plain, ok := sheets.PlainMinutes(of, run.Zone); ok {
		v.Plain = fmt.Sprintf("%.0f", plain)
	}
	return v
}

// zoneName is the name of a zone that stands beside its station: its own where it has one.
func (m *waterMaker) zoneName(zone int) string {
	id := plan.ID(m.in.Zones[zone].ID)
	if name := m.p.Zones[id].Name; name != "" {
		return name
	}
	return plan.Capital(m.p.ZoneName(id))
}

// ease is a limit made wider, and the one step that makes it. An ease may be of several
// limits at once.
func (m *waterMaker) ease(e watering.Ease, says string) WaterEase {
	v := WaterEase{Says: says, Fits: e.Fits}
	change, labels := map[string]any{}, []string(nil)
	water := map[string]any{}
	if len(e.Days) > 0 && m.cycle == len(plan.Weekdays()) {
		allowed := slices.Clone(m.in.Calendar.Days)
		for _, d := range e.Days {
			allowed[d] = true
		}
		var days []string
		for d, word := range plan.Weekdays() {
			if allowed[d] {
				days = append(days, word)
			}
		}
		water["days"] = days
		on := slices.Sorted(slices.Values(e.Days))
		labels = append(labels, "allow watering on "+sheets.ProgramDays(m.cycle, on)+" too")
	}
	if e.Every > 0 {
		water["every"] = e.Every
		labels = append(labels, "water "+sheets.ProgramDays(e.Every, []int{0}))
	}
	if e.Minutes > 0 {
		// Later in the morning: in the evening people are about.
		c := m.in.Calendar
		water["start"], water["end"] = sheets.Clock(c.From), sheets.Clock(c.Until+e.Minutes)
		labels = append(labels, "water until "+sheets.Clock(c.Until+e.Minutes))
	}
	if e.Side {
		water["together"] = true
		labels = append(labels, "let stations run side by side")
	}
	if e.Soaks {
		change["controller"] = map[string]any{"soaks": true}
		labels = append(labels, "have a controller that soaks")
	}
	if len(water) > 0 {
		change["watering"] = water
	}
	if len(labels) > 0 {
		v.Label, v.Patch = plan.Capital(plan.Series(labels)), patchWith(change)
	}
	return v
}

// patchWith is a patch of the plan that changes members.
func patchWith(change map[string]any) json.RawMessage {
	b, err := json.Marshal(change)
	if err != nil {
		panic(fmt.Sprintf("web: a patch of watering: %v", err))
	}
	return b
}

// area is one area at peak.
func (m *waterMaker) area(of *watering.Month, i int) WaterArea {
	a, r := &m.in.Areas[i], of.Areas[i]
	v := WaterArea{
		ID: plan.ID(a.ID), Name: plan.Capital(m.p.AreaName(plan.ID(a.ID))),
		Need: m.week(r.Need), Gets: m.week(r.Counts), Counts: true,
	}
	if r.Interval > 0 {
		v.Lasts = plan.Plural(r.Interval, "day", "days")
	}
	var from []string
	brought, counted := 0.0, 0.0
	for z, zone := range m.in.Zones {
		if slices.Contains(zone.Own, i) || a.Rates[z] == nil {
			continue
		}
		depth := meanRate(a.Rates[z]) * float64(sheets.ZoneMinutes(of, z)) / 60
		credit := 1.0
		if a.Credit != nil {
			credit = float64(a.Credit[z])
		}
		brought, counted = brought+depth, counted+credit*depth
		v.Counts = v.Counts && credit > 0
		if depth >= float64(besideMuch)*float64(r.Need) {
			from = append(from, m.p.ZoneName(plan.ID(zone.ID)))
		}
	}
	part := units.Ratio(brought / max(float64(r.Need), 1e-9))
	if r.Need == 0 || part < besideTold {
		return v
	}
	v.Turn = part >= besideMuch
	v.Beside = fmt.Sprintf("Other zones bring %s a week, %s of its need", m.week(units.Inches(brought)), m.sys.Percent(part))
	if len(from) > 0 {
		v.Beside += ": " + strings.Join(from, ", ")
	}
	v.Beside += "."
	switch {
	case !v.Counts:
		v.Beside += " It is not counted."
	case counted < 0.995*brought:
		v.Beside += fmt.Sprintf(" Of it %s is counted, as its plants stand high.", m.sys.Percent(units.Ratio(counted/brought)))
	}
	return v
}

// Water of other zones is told from so much of what an area needs, and from so much heads
// are worth turning off it. Chosen.
const (
	besideTold units.Ratio = 0.01
	besideMuch units.Ratio = 0.05
)

// week is a depth of a cycle as that of a week.
func (m *waterMaker) week(depth units.Inches) string {
	return depthOf(m.sys, depth*7/units.Inches(max(m.cycle, 1)))
}
