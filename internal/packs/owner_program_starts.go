package packs

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// startsSay is what has to be known of starts, the place of the usual slips at a
// controller (common practice, from memory): a start for each station, one too soon, one
// on another day than is thought.
func (b *builder) startsSay(m *watering.Month) []string {
	var says []string
	var past []int
	follow, several, itself, soaks := false, false, false, false
	for i, p := range m.Programs {
		if beside := p.BesideSays(&b.in.Program.Asked.Input); beside != "" {
			if len(m.Programs) > 1 {
				beside = "Program " + sheets.ProgramLetter(i) + ": " + lowerFirst(beside)
			}
			says = append(says, beside)
		}
		follow, several, itself = follow || len(p.Runs) > 1, several || len(p.Starts) > 1, itself || partsItself(p)
		for _, r := range p.Runs {
			soaks = soaks || r.Cycles > 1 && len(p.Starts) > 1
		}
		for _, s := range p.Starts {
			if s >= minutesOfDay && !slices.Contains(past, s) {
				past = append(past, s)
			}
		}
	}
	switch {
	case len(says) > 0: // how they run is said
	case several:
		says = append(says, "Each start runs all stations of its program, one after another: no station needs a start of its own.")
	case follow:
		says = append(says, "One start for all stations of a program: they follow one another by themselves, and each further start would run all of them again.")
	}
	if soaks {
		says = append(says, "Starts stand so far apart that water has soaked in before more comes. Do not move them together.")
	}
	if itself {
		says = append(says, "The controller parts minutes by itself: key in cycle and soak, in minutes, where they are named, so that water soaks in before more comes.")
	}
	if len(past) > 0 {
		slices.Sort(past)
		says = append(says, fmt.Sprintf("The %s at %s %s past midnight. Most controllers count a start to the day on which it comes, so that on a day of the program it runs first, in the small hours; the water of the day is the same.",
			plan.Choose(len(past), "start", "starts"), sheets.StartClocks(past), plan.Choose(len(past), "is", "are")))
	}
	if meet := sheets.StartsMeetSay(b.in.Program, m.Month); meet != "" {
		says = append(says, meet)
	}
	return says
}

const minutesOfDay = 24 * 60
