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
