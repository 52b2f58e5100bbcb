package packs

import (
	"evenfall/internal/sheets"
	"evenfall/internal/watering"
)

// startsSay is what has to be known of starts, the place of the usual slips at a
// controller (common practice, from memory): a start for each station, one too soon, one
// on another day than is thought.
func (b *builder) startsSay(m *watering.Month) []string {
	var says []string
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
	}
	switch {
	case len(says) > 0: // how they run is said
	case several:
		says = append(says, "Each start runs all stations of its program, one after another: no station needs a start of its own. Take out other starts that the controller came with.")
	case follow:
		says = append(says, "One start for all stations of a program: they follow one another by themselves, and each further start would run all of them again: take out those that the controller came with.")
	}
	if soaks {
		says = append(says, "Starts stand so far apart that water has soaked in before more comes. Do not move them together.")
	}
	if itself {
		says = append(says, "The controller parts minutes by itself: key in cycle and soak, in minutes, where they are named, so that water soaks in before more comes.")
	}
	says = append(says, sheets.MidnightSays(m.Programs, sheets.CycleDays(b.in.Program))...)
	if often := sheets.OftenSays(b.p, b.in.Program, m.Month); often != "" {
		says = append(says, often)
	}
	if meet := sheets.StartsMeetSay(b.in.Program, m.Month); meet != "" {
		says = append(says, meet)
	}
	return says
}
