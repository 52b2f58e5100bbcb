package watering

import (
	"context"
	"testing"
)

// Where each month is keyed in by itself, cool months run on fewer days than the peak,
// for hardly more water than on all of its days, and no soil dries further than it may.
func TestCoolMonthsAreWateredSeldom(t *testing.T) {
	t.Parallel()
	fewer := 0
	for seed := range uint64(8) {
		in := yard(seed+300, 4, 40, week("x.x.x.."))
		for i := range in.Areas {
			in.Areas[i].Holds *= 2
		}
		held, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		in.Controller.Percent = false
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for month, m := range y.Months {
			if m == nil || !m.Fits || len(m.Programs) != 1 {
				continue
			}
			checkReplay(t, in, m)
			if month == y.Peak {
				continue
			}
			n, all := len(m.Programs[0].Days), held.Months[month]
			if held.Percent.Serves && m.Begins() > all.Begins() {
				t.Errorf("seed %d, month %d: begins at %d, on all days at %d", seed, month, m.Begins(), all.Begins())
			}
			if held.Percent.Serves && len(all.Programs) == 1 && n < len(all.Programs[0].Days) {
				fewer++
				if m.Gallons > all.Gallons*(1+near) {
					t.Errorf("seed %d, month %d: %.0f gallons on %d days, %.0f on all", seed, month, m.Gallons, n, all.Gallons)
				}
			}
		}
	}
	if fewer < 5 {
		t.Errorf("only %d months on fewer days", fewer)
	}
}
