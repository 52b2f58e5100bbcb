package watering

import (
	"context"
	"math/rand/v2"
	"os"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

// weather is a made-up year by its temperatures: so warm and so wet, north or south.
func weather(t *testing.T, seed uint64) climate.Year {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 71))
	latitude := 20 + 30*rng.Float64()
	warmest := 6.5
	if rng.IntN(4) == 0 {
		latitude, warmest = -latitude, 0.5
	}
	mean, swing := 8+14*rng.Float64(), 3+9*rng.Float64()
	var high, low [12]float64
	var rain [12]units.Inches
	for m := range high {
		away := min(abs(float64(m)-warmest), 12-abs(float64(m)-warmest))
		at := mean + swing*(1-away/3)
		high[m], low[m] = at+4+4*rng.Float64(), at-4-4*rng.Float64()
		rain[m] = units.Inches(4 * rng.Float64() * rng.Float64())
	}
	y, err := climate.ByTemperatures(latitude, high, low, rain)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

func abs(v float64) float64 { return max(v, -v) }

// By random yards and random weather, whatever is said to fit keeps every soil within
// what it may lose and every ground within what it takes in, by simulators that share
// nothing with the solver; the year's soil water says the same; gallons are equal.
func TestRandomYardsAndWeather(t *testing.T) {
	t.Parallel()
	most := uint64(16)
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		most = 200
	}
	months, years := 0, 0
	for seed := range most {
		in := yard(seed+700, 3+int(seed%4), 24, cycle(seed*3))
		if seed%2 == 0 {
			in.Calendar.Days = week([]string{"xxxxxxx", "x.x.x.x"}[seed/2%2])
		}
		in.Calendar.Until = in.Calendar.From + 24*60
		in.Target = []Target{Quarter, Half, Mean}[seed%3]
		climates := weather(t, seed)
		for i := range in.Areas {
			factor := units.Ratio(.4 + .1*float64((int(seed)+i)%6))
			for m, by := range climates.Months {
				rain, err := climate.RainByShare(by.Rain, by.ET*units.Inches(factor), .25)
				if err != nil {
					t.Fatal(err)
				}
				in.Areas[i].Need[m] = Need(by.ET, rain, factor, climate.Days[m])
			}
		}
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		fits := true
		for _, m := range y.Months {
			if m == nil {
				continue
			}
			fits = fits && m.Fits
			if m.Fits {
				months++
				checkReplay(t, in, m)
			}
		}
		if !fits {
			continue
		}
		years++
		for i, w := range y.SoilWater(in) {
			for d, day := range w.Days {
				if day.Below > w.May[day.Month]+seam(in, w.Area, day) {
					t.Errorf("seed %d, area %d, day %d: %.4f in below full, %.4f may be", seed, i, d, float64(day.Below), float64(w.May[day.Month]))
				}
			}
		}
	}
	if months < int(most)*4 || years < int(most)/4 {
		t.Errorf("only %d months and %d years fit", months, years)
	}
}

// Turned down by its percentage the peak's program keeps every soil of each month, by the
// simulator of the cells.
func TestPercentKeepsEveryMonth(t *testing.T) {
	t.Parallel()
	served := 0
	for seed := range uint64(8) {
		in := yard(seed+60, 4, 32, week("x.xx.x."))
		in.Calendar.Until = in.Calendar.From + 24*60
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		peak := y.Months[y.Peak]
		if !peak.Fits {
			continue
		}
		for month, m := range y.Months {
			percent := y.Percent.ByMonth[month]
			if m == nil || percent > 100 {
				continue
			}
			served++
			minutes := make([][]float64, len(in.Calendar.Days))
			for d := range minutes {
				minutes[d] = make([]float64, len(in.Zones))
				for z := range in.Zones {
					minutes[d][z] = float64(minutesOf(peak, z)[d]) * float64(percent) / 100
				}
			}
			of := *peak
			of.Month = month
			for i := range in.Areas {
				replayArea(t, in, &of, i, minutes)
			}
		}
	}
	if served < 20 {
		t.Errorf("only %d months served", served)
	}
}
