package watering

import (
	"context"
	"syscall"
	"testing"
)

// BenchmarkYear is the whole year, of a yard and of parks of 60 zones whose areas have a
// thousand pieces of ground: on a week and a fortnight, with hours that are enough and
// hours that are not, where what would help is worked out too. The aim is 5 s for 60
// zones. cpu-s is the time of the processor for one, which other work on the machine does
// not lengthen as much.
func BenchmarkYear(b *testing.B) {
	fortnight := "xxxxxxxxxxxxxx"
	for _, c := range []struct {
		name         string
		zones, cells int
		days         string
		hours        int
	}{
		{"zones=8", 8, 600, "xxxxxxx", 8},
		{"zones=60/week", 60, 1000, "xxxxxxx", 24},
		{"zones=60/week/over", 60, 1000, "xxxxxxx", 8},
		{"zones=60/fortnight", 60, 1000, fortnight, 24},
		{"zones=60/fortnight/over", 60, 1000, fortnight, 8},
	} {
		b.Run(c.name, func(b *testing.B) {
			in := yard(7, c.zones, c.cells, week(c.days))
			in.Calendar.Until, in.Calendar.Flow = in.Calendar.From+60*c.hours, 40
			before := processor(b)
			for b.Loop() {
				if _, err := PlanYear(context.Background(), in, nil); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric((processor(b)-before)/float64(b.N), "cpu-s")
		})
	}
}

// processor is the time of the processor this process has had, in seconds.
func processor(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)/1e6 }
	return s(u.Utime) + s(u.Stime)
}

// BenchmarkLawn is the year of one lawn of 60 zones, in which each zone has its part in
// every cut.
func BenchmarkLawn(b *testing.B) {
	in := oneLawn(3, 60, 4000, week("xxxxxxx"))
	before := processor(b)
	for b.Loop() {
		if _, err := PlanYear(context.Background(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processor(b)-before)/float64(b.N), "cpu-s")
}

func BenchmarkSoilWater(b *testing.B) {
	in := yard(7, 8, 600, week("xxxxxxx"))
	y, err := PlanYear(context.Background(), in, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		y.SoilWater(in)
	}
}
