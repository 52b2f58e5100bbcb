package watering

import (
	"context"
	"math/rand/v2"
	"testing"

	"evenfall/internal/units"
)

// oneLawn is a made-up lawn of so many zones side by side, each of its own rate and flow,
// which reach a little into their neighbours' ground.
func oneLawn(seed uint64, zones, cells int, days []bool) *Input {
	rng := rand.New(rand.NewPCG(seed, 89))
	in := yard(seed, 1, 1, days)
	in.Zones, in.Controller.Stations, in.Calendar.Until = nil, zones, in.Calendar.From+24*60
	a := &in.Areas[0]
	a.Size, a.Rates = units.SqFeet(cells), nil
	for z := range zones {
		rates, mean := make([]float32, cells), 0.4+rng.Float64()
		from, until := z*cells/zones, (z+1)*cells/zones
		for c := max(0, from-8); c < min(cells, until+8); c++ {
			rates[c] = float32(mean * (0.5 + rng.Float64()))
			if c < from || c >= until {
				rates[c] /= 2
			}
		}
		a.Rates = append(a.Rates, rates)
		in.Zones = append(in.Zones, Zone{Station: z + 1, Flow: units.GPM(5 + 10*rng.Float64()), Own: []int{0}})
	}
	return in
}

// One lawn of many zones, whose cuts hardly come to an end, is never left short, and its
// program is near the least that the cuts known prove.
func TestALawnOfManyZonesIsNotShort(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		in := oneLawn(seed, 2*manyZones, 800, week("x..x..."))
		fields := in.fields()
		m, err := in.search(context.Background(), fields, 6, in.ground(), quick, progress{})
		if err != nil {
			t.Fatal(err)
		}
		got := m.Areas[0]
		if got.Counts < got.Need-10*kept || got.Lowest > got.Allowed+10*kept && !m.bound(Soil) {
			t.Errorf("lawn %d: it gets %g of %g in, and is %g of %g in below full", seed, got.Counts, got.Need, got.Lowest, got.Allowed)
		}
		bound, err := m.q.solve(context.Background(), false)
		if err != nil {
			t.Fatal(err)
		}
		if least := units.Gallons(bound.gallons); m.Least < least*(1-enough) || m.Least > 1.1*least {
			t.Errorf("lawn %d: %g gallons, where %g are the least by the cuts known", seed, m.Least, least)
		}
	}
}
