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

// wateringCaution goes with every program.
const wateringCaution = "A program is reckoned and not measured: look at the ground after a week, and turn single stations up or down. " +
	"Local rules on days and hours go before it. New sod or seed wants a program of its own until it is rooted."

// noWater is the answer for a plan that has no watering plan.
func noWater(rev int64, no *noProgram) *WaterView {
	return &WaterView{
		Rev: rev, Says: no.sentence, Assumed: []string{}, Months: []WaterMonth{}, Why: []string{}, Eases: []WaterEase{},
		Areas: []WaterArea{}, Caution: wateringCaution,
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
		Eases: []WaterEase{}, Areas: []WaterArea{}, Caution: wateringCaution,
	}
	for i := range m.year.Months {
		v.Months = append(v.Months, m.month(i))
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
	for _, e := range peak.Eases {
		v.Eases = append(v.Eases, m.ease(e))
	}
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
	out := slices.Clone(m.prog.Asked.Notes)
	if n := len(m.prog.Asked.Unwet); n > 0 {
		names := make([]string, n)
		for i, id := range m.prog.Asked.Unwet {
			names[i] = m.p.AreaName(id)
		}
		out = append(out, fmt.Sprintf("No zone's water lands on %s, so %s no program.", plan.Series(names), plan.Choose(n, "it has", "they have")))
	}
	return orEmpty(out)
}

// month is one month, 0 January.
func (m *waterMaker) month(i int) WaterMonth {
	v := WaterMonth{Name: climate.MonthNames[i], Fits: true, Programs: []WaterProgram{}, Says: "Nothing has to be watered."}
	of := m.year.Months[i]
	if of == nil {
		return v
	}
	v.Needed, v.Fits = true, of.Fits
	v.Gallons = m.sys.Volume(roundVolume(of.Gallons * m.cyclesOf(i)))
	v.Percent = m.percent(i)
	v.Says = sheets.MonthSays(m.p, m.prog, i)
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

// percent is the percentage of the peak's program that serves in a month; "" where none does.
func (m *waterMaker) percent(month int) string {
	if p := m.year.Percent; p != nil && p.Serves && p.ByMonth[month] > 0 {
		return fmt.Sprintf("%d %%", p.ByMonth[month])
	}
	return ""
}

// cyclesOf is how many cycles of days a month has.
func (m *waterMaker) cyclesOf(month int) units.Gallons {
	return units.Gallons(climate.Days[month]) / units.Gallons(max(m.cycle, 1))
}

// roundVolume leaves water as it is told: nobody reads a meter to the hundredth.
func roundVolume(v units.Gallons) units.Gallons { return units.Gallons(int(v + 0.5)) }

func (m *waterMaker) station(of *watering.Month, program watering.Program, run watering.Run) WaterStation {
	z := m.in.Zones[run.Zone]
	v := WaterStation{
		Zone: plan.ID(z.ID), Station: "–", Name: plan.Capital(m.p.ZoneName(plan.ID(z.ID))),
		Minutes: fmt.Sprint(sheets.KeyedMinutes(program, run)), Cycles: sheets.CycleWords(run),
	}
	if z.Station > 0 {
		v.Station = fmt.Sprint(z.Station)
	}
	if days := daysOf(of, run.Zone); run.Zone < len(of.Plain) && of.Plain[run.Zone].Area >= 0 && days > 0 {
		v.Plain = fmt.Sprintf("%.1f", of.Plain[run.Zone].Minutes/float64(days))
	}
	return v
}

// daysOf is on how many days of a cycle a zone runs.
func daysOf(of *watering.Month, zone int) int {
	days := 0
	for _, program := range of.Programs {
		for _, run := range program.Runs {
			if run.Zone == zone {
				days += len(program.Days)
			}
		}
	}
	return days
}

// weekdays are the words of the document for the days of a week, Monday first.
var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// ease is a limit made wider, and the step that makes it.
func (m *waterMaker) ease(e watering.Ease) WaterEase {
	v := WaterEase{Says: e.Says, Fits: e.Fits}
	change := map[string]any{}
	c := m.in.Calendar
	switch {
	case e.Side:
		change["together"] = true
		v.Label = "Let stations run side by side"
	case e.Day >= 0 && m.cycle == len(weekdays) && e.Day < m.cycle:
		var days []string
		for d, word := range weekdays {
			if c.Days[d] || d == e.Day {
				days = append(days, word)
			}
		}
		change["days"] = days
		v.Label = "Allow watering on " + sheets.ProgramDays(m.cycle, []int{e.Day}) + " too"
	case e.Minutes > 0:
		// Longer in the morning first: evenings are when people are about.
		change["start"], change["end"] = sheets.Clock(c.From), sheets.Clock(c.Until+e.Minutes)
		v.Label = "Let watering go on until " + sheets.Clock(c.Until+e.Minutes)
	default:
		return v
	}
	v.Patch = wateringPatch(change)
	return v
}

// wateringPatch changes members of what the plan says of watering.
func wateringPatch(change map[string]any) json.RawMessage {
	b, err := json.Marshal(map[string]any{"watering": change})
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
		v.Turn = true
		depth := meanRate(a.Rates[z]) * minutesOf(of, z) / 60
		credit := 1.0
		if a.Credit != nil {
			credit = float64(a.Credit[z])
		}
		brought, counted = brought+depth, counted+credit*depth
		v.Counts = v.Counts && credit > 0
		if depth > 0.05*float64(r.Need) {
			from = append(from, m.p.ZoneName(plan.ID(zone.ID)))
		}
	}
	if !v.Turn {
		return v
	}
	switch part := brought / max(float64(r.Need), 1e-9); {
	case r.Need == 0 || part < 0.005:
		v.Beside = "Hardly any water of other zones lands on it."
	default:
		v.Beside = fmt.Sprintf("Other zones bring %s a week, %s of its need", m.week(units.Inches(brought)), m.sys.Percent(units.Ratio(part)))
		if len(from) > 0 {
			v.Beside += ": " + strings.Join(from, ", ")
		}
		v.Beside += "."
		if !v.Counts {
			v.Beside += " It is not counted."
		} else if counted < 0.995*brought {
			v.Beside += fmt.Sprintf(" Of it %s is counted, as its plants stand high.", m.sys.Percent(units.Ratio(counted/brought)))
		}
	}
	return v
}

// week is a depth of a cycle as that of a week.
func (m *waterMaker) week(depth units.Inches) string {
	return depthOf(m.sys, depth*7/units.Inches(max(m.cycle, 1)))
}

func meanRate(rates []float32) float64 {
	sum := 0.0
	for _, r := range rates {
		sum += float64(r)
	}
	return sum / float64(max(len(rates), 1))
}

// minutesOf is how long a zone runs in a cycle.
func minutesOf(of *watering.Month, zone int) float64 {
	sum := 0
	for _, program := range of.Programs {
		for _, run := range program.Runs {
			if run.Zone == zone {
				sum += run.Minutes * len(program.Days)
			}
		}
	}
	return float64(sum)
}
