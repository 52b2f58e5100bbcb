package watering

import (
	"context"
	"testing"
)

func TestYear(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		in := yard(seed+40, 6, 60, week("xxxxxxx"))
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for month, m := range y.Months {
			if m == nil {
				if in.needs(month) {
					t.Errorf("seed %d: no program for month %d", seed, month)
				}
				continue
			}
			if m.Fits {
				checkReplay(t, in, m)
			}
			if y.Percent.ByMonth[month] < 5 || y.Percent.Serves && y.Percent.ByMonth[month] > 100 {
				t.Errorf("seed %d: month %d at %d %%", seed, month, y.Percent.ByMonth[month])
			}
		}
		if y.Percent.ByMonth[y.Peak] > 100 {
			t.Errorf("seed %d: the peak program does not serve its own month", seed)
		}
	}
	in := yard(1, 2, 10, week("xxxxxxx"))
	for i := range in.Areas {
		in.Areas[i].Need = steady(0)
	}
	if y, err := PlanYear(context.Background(), in, nil); err != nil || y.Gallons != 0 || y.Peak != -1 {
		t.Errorf("%+v, %v", y, err)
	}
}

func TestRefusesInSentences(t *testing.T) {
	t.Parallel()
	for i, spoil := range []func(*Input){
		func(in *Input) { in.Calendar.Days = nil },
		func(in *Input) { in.Calendar.Days = week(".......") },
		func(in *Input) { in.Calendar.Until = in.Calendar.From },
		func(in *Input) { in.Target = "all" },
		func(in *Input) { in.Zones[0].Flow = 0 },
		func(in *Input) { in.Calendar.Together = true },
		func(in *Input) { in.Zones[0].Own = []int{9} },
		func(in *Input) { in.Areas[0].Holds = 0 },
		func(in *Input) { in.Areas[0].Need[3] = -1 },
		func(in *Input) { in.Areas[0].Rates = in.Areas[0].Rates[:1] },
		func(in *Input) { in.Areas[0].Rates[1] = even(3, 1) },
	} {
		in := yard(2, 2, 10, week("xxxxxxx"))
		spoil(in)
		_, err := Plan(context.Background(), in, 6)
		if err == nil || len(err.Error()) < 20 {
			t.Errorf("%d: %v", i, err)
		}
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := PlanYear(stopped, yard(2, 2, 10, week("xxxxxxx")), nil); err == nil {
		t.Error("goes on when told to stop")
	}
	// Ground that nothing reaches is an answer.
	in := turf("xxxxxxx")
	in.Target = Quarter
	in.Areas[0].Rates[0] = append(even(60, 1), even(40, 0)...)
	if m, err := Plan(context.Background(), in, 6); err != nil || m.Fits || !m.bound(Reach) {
		t.Errorf("%v %+v", err, m)
	}
}

func BenchmarkYearOf8Zones(b *testing.B) {
	in := yard(7, 8, 600, week("xxxxxxx"))
	for b.Loop() {
		if _, err := PlanYear(context.Background(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// A fortnight whose days are each a program of their own would be the hardest; three
// programs are what controllers hold.
func Benchmark60ZonesOf14Days(b *testing.B) {
	days := append(week("xxxxxxx"), week("xxxxxxx")...)
	in := yard(7, 60, 200, days)
	in.Calendar.Until = in.Calendar.From + 24*60
	p := patterns(days, classes)[20]
	for b.Loop() {
		if _, err := questionOf(in, in.fields(), 6, p).solve(context.Background(), true); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMonthOf60Zones(b *testing.B) {
	in := yard(7, 60, 200, append(week("xxxxxxx"), week("xxxxxxx")...))
	for b.Loop() {
		if _, err := Plan(context.Background(), in, 6); err != nil {
			b.Fatal(err)
		}
	}
}

// The whole year of 60 zones on a fortnight, as a park has it; the aim is 5 s.
func BenchmarkYearOf60Zones(b *testing.B) {
	in := yard(7, 60, 200, append(week("xxxxxxx"), week("xxxxxxx")...))
	for b.Loop() {
		if _, err := PlanYear(context.Background(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
}
