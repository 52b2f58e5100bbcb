package sheets

import (
	"bytes"
	"testing"
	"time"
)

// A percentage is told only where it serves the year, by the month's own.
func TestPercentIsToldWhereItServes(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	prog.Year.Percent.ByMonth[3] = 45
	if n, ok := MonthPercent(p, prog, 3); !ok || n != 45 {
		t.Errorf("%d, %v", n, ok)
	}
	if _, ok := MonthPercent(p, prog, 0); ok {
		t.Error("of a month in which nothing is needed")
	}
	prog.Year.Percent.Serves = false
	if n, ok := MonthPercent(p, prog, 3); ok {
		t.Errorf("one that does not serve the year is told: %d", n)
	}
	if n, ok := InsteadPercent(p, prog, 3); ok {
		t.Errorf("of a program that does not fit: %d", n)
	}
	prog.Year.Months[prog.Year.Peak].Fits = true
	if n, ok := InsteadPercent(p, prog, 3); !ok || n != 45 {
		t.Errorf("instead of programs by month: %d, %v", n, ok)
	}
	if _, ok := InsteadPercent(p, prog, 0); ok {
		t.Error("instead, of a month in which nothing is needed")
	}
	prog.Year.Percent.ByMonth[4] = 105
	if n, ok := InsteadPercent(p, prog, 3); ok {
		t.Errorf("a program that is short in another month may be turned: %d", n)
	}
	prog.Year.Percent.ByMonth[4], prog.Year.Percent.Serves = 45, true
	if n, ok := InsteadPercent(p, prog, 3); ok {
		t.Errorf("what serves is told as something else: %d", n)
	}
}

// Without a climate the calendar goes through a year of days, whichever it begins on, and
// not a day further.
func TestTheCalendarOfAYearEndsWithIt(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	prog.Asked.PeakOnly = true
	for from := time.Date(2026, 5, 11, 0, 0, 0, 0, time.UTC); from.Day() < 18; from = from.AddDate(0, 0, 1) {
		var b bytes.Buffer
		if err := ProgramCalendar(&b, p, prog, "", from.Format(time.DateOnly)); err != nil {
			t.Fatal(err)
		}
		last := time.Time{}
		for _, e := range readCalendar(t, b.String())[1:] {
			for _, at := range e.times(t) {
				if last.Before(at) {
					last = at
				}
			}
		}
		if end := from.AddDate(1, 0, 0); !last.Before(end) || last.Before(end.AddDate(0, 0, -4)) {
			t.Errorf("from %s to %s", from, last)
		}
	}
}
