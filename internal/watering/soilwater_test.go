package watering

import (
	"context"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

// buckets plays every part of an area of eight cells that is as large as its target says,
// two of them, four or all, as a bucket of its own through the year, by what the programs
// print alone. It gives how far the furthest is below full at the end of each day, and what
// the driest gets on it.
func buckets(in *Input, y *Year, area int) (below, got [365]float64) {
	a, field := &in.Areas[area], lessEven(in, area)
	many := int(shareOf(in.Target) * 8)
	var cells [][]float64 // by day
	for month, days := range climate.Days {
		for range days {
			cells = append(cells, depths(in, y, area, month, len(cells)))
		}
	}
	for part := range 1 << 8 {
		if bits.OnesCount(uint(part)) != many {
			continue
		}
		lost, at := 0.0, 0
		for month, days := range climate.Days {
			for range days {
				wet := 0.0
				for c, v := range cells[at] {
					wet += float64(part>>c&1) * v * field / float64(many)
				}
				if part == 1<<many-1 { // the first of them
					got[at] = wet
				}
				got[at] = min(got[at], wet)
				lost = min(max(0, lost-wet)+float64(a.Need[month]), float64(a.Holds))
				below[at] = max(below[at], lost)
				at++
			}
		}
	}
	return below, got
}

// depths is what the cells of an area get on a day of the year, inches.
func depths(in *Input, y *Year, area, month, at int) []float64 {
	wet := make([]float64, 8)
	run := func(p Program, times int) {
		for _, r := range p.Runs {
			for c, v := range in.Areas[area].Rates[r.Zone] {
				wet[c] += float64(times*r.Minutes) / 60 * float64(v)
			}
		}
	}
	if m := y.Months[month]; m != nil {
		for _, p := range m.Programs {
			if slices.Contains(p.Days, at%len(in.Calendar.Days)) {
				run(p, 1)
			}
		}
	}
	for next, m := range y.Months {
		if m != nil && m.Refill > 0 && fillsOn(in, next, at) {
			for _, p := range m.Programs {
				run(p, m.Refill)
			}
		}
	}
	return wet
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
		if peak := y.Months[y.Peak]; seed%3 > 0 { // filled before, once or twice
			peak.Refill = int(seed % 3)
		}
		for i, w := range y.SoilWater(in) {
			want, got := buckets(in, y, i)
			last, most, dry := time.Date(2025, 12, 31, 0, 0, 0, 0, time.UTC), 0.0, 0
			for d, day := range w.Days {
				if math.Abs(float64(day.Below)-want[d]) > 1e-6 || math.Abs(float64(day.Got)-got[d]) > 1e-6 {
					t.Fatalf("seed %d, area %d, day %d: %.6f in below full of %.6f got, the furthest part %.6f of %.6f", seed, i, d, float64(day.Below), float64(day.Got), want[d], got[d])
				}
				last = last.AddDate(0, 0, 1)
				if day.Month != int(last.Month())-1 || day.Day != last.Day() || day.Need != in.Areas[i].Need[day.Month] {
					t.Fatalf("seed %d, area %d, %s: %+v", seed, i, last.Format(time.DateOnly), day)
				}
				may := max(float64(in.Areas[i].Holds)*float64(in.Areas[i].Depleted), float64(day.Need))
				if math.Abs(float64(w.May[day.Month])-may) > 1e-9 {
					t.Fatalf("seed %d, area %d, month %d: %.4f may be, told %.4f", seed, i, day.Month, may, float64(w.May[day.Month]))
				}
				if most = max(most, want[d]); want[d] > may+1e-4 {
					dry++
				}
			}
			if math.Abs(float64(w.Most)-most) > 1e-6 || w.Past < dry || w.Past > dry+3 { // some are past it by a hair
				t.Errorf("seed %d, area %d: %.4f in below full at most on %d days past, told %.4f on %d", seed, i, most, dry, float64(w.Most), w.Past)
			}
			past += w.Past
		}
	}
	t.Logf("%d days past what the soil may lose", past)
}

// seam is how much further than it may an area may be below full on a day: what is not
// worth filling the soil for, and on the first days of a month what days of the month before needed more.
func seam(in *Input, area int, day DayWater) units.Inches {
	by := units.Inches(.05 + .01)
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
