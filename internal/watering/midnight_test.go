package watering

import (
	"context"
	"reflect"
	"testing"
)

// Where hours run past midnight and all programs of a month are through between midnight
// and the end, they begin at midnight; elsewhere they begin with the hours. The hours are
// kept, no program runs into that of the next day, and minutes are those of hours as long
// that do not run past midnight.
func TestProgramsBeginAtMidnightWhereTheyFitAfterIt(t *testing.T) {
	t.Parallel()
	at := map[bool]int{}
	for seed := range uint64(24) {
		in := yard(seed, 3+int(seed%4), 30, week([]string{"xxxxxxx", "xx.x.x.", "x.x.x.x"}[seed%3]))
		in.Calendar.From = 60 * (12 + int(seed%12))
		in.Calendar.Until = in.Calendar.From + 60*(6+int(seed%19))
		if seed%4 == 0 {
			in.Calendar.Together, in.Calendar.Flow = true, 20
		}
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		c, length := in.Calendar, 0
		for _, p := range m.Programs {
			length = max(length, p.Ends-p.Steps[0].From)
		}
		small := c.Until > aDay && length <= c.Until-aDay
		at[small]++
		from, until := c.From, c.Until
		if small {
			from, until = 0, c.Until-aDay
		}
		if got := m.Begins(); got != from {
			t.Errorf("seed %d: hours from %d to %d, %d min long: begins at %d", seed, c.From, c.Until, length, got)
		}
		if m.bound(Hours) {
			continue
		}
		runs := make([]int, len(c.Days)*aDay) // by minute: the day whose stations run
		for _, p := range m.Programs {
			for _, s := range p.Steps {
				if s.From < from || s.Until > until || s.Until > p.Ends {
					t.Errorf("seed %d: runs from %d to %d, hours from %d to %d", seed, s.From, s.Until, from, until)
				}
				for _, d := range p.Days {
					for minute := s.From; minute < s.Until; minute++ {
						on := &runs[(d*aDay+minute)%(len(c.Days)*aDay)]
						if *on != 0 && *on != d+1 {
							t.Fatalf("seed %d: stations of day %d run into day %d", seed, *on-1, d)
						}
						*on = d + 1
					}
				}
			}
		}
		same := *in
		same.Calendar.From, same.Calendar.Until = 0, c.window()
		other, err := Plan(context.Background(), &same, 6)
		if err != nil {
			t.Fatal(err)
		}
		if other.Gallons != m.Gallons || len(other.Programs) != len(m.Programs) {
			t.Fatalf("seed %d: %g gallons and %d programs, %g and %d by hours as long", seed, float64(m.Gallons), len(m.Programs), float64(other.Gallons), len(other.Programs))
		}
		for i, p := range m.Programs {
			if !reflect.DeepEqual(p.Runs, other.Programs[i].Runs) {
				t.Errorf("seed %d: program %d is %v, %v by hours as long", seed, i, p.Runs, other.Programs[i].Runs)
			}
		}
	}
	if at[true] < 3 || at[false] < 3 {
		t.Errorf("%d begin at midnight, %d do not", at[true], at[false])
	}
}
