package watering

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"evenfall/internal/climate"
	"evenfall/internal/units"
)

// buckets plays every quarter of an area of eight cells, which is two of them, as a
// bucket of its own through the year, by what the programs print alone. It gives how far
// the furthest is below full at the end of each day.
func buckets(in *Input, y *Year, area int) (below [365]float64) {
	a := &in.Areas[area]
	field := 1.0
	if a.FieldDU > 0 {
		field = 60 * in.fields()[area].factor
	}
	for one := range 8 {
		for two := range one {
			lost, at := 0.0, 0
			for month, days := range climate.Days {
				for range days {
					got := 0.0
					if m := y.Months[month]; m != nil {
						for _, p := range m.Programs {
							for _, d := range p.Days {
								for _, r := range p.Runs {
									if rates := a.Rates[r.Zone]; d == at%len(in.Calendar.Days) && rates != nil {
										got += float64(r.Minutes) / 60 * field * float64(rates[one]+rates[two]) / 2
									}
								}
							}
						}
					}
					lost = min(max(0, lost-got)+float64(a.Need[month]), float64(a.Holds))
					below[at] = max(below[at], lost)
					at++
				}
			}
		}
	}
	return below
}

func TestSoilWaterIsThatOfTheFurthestQuarter(t *testing.T) {
	t.Parallel()
	past := 0
	for seed := range uint64(12) {
		in := yard(seed+900, 4, 8, week([]string{"x.x.x..", "xxxxxxx", "x..x..x"}[seed%3]))
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

func BenchmarkSoilWaterOf8Zones(b *testing.B) {
	in := yard(7, 8, 600, week("xxxxxxx"))
	y, err := PlanYear(context.Background(), in, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		y.SoilWater(in)
	}
}
