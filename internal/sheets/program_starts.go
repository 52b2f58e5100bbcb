package sheets

import (
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// StartsSay says what is to be known of the starts of a program in a cycle of so many
// days: that each runs all its stations, and which of them fall past midnight; "" for one
// start in the evening.
func StartsSay(program watering.Program, cycle int) string {
	var says []string
	if n := len(program.Starts); n > 1 {
		says = append(says, fmt.Sprintf("Each of the %d starts runs all stations for the minutes keyed in.", n))
	}
	return strings.Join(append(says, MidnightSays([]watering.Program{program}, cycle)...), " ")
}

// MidnightSays is what starts past midnight come to at a controller, which counts a start
// to the day on which it comes (common practice, from memory), and what is done where the
// days allowed are meant otherwise; of starts from midnight on which midnight that is. nil
// where neither is to be told.
func MidnightSays(programs []watering.Program, cycle int) []string {
	var past []int
	var after []int // the days after
	over, named := false, false
	for _, p := range programs {
		late := slices.IndexFunc(p.Starts, func(s int) bool { return s >= minutesOfDay })
		if late < 0 {
			continue
		}
		past, named = append(past, p.Starts[late:]...), named || len(p.Days) < cycle
		if late > 0 {
			_, until := startSpan(p, late-1)
			over = over || until > minutesOfDay
		}
		for _, d := range p.Days {
			after = append(after, (d+1)%cycle)
		}
	}
	if len(past) == 0 {
		return smallHoursSay(programs, cycle)
	}
	slices.Sort(past)
	past = slices.Compact(past)
	it, them := plan.Choose(len(past), "it", "they"), plan.Choose(len(past), "it", "them")
	says := []string{fmt.Sprintf("The %s at %s %s past midnight. A controller counts %s to the day on which %s: on a day of the program %s first, in the small hours, before what starts in the evening. The water of the day is the same.",
		plan.Choose(len(past), "start", "starts"), StartClocks(past), plan.Choose(len(past), "is", "are"), them, plan.Choose(len(past), "it comes", "they come"), it+plan.Choose(len(past), " runs", " run"))}
	if !named {
		return says
	}
	on := "the days after"
	if cycle == 7 && len(programs) == 1 {
		slices.Sort(after)
		on = ProgramDays(cycle, after)
	}
	rule := fmt.Sprintf("Where a day's water is allowed only in the night that begins on it, key %s in as a program of %s own, on %s.", them, plan.Choose(len(past), "its", "their"), on)
	if over {
		rule += " Where days are counted from midnight to midnight, what starts in the evening runs on into the next: have hours worked out that begin at midnight."
	}
	return append(says, rule)
}

// smallHoursSay says on which side of a named day the midnight is at which programs begin;
// nil where none does, or every day is one.
func smallHoursSay(programs []watering.Program, cycle int) []string {
	if !slices.ContainsFunc(programs, func(p watering.Program) bool { return len(p.Starts) > 0 && p.Starts[0] == 0 && len(p.Days) < cycle }) {
		return nil
	}
	return []string{"00:00 is the midnight with which a day of the program begins: it waters in the small hours of that day. Where a day's water is allowed only in the night that begins on it, key the program in on the days after."}
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
