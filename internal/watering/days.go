package watering

import (
	"cmp"
	"fmt"
	"slices"
)

// Weekdays are the days of a cycle of seven by name, Monday first.
var Weekdays = [7]string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

// DayName is what a day of a cycle, the first 0, is called: a weekday where the cycle is
// a week, with its week where it is of several, and a number elsewhere.
func DayName(day, of int) string {
	switch {
	case of == 7:
		return Weekdays[day]
	case of%7 == 0:
		return fmt.Sprintf("%s of week %d", Weekdays[day%7], day/7+1)
	}
	return fmt.Sprintf("day %d of %d", day+1, of)
}

// Every is how many days lie between one watering and the next where the calendar is
// that alone, one day of a cycle that is no week; 0 elsewhere.
func (c Calendar) Every() int {
	n := 0
	for _, may := range c.Days {
		if may {
			n++
		}
	}
	if n != 1 || len(c.Days)%7 == 0 {
		return 0
	}
	return len(c.Days)
}

// every is a calendar's days where it is one of so many.
func every(days int) []bool {
	all := make([]bool, days)
	all[0] = true
	return all
}

// apart lists the days not allowed by how much they would help: those of the longest gap
// between allowed ones first, in its middle first. At most two are worth trying.
func apart(allowed []bool) []int {
	type one struct{ day, gap, off int }
	n := len(allowed)
	var all []one
	for d := range allowed {
		if allowed[d] {
			continue
		}
		before, after := 1, 1
		for before < n && !allowed[(d+n-before)%n] {
			before++
		}
		for after < n && !allowed[(d+after)%n] {
			after++
		}
		all = append(all, one{d, before + after, max(before-after, after-before)})
	}
	slices.SortStableFunc(all, func(x, y one) int { return cmp.Or(y.gap-x.gap, x.off-y.off) })
	var days []int
	for _, o := range all[:min(len(all), 2)] {
		days = append(days, o.day)
	}
	return days
}
