package watering

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// cycle is a calendar of any length: one day of so many, or some of a fortnight.
func cycle(seed uint64) []bool {
	if seed%4 > 0 {
		return every(1 + int(seed/4)%7)
	}
	rng := rand.New(rand.NewPCG(seed, 21))
	days := make([]bool, []int{3, 5, 10, 14}[rng.IntN(4)])
	for d := range days {
		days[d] = d == 0 || rng.IntN(2) == 0
	}
	return days
}

// Calendars that are no week are kept, replayed and told as a week's are.
func TestCyclesOfAnyLength(t *testing.T) {
	t.Parallel()
	fit := 0
	for seed := range uint64(32) {
		in := yard(seed+300, 3, 24, cycle(seed))
		in.Calendar.Until = in.Calendar.From + 24*60
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		gallons, fits := 0.0, true
		for month, m := range y.Months {
			if m == nil {
				continue
			}
			gallons += float64(m.Gallons * in.cycles(month))
			fits = fits && m.Fits
			if m.Fits {
				checkReplay(t, in, m)
			}
			for _, b := range m.Binds {
				if strings.Contains(b.Says, "day 1 of") || strings.Contains(b.Says, "Monday") && len(in.Calendar.Days)%7 != 0 {
					t.Errorf("seed %d: %q", seed, b.Says)
				}
			}
			for _, p := range m.Programs {
				for _, d := range p.Days {
					if DayName(d, len(in.Calendar.Days)) == "" {
						t.Errorf("seed %d: day %d has no name", seed, d)
					}
				}
			}
		}
		if diff := gallons - float64(y.Gallons); diff > 1e-6*gallons || -diff > 1e-6*gallons {
			t.Errorf("seed %d: %g gallons of the months, %g of the year", seed, gallons, float64(y.Gallons))
		}
		if !fits {
			continue
		}
		fit++
		for _, w := range y.SoilWater(in) {
			for d, day := range w.Days {
				if day.Below > w.May[day.Month]+seam(in, w.Area, day) {
					t.Errorf("seed %d, %d days, area %d, day %d: %.4f in below full, %.4f may be", seed, len(in.Calendar.Days), w.Area, d, float64(day.Below), float64(w.May[day.Month]))
				}
			}
		}
	}
	if fit < 5 {
		t.Errorf("only %d fit", fit)
	}
}

func TestDaysByTheirNames(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		day, of int
		want    string
	}{{0, 7, "Monday"}, {6, 7, "Sunday"}, {8, 14, "Tuesday of week 2"}, {0, 1, "day 1 of 1"}, {2, 5, "day 3 of 5"}} {
		if got := DayName(c.day, c.of); got != c.want {
			t.Errorf("%d of %d is %q", c.day, c.of, got)
		}
	}
	for days, want := range map[string]int{"x": 1, "x..": 3, "x......": 0, "x.x..": 0} {
		if got := (Calendar{Days: week(days)}).Every(); got != want {
			t.Errorf("%s: every %d days", days, got)
		}
	}
}

// wider is an input with what an ease gives.
func wider(in *Input, e Ease) *Input {
	other := *in
	other.Calendar.Days = append([]bool(nil), in.Calendar.Days...)
	for _, d := range e.Days {
		other.Calendar.Days[d] = true
	}
	if e.Every > 0 {
		other.Calendar.Days = every(e.Every)
	}
	other.Calendar.Until += e.Minutes
	other.Calendar.Together = other.Calendar.Together || e.Side
	other.Controller.Soaks = other.Controller.Soaks || e.Soaks
	return &other
}

// What is said to make a program fit does, asked anew with it; what only helps is said to
// be not enough; and something is offered where hours or days are what is missing.
func TestEasesDoWhatTheySay(t *testing.T) {
	t.Parallel()
	asked, kinds := 0, map[string]int{}
	for seed := range uint64(60) {
		in := yard(seed+500, 3+int(seed%3), 20, week([]string{"x..x...", "x.x.x..", "x......", "x...", "x.."}[seed%5]))
		in.Calendar.Until = in.Calendar.From + 60 + int(seed%8)*60
		in.Calendar.Flow, in.Controller.Starts = 20, 4
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		if m.Fits && len(m.Eases) > 0 {
			t.Errorf("seed %d: it fits, and is eased by %+v", seed, m.Eases)
		}
		if m.bound(Hours) && m.Over+in.Calendar.window() <= 24*60 && len(m.Eases) == 0 {
			t.Errorf("seed %d: %d minutes over, and nothing is offered", seed, m.Over)
		}
		for _, e := range m.Eases {
			asked++
			for kind, is := range map[string]bool{"every": e.Every > 0, "days": len(e.Days) > 0, "hours": e.Minutes > 0, "side": e.Side, "soaks": e.Soaks} {
				if is {
					kinds[kind]++
				}
			}
			if e.Fits == strings.Contains(e.Says, "not enough") || (e.Day >= 0) != (len(e.Days) == 1) {
				t.Errorf("seed %d: fits %v, day %d: %q", seed, e.Fits, e.Day, e.Says)
			}
			if !e.Fits {
				continue
			}
			n, err := Plan(context.Background(), wider(in, e), 6)
			if err != nil {
				t.Fatal(err)
			}
			if !n.Fits {
				t.Errorf("seed %d: %q, and it does not fit: %+v", seed, e.Says, n.Binds)
			}
			// Of a cycle of the calendar as it is; sought less thoroughly.
			if got, want := float64(e.Gallons), float64(n.Gallons)*float64(len(in.Calendar.Days))/float64(len(wider(in, e).Calendar.Days)); got < .9*want || got > 1.1*want {
				t.Errorf("seed %d: %q takes %.0f gallons, told %.0f", seed, e.Says, want, got)
			}
			until := in.Calendar.Until + e.Minutes
			if e.Minutes > 0 && !strings.Contains(e.Says, fmt.Sprintf("to %02d:%02d.", until/60%24, until%60)) {
				t.Errorf("seed %d: %q, until %d", seed, e.Says, until)
			}
		}
	}
	for _, kind := range []string{"every", "days", "hours", "side", "soaks"} {
		if kinds[kind] == 0 {
			t.Errorf("none of %d eases was of %s: %v", asked, kind, kinds)
		}
	}
	t.Logf("%d eases, %v", asked, kinds)
}
