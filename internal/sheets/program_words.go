package sheets

import (
	"fmt"
	"slices"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// ProgramLetter is what the program of an index goes by on a controller: A, B, C.
func ProgramLetter(i int) string { return string(rune('A' + i)) }

// ProgramDays says on which days of a cycle of so many a program runs: "Monday and
// Thursday", "every day", "every 3 days", "days 1 and 3 of every 5".
func ProgramDays(cycle int, on []int) string {
	switch {
	case len(on) == cycle:
		return "every day"
	case cycle == 7:
		names := make([]string, len(on))
		for i, d := range on {
			names[i] = watering.Weekdays[d]
		}
		return plan.Series(names)
	case len(on) == 1:
		return fmt.Sprintf("every %d days", cycle)
	}
	numbers := make([]string, len(on))
	for i, d := range on {
		numbers[i] = fmt.Sprint(d + 1)
	}
	return fmt.Sprintf("days %s of every %d", plan.Series(numbers), cycle)
}

// Clock is a minute after midnight as a controller shows it.
func Clock(minute int) string { return watering.Clock(minute) }

// EndClock is when something ends that began on the day before, where it did.
func EndClock(minute int) string {
	if minute >= minutesOfDay {
		return Clock(minute) + " the next day"
	}
	return Clock(minute)
}

// StartClocks are the starts of a program in words: "22:00 and 00:40".
func StartClocks(starts []int) string {
	at := make([]string, len(starts))
	for i, s := range starts {
		at[i] = Clock(s)
	}
	return plan.Series(at)
}

// KeyedMinutes are the minutes of a run as they are keyed in: each start of a program runs
// all its stations, so that a run in two starts is keyed in as its half.
func KeyedMinutes(program watering.Program, r watering.Run) int {
	return r.Minutes / max(len(program.Starts), 1)
}

// CycleWords say how a run is parted so that water soaks in: "2 × 11 min, 30 min between";
// "" when it is not.
func CycleWords(r watering.Run) string {
	if r.Cycles <= 1 {
		return ""
	}
	longest := (r.Minutes + r.Cycles - 1) / r.Cycles
	return fmt.Sprintf("%d × %d min, %d min between", r.Cycles, longest, r.Soak)
}

// MonthName is a month by its number, 0 January.
func MonthName(month int) string { return climate.MonthNames[month] }

// MonthTitle is what a month of a program goes by: its name, or the week at peak where no
// climate is given, so that this week stands for every month.
func MonthTitle(prog *season.Program, month int) string {
	if prog.Asked.PeakOnly {
		return "the week at peak"
	}
	return MonthName(month)
}

// ProgramMonths are the months that tables have a row for: all, or the one that stands for
// every month where no climate is given; none where nothing is ever needed then.
func ProgramMonths(prog *season.Program) []int {
	switch {
	case !prog.Asked.PeakOnly:
		return []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	case prog.Year.Peak < 0:
		return nil
	}
	return []int{prog.Year.Peak}
}

// MonthSpan names months, runs of three and more by their ends: "November to March".
// months ascend; a run goes on from December to January.
func MonthSpan(months []int) string {
	if len(months) == 12 {
		return "every month"
	}
	// A run begins where the month before is not listed.
	var names []string
	for _, m := range months {
		if slices.Contains(months, (m+11)%12) {
			continue
		}
		last := m
		for slices.Contains(months, (last+1)%12) {
			last = (last + 1) % 12
		}
		switch n := (last - m + 12) % 12; n {
		case 0:
			names = append(names, MonthName(m))
		case 1:
			names = append(names, MonthName(m), MonthName(last))
		default:
			names = append(names, MonthName(m)+" to "+MonthName(last))
		}
	}
	return plan.Series(names)
}
