package watering

import (
	"context"
	"slices"
	"strings"
	"testing"
)

// Stations that run side by side are told as such, within the flow, and where none do
// nothing is said.
func TestStationsSideBySideAreTold(t *testing.T) {
	t.Parallel()
	told := 0
	for seed := range uint64(8) {
		in := yard(seed, 6, 30, week("x.x.x.x"))
		in.Calendar.Until = in.Calendar.From + 24*60
		in.Calendar.Flow, in.Calendar.Together = 25, seed%2 == 0
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range m.Programs {
			together := map[[2]int]int{}
			for minute := range p.Ends {
				var on []int
				for _, s := range p.Steps {
					if s.From <= minute && minute < s.Until {
						on = append(on, s.Zone)
					}
				}
				slices.Sort(on)
				for i := range on {
					for k := range i {
						together[[2]int{on[k], on[i]}]++
					}
				}
			}
			sum := map[[2]int]int{}
			for _, b := range p.Beside(in) {
				sum[b.Zones] += b.Until - b.From
			}
			if len(sum) != len(together) {
				t.Fatalf("seed %d: %v told, %v run", seed, sum, together)
			}
			for zones, minutes := range together {
				if sum[zones] != minutes {
					t.Errorf("seed %d: %v told %d minutes together, run %d", seed, zones, sum[zones], minutes)
				}
			}
			says := p.BesideSays(in)
			if (says != "") != (len(sum) > 0) || says != "" && !strings.Contains(says, "run together") {
				t.Errorf("seed %d: %q", seed, says)
			}
			told += len(sum)
			for _, r := range p.Runs {
				if n := len(p.StartsOf(r.Zone)); n != r.Cycles {
					t.Errorf("seed %d: zone %d starts %d times, %d cycles", seed, r.Zone, n, r.Cycles)
				}
			}
		}
	}
	if told < 5 {
		t.Errorf("only %d pairs ran together", told)
	}
}
