package watering

import (
	"context"
	"errors"
	"math"
	"testing"

	"evenfall/internal/simplex"
	"evenfall/internal/units"
)

// Whatever a yard is like, its year is an answer or a sentence: no panic, no figure that
// is none, every program within its days and its minutes whole, and what fits is kept by
// the soil that is played.
func FuzzYear(f *testing.F) {
	f.Add(uint64(1), uint8(3), uint8(20), uint32(0x15), uint8(7), uint16(480), uint8(0), float32(1), float32(1), float32(1), float32(1))
	f.Add(uint64(2), uint8(1), uint8(1), uint32(1), uint8(1), uint16(1), uint8(1), float32(1e-3), float32(50), float32(0), float32(2))
	f.Add(uint64(3), uint8(5), uint8(9), uint32(0x3fff), uint8(14), uint16(1440), uint8(6), float32(.01), float32(.1), float32(40), float32(1))
	f.Add(uint64(4), uint8(4), uint8(9), uint32(0x15), uint8(7), uint16(480), uint8(2), float32(1), float32(1), float32(20), float32(1e-4))
	f.Fuzz(func(t *testing.T, seed uint64, zones, cells uint8, allowed uint32, cycle uint8, hours uint16, flags uint8, holds, intake, need, rate float32) {
		days := make([]bool, int(cycle)%16)
		for d := range days {
			days[d] = allowed>>d&1 == 1
		}
		in := yard(seed, 1+int(zones)%5, 1+int(cells)%40, days)
		in.Calendar.Until = in.Calendar.From + int(hours)%1600
		in.Calendar.Together, in.Calendar.Flow = flags&1 == 1, 20
		in.Controller.Soaks, in.Controller.Starts, in.Controller.Programs = flags&2 == 2, int(flags>>4)%5, int(flags>>2)%4
		in.Target = []Target{Quarter, Half, Mean, "all"}[flags>>6]
		for i := range in.Areas {
			a := &in.Areas[i]
			a.Holds *= units.Inches(holds)
			a.Intake *= units.InchesPerHour(intake)
			for _, rates := range a.Rates {
				for c := range rates {
					rates[c] *= rate
				}
			}
			for m := range a.Need {
				a.Need[m] *= units.Inches(need)
			}
		}
		y, err := PlanYear(context.Background(), in, nil)
		if err != nil {
			if len(err.Error()) < 15 || errors.Is(err, simplex.ErrTooLong) {
				t.Fatalf("%v", err)
			}
			return
		}
		for _, m := range y.Months {
			if m != nil {
				soundMonth(t, in, m)
			}
		}
		for _, w := range y.SoilWater(in) {
			for d, day := range w.Days {
				if !(day.Below >= 0) || math.IsInf(float64(day.Below), 0) || !(day.Got >= 0) {
					t.Fatalf("area %d, day %d: %+v", w.Area, d, day)
				}
			}
		}
	})
}

func soundMonth(t *testing.T, in *Input, m *Month) {
	t.Helper()
	if !(m.Gallons >= 0) || math.IsInf(float64(m.Gallons), 0) || m.Fits != (len(m.Binds) == 0) {
		t.Fatalf("%g gallons, fits %v, %+v", float64(m.Gallons), m.Fits, m.Binds)
	}
	for _, p := range m.Programs {
		if len(p.Days) == 0 || len(p.Runs) == 0 || len(p.Starts) == 0 {
			t.Fatalf("%+v", p)
		}
		for _, d := range p.Days {
			if !in.Calendar.Days[d] {
				t.Fatalf("runs on day %d", d)
			}
		}
		for _, r := range p.Runs {
			if r.Minutes <= 0 || r.Cycles < 1 || r.Cycles > r.Minutes {
				t.Fatalf("%+v", r)
			}
		}
		if m.Fits && p.Ends > in.Calendar.Until {
			t.Fatalf("ends at %d, until %d", p.Ends, in.Calendar.Until)
		}
	}
	for _, r := range m.Areas {
		if math.IsNaN(float64(r.Counts)) || math.IsNaN(float64(r.Mean)) || math.IsNaN(float64(r.Lowest)) {
			t.Fatalf("%+v", r)
		}
	}
}
