package audit

import (
	"math"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/watering"
)

// What is worked out from catches in print, by the ids of reference/agronomy.md (b), (c)
// and (g): b-5 Irrigation Notes 880106; b-8 a course page, Design considerations; b-10 a
// paper on pivots in Michigan; c-1 the auditors' worksheet (Irrigation Association); c-7
// the same method as practitioners state it; c-8 from memory; g-4 City of Fort Collins.
func TestWorkedFromCatches(t *testing.T) {
	t.Parallel()

	// b-5: of a mean of 10, cans of 8 and 12 are off by 2 and 2, of 8 and 14 by 2 and 4.
	// CU takes how far they are off, not the square of it.
	for _, c := range []struct{ a, b, off float64 }{{8, 12, 2 + 2}, {8, 14, 2 + 4}} {
		f := figures(t, []float64{c.a, c.b, 20 - (c.a+c.b)/2, 20 - (c.a+c.b)/2})
		rest := math.Abs(10 - (c.a+c.b)/2) // the two cans that bring the mean to 10
		near(t, "b-5, mean", f.Mean, 10, 1e-12)
		near(t, "b-5, off the mean in all", (1-float64(f.CU))*f.Mean*4, c.off+2*rest, 1e-12)
	}

	// b-8 as it is printed, to one decimal: 12 over 7 is 1.7, and 9 mm a day at 12 mm/h by
	// that 1.3 hours.
	sc := float64(figures(t, []float64{7, 12, 17}).SC)
	near(t, "b-8, printed coefficient", math.Round(10*sc)/10, 1.7, 1e-12)
	near(t, "b-8, printed hours", math.Round(10*9.0/12*sc)/10, 1.3, 1e-12)
	near(t, "b-8, hours by the printed coefficient", 9.0/12*math.Round(10*sc)/10, 1.275, 1e-12)

	// b-10: four cans that have a printed CU and DU have the SC printed beside them.
	for _, c := range []struct{ cu, du, sc float64 }{{0.78, 0.77, 1.3}, {0.89, 0.82, 1.2}, {0.73, 0.62, 1.6}, {0.91, 0.84, 1.2}} {
		f := figures(t, []float64{c.du, 2*c.cu - c.du, 2 - c.cu, 2 - c.cu})
		near(t, "b-10, CU", float64(f.CU), c.cu, 1e-12)
		near(t, "b-10, DU", float64(f.DULowQuarter), c.du, 1e-12)
		near(t, "b-10, SC as printed", math.Round(10*float64(f.SC))/10, c.sc, 1e-12)
	}

	// c-1, field by field, on the 16 cans of b-c1: 560 ml in all, 92 ml in the four lowest.
	var cans []float64
	for v := 20.0; v <= 50; v += 2 {
		cans = append(cans, v)
	}
	f := figures(t, cans)
	near(t, "c-1, total catch", f.Total, 560, 1e-12)
	near(t, "c-1, total of the low quarter", f.LowQuarterMean*float64(f.N)/4, 92, 1e-12)
	near(t, "c-1, DU", float64(f.DULowQuarter), (92.0/4)/(560.0/16), 1e-12)
	rate, err := Rate(f.Mean, 12, 16.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "c-1, net rate by the printed factor", float64(rate), 3.66*35/(12*16.5), 5e-4)

	// c-7 on the cone of b-1: one over its low half is 1.251, longer than c-6 makes of its
	// low quarter, as the low half that c-6 and c-8 guess from that is too good (.8485, .845).
	cone := figures(t, cones(1, 1.4, false, 280))
	near(t, "c-7", watering.Multiplier(cone.DULowHalf, watering.Quarter), 1/0.7995, 2e-3)
	near(t, "c-6 of b-1", 1/coverage.RunTimeMultiplier(cone.DULowQuarter), 0.8485, 1e-3)
	for name, guess := range map[string]float64{"c-6": 1 / coverage.RunTimeMultiplier(cone.DULowQuarter), "c-8": 0.386 + 0.614*float64(cone.DULowQuarter)} {
		if guess < float64(cone.DULowHalf)+0.04 {
			t.Errorf("%s guesses a low half of %.4f, and it is %.4f", name, guess, float64(cone.DULowHalf))
		}
	}

	// g-4, on the cans of b-3: an inch and a half a week at their 1.0 in/h takes 90 minutes.
	hourly, err := RateOfDepth(2.0/8, 15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "g-4", 60*1.5/float64(hourly), 90, 1e-12)
}
