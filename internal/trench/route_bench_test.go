package trench

import (
	"context"
	"fmt"
	"syscall"
	"testing"

	"evenfall/internal/plan"
)

// BenchmarkRoute routes the demo, a yard of 100 heads and a park of 400, valves as
// placed and wire, too. cpu-s is the time of the processor for one, which other work on
// the machine does not lengthen as much.
func BenchmarkRoute(b *testing.B) {
	for _, c := range []struct {
		name string
		p    *plan.Plan
	}{
		{"demo", demoYard(b)},
		{"heads=100", drawnYard(b, yardOf(21, 100, false))},
		{"heads=400", drawnYard(b, yardOf(24, 400, false))},
	} {
		b.Run(c.name, func(b *testing.B) {
			var m Measures
			places := 0
			before := processor()
			for b.Loop() {
				found, err := Propose(context.Background(), c.p, Options{Wire: true}, nil)
				if err != nil {
					b.Fatal(err)
				}
				m, places = found.Offers[0].Measures, found.Evaluations
			}
			b.ReportMetric((processor()-before)/float64(b.N), "cpu-s")
			b.ReportMetric(100*(m.Cost/m.Bound-1), "%-above-bound")
			b.ReportMetric(float64(places), "evaluations")
		})
	}
}

// processor is the time of the processor this process has had, in seconds.
func processor() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(fmt.Sprint(err))
	}
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)/1e6 }
	return s(u.Utime) + s(u.Stime)
}
