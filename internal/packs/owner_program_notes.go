package packs

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// mostSaid is how many sentences of one kind the card has room for: chosen.
const mostSaid = 6

// severalSay are sentences of one kind, the first of a long list and how many more.
func severalSay(says []string) []string {
	if len(says) <= mostSaid {
		return says
	}
	return append(append([]string(nil), says[:mostSaid-1]...), fmt.Sprintf("There are %d more like it.", len(says)-mostSaid+1))
}

// doesNotFit says in a box which limits the programs do not keep, and what would help.
func (b *builder) doesNotFit(f *flow) {
	prog := b.in.Program
	peak := prog.Year.Peak
	var others []int
	for month, m := range prog.Year.Months {
		if m != nil && !m.Fits && month != peak {
			others = append(others, month)
		}
	}
	why := sheets.WhyNot(prog, peak)
	if len(why) == 0 && len(others) == 0 {
		return
	}
	f.framed(func(in *flow) {
		if len(why) > 0 {
			in.lines("This does not fit as the plan stands. What follows comes nearest.", bodySize, true, 0, 0)
			in.gap(3)
			in.bullets(severalSay(why)...)
			if help := sheets.WouldFit(b.p, prog, peak); len(help) > 0 {
				in.lines("What would help:", bodySize, true, 0, 0)
				in.gap(2)
				in.bullets(help...)
			}
		}
		switch {
		case len(others) == 0 || prog.Asked.PeakOnly:
		case len(why) > 0:
			in.lines("Nor does it fit in "+sheets.MonthSpan(others)+".", bodySize, false, 0, 0)
		default:
			in.lines("It fits in the peak and not in "+sheets.MonthSpan(others)+":", bodySize, true, 0, 0)
			in.gap(3)
			in.bullets(severalSay(sheets.WhyNot(prog, others[0]))...)
		}
	})
}

// framed sets what is to be seen first in a box behind the sign of a warning; what is
// higher than a page without the box.
func (f *flow) framed(set func(in *flow)) {
	const pad, sign = 7.0, 34.0
	high := max(f.b.measured(f.wide()-sign-pad, set)+2*pad, 30)
	if high > f.top-f.bottom {
		set(f)
		return
	}
	f.keep(high)
	at := orb.Bound{Min: orb.Point{f.x0, f.y - high}, Max: orb.Point{f.x1, f.y}}
	f.add(box(drawing.Pen{Ink: drawing.Black, Width: 1.4}, 0, at))
	f.add(warning(orb.Point{f.x0 + sign/2, f.y - high/2})...)
	set(f.b.flowIn(f.q, orb.Bound{Min: orb.Point{f.x0 + sign, f.y - high}, Max: orb.Point{f.x1 - pad, f.y - pad}}))
	f.y -= high
	f.gap(8)
}

// rainAndWinter says when a program is held back or switched off, and what it is not for.
func (b *builder) rainAndWinter(f *flow) {
	prog := b.in.Program
	f.section("Rain and winter")
	says := []string{sheets.SensorSays(b.p)}
	if off := sheets.OffSays(prog); off != "" {
		says = append(says, off)
	}
	if freeze := b.p.Supply.Freeze; freeze != "none" {
		says = append(says, "Before the first hard frost the system is shut off and emptied as the winter card says (O4), whatever the month.")
	}
	if stage := b.p.Watering.Stage; stage == plan.NewSod || stage == plan.Sown {
		says = append(says, "These minutes are for turf that is new. Once it is rooted and has been mown a few times, have the program worked out for turf that is established: it wants water deeper and less often.")
	}
	f.bullets(says...)
}

// whereFrom is the small print: climate, evenness, target, what was assumed, what the areas
// get, and the chain of the station that runs longest.
func (b *builder) whereFrom(f *flow, prog *season.Program) {
	peak := prog.Year.Peak
	f.section("Where these figures come from")
	f.note("Climate: " + prog.Asked.Year.Source + ".")
	if says := prog.Asked.Notes; len(says) > 0 {
		f.note("Taken for what the plan does not say: " + lowerFirst(strings.Join(says, " ")))
	}
	f.note("Who gets enough: " + lowerFirst(targetSays(b.p.Watering.Target)))
	if saved := sheets.SavedSays(b.p, prog, peak); saved != "" {
		f.note(saved)
	}
	t := sheets.AreasWatered(b.p, prog, peak)
	g := gridOf(t)
	g.Small = true
	g.Note = fmt.Sprintf("In %s. The soil is kept where no more is used up at most than may be.", sheets.MonthTitle(prog, peak))
	f.table(g)
	if slices.ContainsFunc(b.peakMonth().Programs, func(p watering.Program) bool { return len(p.Beside(&prog.Asked.Input)) > 0 }) {
		f.section("When each station runs")
		f.table(gridOf(sheets.Timetable(b.p, prog, peak)))
	}
	longest := longestRun(prog, b.peakMonth())
	f.section("From weather to minutes")
	title := zoneTitle(b.p, longest)
	if n := b.p.Zones[longest].Station; n > 0 {
		title = "station " + itoa(n) + ", " + title
	}
	f.para("Every figure of the one that runs longest, " + title + ", in " + sheets.MonthTitle(prog, peak) + ".")
	chain := gridOf(sheets.Chain(b.p, prog, longest, peak))
	chain.Small, chain.Shares = true, []float64{5, 2.6, 14}
	f.table(chain)
}

// targetSays is which part of the ground has to get its need.
func targetSays(target string) string {
	switch target {
	case plan.ByMean:
		return "The mean of each area: its drier parts get too little."
	case plan.ByLowQuarter:
		return "The driest quarter of each area, by the evenness in the field: nothing browns, and most ground gets more than it needs."
	}
	return "The drier half of each area, by the evenness in the field: the common middle between browning and waste."
}
