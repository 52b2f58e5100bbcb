package plan

import "testing"

// Hours over midnight, round the clock, and not both named.
func TestHoursOfWatering(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		start, end  string
		from, until int
		named       bool
	}{
		{"22:00", "06:00", 1320, 1800, true},
		{"04:30", "06:00", 270, 360, true},
		{"05:00", "05:00", 300, 1740, true},
		{"00:00", "23:59", 0, 1439, true},
		{"22:00", "", 0, 0, false},
		{"", "06:00", 0, 0, false},
		{"", "", 0, 0, false},
	} {
		from, until, named := Watering{StartHHMM: c.start, EndHHMM: c.end}.Hours()
		if from != c.from || until != c.until || named != c.named {
			t.Errorf("%q to %q: %d to %d, %v", c.start, c.end, from, until, named)
		}
	}
}

func TestDaysAWeek(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w    Watering
		days float64
	}{{Watering{}, 0}, {Watering{Days: []string{"mon", "thu"}}, 2}, {Watering{Every: 1}, 7}, {Watering{Every: 2}, 3.5}, {Watering{Every: 14}, 0.5}} {
		if got := c.w.DaysAWeek(); got != c.days {
			t.Errorf("%+v: %g", c.w, got)
		}
	}
}
