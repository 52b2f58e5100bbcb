package sheets

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// ProgramText writes the watering plan as plain text to read: the verdict on a month, what
// is keyed in for it, the year, what the areas get and need, and the one-zone sums beside.
// With chains it gives every figure from the weather to the minutes of each zone.
func ProgramText(w io.Writer, p *plan.Plan, prog *season.Program, month int, chains bool) error {
	t := &reporter{p: p, sys: p.Show}
	t.line("%s", nameOf(p))
	t.wrap("", MonthSays(p, prog, month))
	for _, why := range WhyNot(prog, month) {
		t.wrap("  ", "Why: "+why)
	}
	for _, would := range WouldFit(p, prog, month) {
		t.wrap("  ", "Would help: "+would)
	}
	t.programs(prog, month)
	t.told(ProgramYear(p, prog), slices.Concat([]string{AdjustSays(p, prog), offWords(prog), SavedSays(p, prog, -1)}, RefillsSay(p, prog))...)
	t.told(AreasWatered(p, prog, month))
	t.told(Needs(p, prog), "Climate: "+prog.Asked.Year.Source+".")
	t.told(Soils(p, prog, month))
	t.told(PlainSums(p, prog, month), SavedSays(p, prog, month))
	if chains {
		for _, z := range prog.Asked.Input.Zones {
			t.told(Chain(p, prog, plan.ID(z.ID), month))
		}
	}
	t.line("")
	for _, n := range append(append([]string{}, prog.Asked.Notes...), UnwetSay(p, prog)...) {
		t.wrap("", "Note: "+n)
	}
	t.wrap("", SensorSays(p))
	t.wrap("", ProgramCaution)
	return t.write(w, "the watering program")
}

// offWords are OffSays, with what winter asks for.
func offWords(prog *season.Program) string {
	if s := OffSays(prog); s != "" {
		return s + " " + WinterCaution
	}
	return ""
}

// programs writes what is keyed in for a month, program by program.
func (r *reporter) programs(prog *season.Program, month int) {
	m := prog.Year.Months[month]
	if m == nil {
		return
	}
	cycle := CycleDays(prog)
	for i, program := range m.Programs {
		r.section(fmt.Sprintf("Program %s of %s", ProgramLetter(i), MonthTitle(prog, month)))
		r.wrap("  ", fmt.Sprintf("%s, %s at %s, ends at %s.", plan.Capital(ProgramDays(cycle, program.Days)),
			plan.Choose(len(program.Starts), "start", "starts"), StartClocks(program.Starts), EndClock(program.Ends)))
		rows := [][]string{{"Station", "Zone", "Minutes keyed in", "Minutes a day", "Cycles", "One-zone sum, a day"}}
		for _, run := range program.Runs {
			z, plain := prog.Asked.Input.Zones[run.Zone], ""
			if v, ok := PlainMinutes(m, run.Zone); ok {
				plain = fmt.Sprintf("%.0f", v)
			}
			rows = append(rows, []string{waterStation(z).String(), zoneName(r.p, z), fmt.Sprint(KeyedMinutes(program, run)), fmt.Sprint(run.Minutes), CycleWords(run), plain})
		}
		r.table(rows)
		for _, s := range []string{StartsSay(program, CycleDays(prog)), program.BesideSays(&prog.Asked.Input)} {
			if s != "" {
				r.wrap("  ", s)
			}
		}
	}
	if s := StartsMeetSay(prog, month); s != "" {
		r.line("")
		r.wrap("  ", s)
	}
}

// told writes a table that has rows, and what is said of it.
func (r *reporter) told(t Table, says ...string) {
	if len(t.Rows) == 0 {
		return
	}
	r.section(t.Title)
	r.table(words(t))
	for _, s := range says {
		if strings.Trim(s, " .") != "" {
			r.wrap("  ", s)
		}
	}
}

// UnwetSay names planting that no zone's water lands on.
func UnwetSay(p *plan.Plan, prog *season.Program) []string {
	if len(prog.Asked.Unwet) == 0 {
		return nil
	}
	names := make([]string, len(prog.Asked.Unwet))
	for i, id := range prog.Asked.Unwet {
		names[i] = p.AreaName(id)
	}
	return []string{"No zone's water lands on " + plan.Several(names) + ": the program leaves " + plan.Choose(len(names), "it", "them") + " dry."}
}
