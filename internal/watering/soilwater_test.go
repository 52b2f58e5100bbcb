package watering

import (
	"context"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

// buckets plays every part of an area of eight cells that is as large as its target says,
// two of them, four or all, as a bucket of its own through the year, by what the programs
// print alone. It gives how far the furthest is below full at the end of each day.
func buckets(in *Input, y *Year, area int) (below [365]float64) {
	a, field := &in.Areas[area], lessEven(in, area)
	many := int(shareOf(in.Target) * 8)
	for part := range 1 << 8 {
		if bits.OnesCount(uint(part)) != many {
			continue
		}
		mean := func(zone int) (sum float64) {
			for c, v := range a.Rates[zone] {
				sum += float64(part>>c&1) * float64(v) / float64(many)
			}
			return sum * field / 60
		}
		lost, at := 0.0, 0
		for month, days := range climate.Days {
			for range days {
				got := 0.0
				if m := y.Months[month]; m != nil {
					for _, p := range m.Programs {
						if slices.Contains(p.Days, at%len(in.Calendar.Days)) {
							for _, r := range p.Runs {
								got += float64(r.Minutes) * mean(r.Zone)
							}
						}
					}
				}
				for next, m := range y.Months {
					if m == nil || m.Refill == 0 || !fillsOn(in, next, at) {
						continue
					}
					for _, p := range m.Programs {
						for _, r := range p.Runs {
							got += float64(m.Refill*r.Minutes) * mean(r.Zone)
						}
					}
				}
				lost = min(max(0, lost-got)+float64(a.Need[month]), float64(a.Holds))
				below[at] = max(below[at], lost)
				at++
			}
		}
	}
	return below
}

// fillsOn reports whether a day is the last that allows water up to the first of a month.
func fillsOn(in *Input, month, at int) bool {
	first := 0
	for _, n := range climate.Days[:month] {
		first += n
	}
	for d := at + 1; d <= first; d++ {
		if in.Calendar.Days[d%len(in.Calendar.Days)] {
			return false
		}
	}
	return at == 0 || at <= first && in.Calendar.Days[at%len(in.Calendar.Days)]
}

func TestSoilWaterIsThatOfTheFurthestQuarter(t *testing.T) {
	t.Parallel()
	past := 0
	for seed := range uint64(12) {
		in := yard(seed+900, 4, 8, week([]string{"x.x.x..", "xxxxxxx", "x..x..x"}[seed%3]))
		in.Target = []Target{Quarter, Half, Mean, Quarter}[seed%4]
		in.Calendar.Until = in.Calendar.From + 24*60
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range y.SoilWater(in) {
			want := buckets(in, y, i)
			for d, day := range w.Days {
				if math.Abs(float64(day.Below)-want[d]) > 1e-6 {
					t.Fatalf("seed %d, area %d, day %d: %.6f in below full, the furthest quarter %.6f", seed, i, d, float64(day.Below), want[d])
				}
			}
			past += w.Past
		}
	}
	t.Logf("%d days past what the soil may lose", past)
}

// seam is how much further than it may an area may be below full on a day: what is not
// worth filling the soil for, and on the first days of a month what days of the month before needed more.
func seam(in *Input, area int, day DayWater) units.Inches {
	by := units.Inches(refillFrom + .01)
	if n := len(in.Calendar.Days); day.Day <= n {
		before := in.Areas[area].Need[(day.Month+11)%12]
		by += max(0, before-day.Need) * units.Inches(n)
	}
	return by
}

// In a year whose months all fit no soil is further below full than it may be on any day,
// also where one month's days meet another's; programs run once more are told.
func TestSoilWaterOfYardsThatFit(t *testing.T) {
	t.Parallel()
	fit, refilled := 0, 0
	for seed := range uint64(16) {
		in := yard(seed+40, 5, 60, week([]string{"xxxxxxx", "xxx.xx."}[seed%2]))
		in.Calendar.Until = in.Calendar.From + 24*60
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		fits := true
		for _, m := range y.Months {
			fits = fits && (m == nil || m.Fits)
			if m != nil && (m.Refill > 0) != (m.RefillGallons > 0 && m.RefillSays != "") {
				t.Errorf("seed %d, month %d: %d refills of %g gallons, %q", seed, m.Month, m.Refill, float64(m.RefillGallons), m.RefillSays)
			}
			if m != nil {
				refilled += m.Refill
			}
		}
		if !fits {
			continue
		}
		fit++
		for i, w := range y.SoilWater(in) {
			for d, day := range w.Days {
				if day.Below > w.May[day.Month]+seam(in, w.Area, day) {
					t.Errorf("seed %d, area %d, day %d: %.4f in below full, %.4f may be", seed, i, d, float64(day.Below), float64(w.May[day.Month]))
				}
			}
		}
	}
	if fit < 8 || refilled == 0 {
		t.Errorf("%d yards fit, %d refills", fit, refilled)
	}
	t.Logf("%d fit, %d refills", fit, refilled)
}

// Ground that gets less than it needs dries out, and no further than it holds.
func TestSoilWaterDriesOut(t *testing.T) {
	t.Parallel()
	in := turf("x.x.x..")
	in.Target = Quarter
	rng := rand.New(rand.NewPCG(5, 5))
	for c := range in.Areas[0].Rates[0] {
		in.Areas[0].Rates[0][c] = float32(rng.IntN(2)) // a half is dry
	}
	y, err := PlanYear(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := y.SoilWater(in)[0]
	last := units.Inches(0)
	for d, day := range w.Days {
		if day.Below < last || day.Below > in.Areas[0].Holds {
			t.Fatalf("day %d: %.3f in below full after %.3f", d, float64(day.Below), float64(last))
		}
		last = day.Below
	}
	if last != in.Areas[0].Holds || w.Past < 350 {
		t.Errorf("%.3f in below full at the end, %d days past", float64(last), w.Past)
	}
}
