package coverage

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"
)

// naiveWind pours a head in the wind as one would at first: every cell of the
// rows near it by the formulas as they are written, the launch direction by
// arctangent.
func naiveWind(g *grid, s *shower, rates []float32) {
	f, delta := g.frame, math.Hypot(s.air.dx, s.air.dy)
	wx, wy := s.air.dx/delta, s.air.dy/delta
	reach := s.throw * (1 + delta)
	y0, y1 := int((s.at[1]-reach)/f.Cell), int((s.at[1]+reach)/f.Cell)+1
	peak := s.setting.peak()
	for y := y0; y < y1; y++ {
		dy := (float64(y)+0.5)*f.Cell - s.at[1]
		for x := range f.NX {
			dx := (float64(x)+0.5)*f.Cell - s.at[0]
			X, Y := dx*wx+dy*wy, dy*wx-dx*wy
			thrown := (-delta*X + math.Sqrt(delta*delta*X*X+(1-delta*delta)*(X*X+Y*Y))) / (1 - delta*delta)
			if thrown >= s.throw {
				continue
			}
			a := math.Atan2(dy-thrown*s.air.dy, dx-thrown*s.air.dx)*180/math.Pi - s.start
			if a < 0 {
				a += 360
			}
			if s.sweep >= 360 || a <= s.sweep {
				c := X/thrown - delta
				rates[y*f.NX+x] += float32(peak * (1 - thrown/s.throw) / (1 + delta*c))
			}
		}
	}
}

// BenchmarkWindKernel works one head in the wind out and adds it to the grid, its
// mask kept. It reports the time for each cell wetted and how many times as long
// the naive way takes in the same run.
func BenchmarkWindKernel(b *testing.B) {
	for _, c := range []struct{ throw, sweep float64 }{{15, 360}, {15, 180}, {40, 360}, {40, 180}} {
		b.Run(fmt.Sprintf("cell=0.5/R=%g/arc=%g", c.throw, c.sweep), func(b *testing.B) {
			g, s := lone(0.5, c.throw, c.sweep)
			s.at, s.air = orb.Point{60.03, 59.96}, Wind{8, 200}.drift()
			s.fill(g.frame)
			n := float64(touched(&s.mask))
			rates := make([]float32, g.frame.Size())
			slow := math.Inf(1)
			for range 7 {
				start := time.Now()
				naiveWind(g, s, rates)
				slow = min(slow, float64(time.Since(start).Nanoseconds()))
			}
			var w windswept
			best := time.Duration(math.MaxInt64)
			for b.Loop() {
				start := time.Now()
				w.sweep(s, g.frame)
				s.swept = &w
				g.pourSwept(s, 1, true)
				best = min(best, time.Since(start))
				g.pourSwept(s, -1, true)
			}
			each := float64(best.Nanoseconds()) / n
			b.ReportMetric(each, "ns/cell")
			b.ReportMetric(slow/n/each, "naive/ours")
		})
	}
}

// BenchmarkWindy reckons the park of the other benchmarks in a wind, from
// nothing, with everything that is read.
func BenchmarkWindy(b *testing.B) {
	y := park()
	best := math.Inf(1)
	for b.Loop() {
		start := time.Now()
		if _, err := Windy(b.Context(), &y.Plan, Wind{8, 180}, nil); err != nil {
			b.Fatal(err)
		}
		best = min(best, float64(time.Since(start).Microseconds())/1000)
	}
	b.ReportMetric(best, "best-ms")
}
