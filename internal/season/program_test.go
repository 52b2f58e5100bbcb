package season_test

import (
	"context"
	"testing"

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
// known; the aim is 300 ms.
func BenchmarkDemoYear(b *testing.B) {
	p := demo(b)
	p.Watering.ETZone, p.Watering.Turf = 12, "cool"
	known := even(p, 0.65)
	for b.Loop() {
		q, err := season.Ask(context.Background(), p, known, nil)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := watering.PlanYear(context.Background(), &q.Input, nil); err != nil {
			b.Fatal(err)
		}
	}
}
