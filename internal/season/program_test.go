package season_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"evenfall/internal/climate"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// Trade.md §6: at the week at peak the demo fits its nights on three days and not on
// two, and the hours are what binds.
func TestTheDemoFitsThreeDaysAndNotTwo(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		days []string
		fits bool
	}{{[]string{"mon", "wed", "fri"}, true}, {[]string{"mon", "thu"}, false}} {
		p := demo(t)
		p.Watering.Days = c.days
		q := ask(t, p)
		m, err := watering.Plan(context.Background(), &q.Input, 6)
		if err != nil {
			t.Fatal(err)
		}
		hours := false
		for _, b := range m.Binds {
			hours = hours || b.Limit == watering.Hours
		}
		if m.Fits != c.fits || hours == c.fits {
			t.Errorf("on %v it fits: %v, hours bind: %v (%+v)", c.days, m.Fits, hours, m.Binds)
		}
	}
}

// BenchmarkDemoYear is the demo's year in zone 12 of the public table, its evenness
// known, on its three days, on two, on each of seven and on one in three; the aim is 300
// ms.
func BenchmarkDemoYear(b *testing.B) {
	for name, change := range map[string]func(*plan.Watering){
		"three": func(*plan.Watering) {}, "two": func(w *plan.Watering) { w.Days = []string{"mon", "thu"} },
		"seven": func(w *plan.Watering) { w.Days = nil }, "one-in-three": func(w *plan.Watering) { w.Days, w.Every = nil, 3 },
		"drawn": func(*plan.Watering) {}, // three days, its evenness drawn
	} {
		b.Run(name, func(b *testing.B) {
			p := demo(b)
			p.Watering.ETZone, p.Watering.Turf = 12, "cool"
			change(&p.Watering)
			known := even(p, 0.65)
			if name == "drawn" {
				known = nil
			}
			for b.Loop() {
				if _, err := season.Work(context.Background(), p, known, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// One day in so many: the calendar is that cycle, the program comes to what the week's
// comes to by the day, and days far apart are told by the soil.
func TestOneDayInSoMany(t *testing.T) {
	t.Parallel()
	work := func(change func(*plan.Watering)) *season.Program {
		p := demo(t)
		p.Watering.Days = nil
		change(&p.Watering)
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		return prog
	}
	daily := work(func(*plan.Watering) {})
	for _, every := range []int{1, 2, 3, 5, 14} {
		prog := work(func(w *plan.Watering) { w.Every = every })
		days := prog.Asked.Input.Calendar.Days
		if len(days) != every || !days[0] || len(days) > 1 && days[1] {
			t.Fatalf("one in %d: %v", every, days)
		}
		for _, note := range prog.Asked.Notes {
			if strings.Contains(note, "No days are named") {
				t.Errorf("one in %d: %q", every, note)
			}
		}
		m := prog.Year.Months[prog.Year.Peak]
		soil := slices.ContainsFunc(m.Binds, func(b watering.Bind) bool { return b.Limit == watering.Soil })
		if soil != (every > 3) { // .71 in of turf at .2 in a day
			t.Errorf("one in %d: %+v", every, m.Binds)
		}
		if !soil {
			near(t, "water of a year", float64(prog.Year.Gallons), float64(daily.Year.Gallons), 0.06*float64(daily.Year.Gallons))
		}
		for _, p := range m.Programs {
			if len(p.Days) != 1 || p.Days[0] != 0 {
				t.Errorf("one in %d: program on %v", every, p.Days)
			}
		}
	}
}

// BenchmarkMinutesOf is the chains of all zones of the demo.
func BenchmarkMinutesOf(b *testing.B) {
	p := demo(b)
	p.Watering.ETZone = 12
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for _, z := range prog.Asked.Input.Zones {
			if season.MinutesOf(prog, plan.ID(z.ID), prog.Year.Peak) == nil {
				b.Fatal(z.Name)
			}
		}
	}
}

// BenchmarkKeepWeather keeps a year of days.
func BenchmarkKeepWeather(b *testing.B) {
	var text strings.Builder
	text.WriteString("date,tmax_c,tmin_c,rain_mm\n")
	for day := time.Date(2023, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2023; day = day.AddDate(0, 0, 1) {
		fmt.Fprintf(&text, "%s,26.6,14.8,1\n", day.Format("2006-01-02"))
	}
	p, file := atLyon(b), climate.ReadWeather(strings.NewReader(text.String()))
	for b.Loop() {
		if _, _, err := season.KeepWeather(p, file); err != nil {
			b.Fatal(err)
		}
	}
}

// The work tells parts done that never fall and end with all, drawn or not, and heeds a
// stop wherever it comes.
func TestWorkTellsHowFarItIs(t *testing.T) {
	t.Parallel()
	p := demo(t)
	for name, known := range map[string][]coverage.Estimate{"drawn": nil, "known": even(p, 0.65)} {
		last, told := -1, 0
		_, err := season.Work(context.Background(), p, known, func(done, total int) {
			if done < last || done > total || total != 1000 {
				t.Errorf("%s: %d of %d after %d", name, done, total, last)
			}
			last, told = done, told+1
		})
		if err != nil || last != 1000 || told < 10 {
			t.Errorf("%s: told %d times, at last %d, %v", name, told, last, err)
		}
		ctx, cancel := context.WithCancel(context.Background())
		_, err = season.Work(ctx, p, known, func(done, _ int) {
			if done > 700 {
				cancel()
			}
		})
		cancel()
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s: stopped at 700: %v", name, err)
		}
	}
}
