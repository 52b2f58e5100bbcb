package watering

import "fmt"

var weekdays = [7]string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

// DayName is what a day of a cycle, the first 0, is called: a weekday where the cycle is
// a week, with its week where it is of several, and a number elsewhere.
func DayName(day, of int) string {
	switch {
	case of == 7:
		return weekdays[day]
	case of%7 == 0:
		return fmt.Sprintf("%s of week %d", weekdays[day%7], day/7+1)
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

// apart lists the days not allowed, those furthest from any allowed one first: of these
// at most two are worth trying.
func apart(allowed []bool) []int {
	n := len(allowed)
	var days []int
	for want := n; want > 0 && len(days) < 2; want-- {
		for d := range allowed {
			if !allowed[d] && len(days) < 2 && away(allowed, d) == want {
				days = append(days, d)
			}
		}
	}
	return days
}

func away(allowed []bool, d int) int {
	n := len(allowed)
	for k := 1; k < n; k++ {
		if allowed[(d+k)%n] || allowed[(d+n-k)%n] {
			return k
		}
	}
	return n
}
