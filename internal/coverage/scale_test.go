package coverage_test

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"time"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// field is a lawn with so many heads in each direction, so far apart, each a
// full circle of 10 ft.
func field(across, up int, apart float64) lot {
	l := newLot(float64(across)*apart, float64(up)*apart)
	for i := range across {
		for j := range up {
			l.head("spray-10-f", "body-4-reg", (float64(i)+0.5)*apart, (float64(j)+0.5)*apart, 0, 360)
		}
	}
	return l
}

// BenchmarkCheckBySize is the findings of lawns of four times the heads each:
// "times" is how many times as long the next takes, 4 when it goes with the
// number of heads and 16 when with its square.
func BenchmarkCheckBySize(b *testing.B) {
	for _, shape := range []struct {
		name       string
		across, up int
		apart      float64
	}{{"near", 25, 25, 10}, {"far", 25, 25, 14}, {"column", 1, 625, 10}} {
		b.Run(shape.name, func(b *testing.B) {
			last := 0.0
			for _, grow := range []int{1, 2, 4} {
				across, up := shape.across*grow, shape.up*grow
				if shape.across == 1 {
					across, up = 1, shape.up*grow*grow
				}
				l := field(across, up, shape.apart)
				f := coverage.New()
				r, _, err := f.Update(context.Background(), l.Plan)
				if err != nil {
					b.Fatal(err)
				}
				best := time.Duration(1 << 62)
				for range 3 {
					start := time.Now()
					coverage.Check(l.Plan, r, f)
					best = min(best, time.Since(start))
				}
				ms := float64(best.Microseconds()) / 1000
				b.ReportMetric(ms, fmt.Sprintf("ms/%d", across*up))
				if last > 0 {
					b.ReportMetric(ms/last, fmt.Sprintf("times/%d", across*up))
				}
				last = ms
			}
		})
	}
}

// BenchmarkManyAreas is the memory that 10,000 small areas keep.
func BenchmarkManyAreas(b *testing.B) {
	l := newLot(1, 1)
	for i := range 100 {
		for j := range 100 {
			x, y := 20*float64(i), 20*float64(j)
			l.Areas[plan.ID(fmt.Sprintf("a%02d%02d", i, j))] = plan.Area{Kind: plan.Planting, Outline: geom.Outline{{X: x, Y: y}, {X: x + 10, Y: y}, {X: x + 10, Y: y + 10}, {X: x, Y: y + 10}}}
		}
	}
	for range 200 {
		l.head("spray-10-f", "body-4-reg", float64(len(l.Heads)%20)*20+5, float64(len(l.Heads)/20)*20+5, 0, 360)
	}
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	f := coverage.New()
	if _, _, err := f.Update(context.Background(), l.Plan); err != nil {
		b.Fatal(err)
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.HeapAlloc-before.HeapAlloc)/10000, "B/area")
	runtime.KeepAlive(f)
}
