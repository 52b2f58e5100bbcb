package sheets

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// StartsSay says what is to be known of the starts of a program: that each runs all its
// stations, and which of them fall past midnight; "" for one start in the evening.
func StartsSay(program watering.Program) string {
	var says []string
	if n := len(program.Starts); n > 1 {
		says = append(says, fmt.Sprintf("Each of the %d starts runs all stations for the minutes keyed in.", n))
	}
	var past []int
	for _, s := range program.Starts {
		if s >= minutesOfDay {
			past = append(past, s)
		}
	}
	if len(past) > 0 {
		says = append(says, fmt.Sprintf("The %s at %s %s past midnight: a controller counts %s to the day on which %s, so that on a named day it runs in the small hours first. The water of the day is the same.",
			plan.Choose(len(past), "start", "starts"), StartClocks(past), plan.Choose(len(past), "is", "are"), plan.Choose(len(past), "it", "them"), plan.Choose(len(past), "it comes", "they come")))
	}
	return strings.Join(says, " ")
}

// StartsMeet finds two programs of a month of which the first has a start past midnight
// that comes, counted to its own day of the cycle, while the second still runs from the
// evening before.
func StartsMeet(m *watering.Month, cycle int) (first, second int, ok bool) {
	for i, p := range m.Programs {
		for k, o := range m.Programs {
			dayBefore := slices.ContainsFunc(p.Days, func(d int) bool { return slices.Contains(o.Days, (d+cycle-1)%cycle) })
			if k == i || !dayBefore {
				continue
			}
			pass := 0
			for _, r := range o.Runs {
				pass += KeyedMinutes(o, r)
			}
			for _, s := range p.Starts {
				late := s >= minutesOfDay
				if late && slices.ContainsFunc(o.Starts, func(e int) bool { return e < minutesOfDay && e+pass > s }) {
					return i, k, true
				}
			}
		}
	}
	return 0, 0, false
}

const minutesOfDay = 24 * 60

// StartsMeetSay is what is done about starts of a month that meet (StartsMeet); "" when
// none do.
func StartsMeetSay(prog *season.Program, month int) string {
	m := prog.Year.Months[month]
	if m == nil {
		return ""
	}
	a, c, ok := StartsMeet(m, CycleDays(prog))
	if !ok {
		return ""
	}
	return fmt.Sprintf("Program %s runs past midnight into a day of program %s. Where the starts of %s past midnight count to the day on which they come, both would run at once: key those starts in as a program of their own, on the days after.",
		ProgramLetter(c), ProgramLetter(a), ProgramLetter(a))
}
