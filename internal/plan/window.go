package plan

// Hours are when watering may begin and when it has to be over, in minutes after
// midnight, the end past midnight where it is not after the beginning; false where the
// plan does not name both.
func (w Watering) Hours() (from, until int, named bool) {
	from, ok := minuteOf(w.StartHHMM)
	until, both := minuteOf(w.EndHHMM)
	if !ok || !both {
		return 0, 0, false
	}
	if until <= from {
		until += 24 * 60
	}
	return from, until, true
}

// minuteOf is the minute of the day of "22:00".
func minuteOf(hhmm string) (int, bool) {
	if len(hhmm) != len("22:00") {
		return 0, false
	}
	h, ok := twoDigits(hhmm, 0)
	m, both := twoDigits(hhmm, 3)
	return h*60 + m, ok && both
}

// DaysAWeek is on how many days of a week watering is allowed, in the mean of many; 0
// where the plan does not say.
func (w Watering) DaysAWeek() float64 {
	if w.Every > 0 {
		return 7 / float64(w.Every)
	}
	return float64(len(w.Days))
}
