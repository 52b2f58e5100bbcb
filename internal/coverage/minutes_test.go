package coverage

import (
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// By the published form a valve runs 60·need/rate minutes where the water is
// perfectly even, and by 1/(0.4 + 0.6 DU) longer where it is not.
func TestMinutesOfAWeek(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		need units.Inches
		rate units.InchesPerHour
		du   units.Ratio
		want float64
	}{
		{1.4, 1.4, 1, 60}, {1.4, 0.7, 1, 120}, {1, 0.5, 0.5, 120 / 0.7}, {1, 1, 0, 150}, {1, 1, 2, 60}, {1, 0, 0.8, 0},
		{1.4, 1.6, PublishedDU(catalog.Spray), 52.5 / 0.694}, {1.4, 0.5, PublishedDU(catalog.Stream), 168 / 0.73},
	} {
		if got := WeekMinutes(c.need, c.rate, c.du); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: %g", c, got)
		}
	}
	if PublishedDU(catalog.Strip) != PublishedDU(catalog.Spray) || PublishedDU(catalog.Rotor) != PublishedDU(catalog.Stream) {
		t.Error("strips are not as sprays, or streams not as rotors")
	}
}
