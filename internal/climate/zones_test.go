package climate

import (
	"math"
	"testing"
)

// Each figure of the table is days times a whole hundredth of an inch a day, and the
// years come to the printed sums.
func TestZoneTableIsWhole(t *testing.T) {
	t.Parallel()
	sums := [Zones]float64{32.92, 39.01, 46.31, 46.62, 43.91, 49.68, 43.33, 49.42, 55.14, 49.12, 53.05, 53.37, 54.30, 57.04, 57.94, 62.51, 66.47, 71.61}
	for z := range Zones {
		y, err := OfZone(z + 1)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for m, month := range y.Months {
			sum += float64(month.ET)
			days := float64(Days[m])
			// February is reckoned with 28 days in all zones.
			if rate := float64(month.ET) / days * 100; math.Abs(rate-math.Round(rate)) > 0.02 {
				t.Errorf("zone %d, month %d: %g in is %g hundredths a day", z+1, m+1, month.ET, rate)
			}
		}
		near(t, "sum of a zone", sum, sums[z], .006)
	}
	for _, z := range []int{0, Zones + 1, -1} {
		if _, err := OfZone(z); err == nil {
			t.Errorf("zone %d is taken", z)
		}
	}
}
