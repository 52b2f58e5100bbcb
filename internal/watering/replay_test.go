package watering

import (
	"cmp"
	"context"
	"math"
	"os"
	"slices"
	"testing"

	"evenfall/internal/units"
)

// checkReplay plays a program day by day on the cells, by what was printed alone
// (programs, days, minutes, steps), with nothing of the solver's: soil that is full to
// begin with, water first and then need, for six cycles. Any quarter of an area is a
// bucket, or any half where that is the target; those played are the driest by sorting of
// every run of days.
func checkReplay(t *testing.T, in *Input, m *Month) {
	t.Helper()
	days := len(in.Calendar.Days)
	minutes := make([][]float64, days) // by day and zone
	gallons := 0.0
	for d := range minutes {
		minutes[d] = make([]float64, len(in.Zones))
	}
	for _, p := range m.Programs {
		ran := make([]int, len(in.Zones))
		for _, s := range p.Steps {
			ran[s.Zone] += s.Until - s.From
		}
		for _, d := range p.Days {
			if !in.Calendar.Days[d] {
				t.Fatalf("runs on day %d, which is not allowed", d)
			}
			for _, r := range p.Runs {
				minutes[d][r.Zone] += float64(r.Minutes)
				gallons += float64(r.Minutes) * float64(in.Zones[r.Zone].Flow)
				if ran[r.Zone] != r.Minutes {
					t.Errorf("zone %d: %d minutes in the timetable, %d in the program", r.Zone, ran[r.Zone], r.Minutes)
				}
			}
		}
		checkSteps(t, in, p)
	}
	if math.Abs(gallons-float64(m.Gallons)) > 1e-6*(1+gallons) {
		t.Errorf("%.3f gallons replayed, %.3f told", gallons, float64(m.Gallons))
	}
	for i := range in.Areas {
		emptied, mean, counts := replayArea(t, in, m, i, minutes)
		r, n := m.Areas[i], float64(days)
		for _, told := range []struct {
			what         string
			told, played float64
		}{
			{"is emptied by", float64(r.Lowest), emptied}, {"gets in the mean", float64(r.Mean), mean}, {"has of it that counts", float64(r.Counts), counts},
			{"needs", float64(r.Need), n * float64(in.Areas[i].Need[m.Month])}, {"may be emptied by", float64(r.Allowed), float64(in.Areas[i].Holds) * float64(in.Areas[i].Depleted)},
		} {
			if math.Abs(told.told-told.played) > 1e-4 {
				t.Errorf("area %d %s %.5f in, told %.5f", i, told.what, told.played, told.told)
			}
		}
	}
}

// replayArea is the furthest below full that a part of an area is, and what it has of a
// cycle in the mean and of its driest part, as far as that counts.
func replayArea(t *testing.T, in *Input, m *Month, i int, minutes [][]float64) (worst, whole, counts float64) {
	t.Helper()
	a := &in.Areas[i]
	days, need := len(minutes), float64(a.Need[m.Month])
	cells := 0
	for _, r := range a.Rates {
		cells = max(cells, len(r))
	}
	credit := func(z int) float64 {
		if a.Credit == nil {
			return 1
		}
		return float64(a.Credit[z])
	}
	depth := make([][]float64, days) // by day and cell
	for d := range depth {
		depth[d] = make([]float64, cells)
		for z, r := range a.Rates {
			for c, v := range r {
				depth[d][c] += float64(v) * credit(z) * minutes[d][z] / 60
			}
		}
	}
	part := shareOf(in.Target) * float64(cells)
	field := lessEven(in, i)
	allowed := max(float64(a.Holds)*float64(a.Depleted), need)
	for from := range days {
		sum := make([]float64, cells)
		for length := 1; length <= days; length++ {
			for c, v := range depth[(from+length-1)%days] {
				sum[c] += v
			}
			set, lost := inOrder(sum), 0.0
			for d := range 6 * days {
				lost = max(0, lost-field*meanOfFirst(depth[d%days], set, part)) + need
				worst = max(worst, lost)
				if lost > allowed+1e-4 {
					t.Fatalf("area %d: %.4f in below full on day %d, %.4f allowed", i, lost, d, allowed)
				}
			}
			if length == days {
				whole, counts = meanOfFirst(sum, set, float64(cells)), field*meanOfFirst(sum, set, part)
			}
		}
	}
	return worst, whole, counts
}

// shareOf is the part of an area that has to get its need.
func shareOf(target Target) float64 {
	return map[Target]float64{Quarter: 1. / 4, Half: 1. / 2, Mean: 1}[target]
}

// lessEven is what is left of the water of an area where the field is less even than the
// drawing of its own zones: the mean of the target part by FieldDU over that of the drawing.
func lessEven(in *Input, i int) float64 {
	a := &in.Areas[i]
	if a.FieldDU == 0 {
		return 1
	}
	var own []float64
	for z, r := range a.Rates {
		if slices.Contains(in.Zones[z].Own, i) && r != nil {
			if own == nil {
				own = make([]float64, len(r))
			}
			for c, v := range r {
				own[c] += float64(v)
			}
		}
	}
	field := map[Target]float64{Quarter: float64(a.FieldDU), Half: .4 + .6*float64(a.FieldDU), Mean: 1}[in.Target]
	drawn := meanOfFirst(own, inOrder(own), shareOf(in.Target)*float64(len(own))) / meanOfFirst(own, inOrder(own), float64(len(own)))
	return min(1, field/drawn)
}

// meanOfFirst is the mean of so many of a set of cells, the last in part.
func meanOfFirst(v []float64, set []int, many float64) float64 {
	sum, left := 0.0, many
	for _, c := range set {
		w := max(0, min(1, left))
		sum += w * v[c]
		left -= w
	}
	return sum / many
}

// inOrder is the cells by what they have, the least first.
func inOrder(v []float64) []int {
	set := make([]int, len(v))
	for c := range set {
		set[c] = c
	}
	slices.SortStableFunc(set, func(x, y int) int { return cmp.Compare(v[x], v[y]) })
	return set
}

// checkSteps plays the timetable minute by minute: water that the ground does not take
// in stands on it and never more than may, for each zone's own water; one station at a
// time, or side by side within the flow; within the hours when it is said to fit.
func checkSteps(t *testing.T, in *Input, p Program) {
	t.Helper()
	for z := range in.Zones {
		for i := range in.Areas {
			a := &in.Areas[i]
			sum, squares := 0.0, 0.0
			for _, r := range a.Rates[z] {
				sum += float64(r)
				squares += float64(r) * float64(r)
			}
			if sum == 0 {
				continue
			}
			rate, stands := squares/sum, 0.0
			for minute := range p.Ends {
				got := -float64(a.Intake)
				for _, s := range p.Steps {
					if s.Zone == z && s.From <= minute && minute < s.Until {
						got += rate
					}
				}
				stands = max(0, stands+got/60)
				// A cycle is a whole minute at least, whatever the ground says.
				if stands > max(float64(a.Surface), (rate-float64(a.Intake))/60)+1e-6 {
					t.Fatalf("zone %d on area %d: %.3f in stand at %d, %.3f may", z, i, stands, minute, float64(a.Surface))
				}
			}
		}
	}
	checkShared(t, in, p)
	for minute := range p.Ends {
		running, flow := 0, 0.0
		for _, s := range p.Steps {
			if s.From <= minute && minute < s.Until {
				running++
				flow += float64(in.Zones[s.Zone].Flow)
			}
		}
		if !in.Calendar.Together && running > 1 || in.Calendar.Together && flow > float64(in.Calendar.Flow)+1e-9 {
			t.Fatalf("%d stations at once, %.1f gpm", running, flow)
		}
	}
}

// checkShared plays, minute by minute, what stands on ground that several zones wet
// faster than it takes in, by the water of all of these.
func checkShared(t *testing.T, in *Input, p Program) {
	t.Helper()
	for i := range in.Areas {
		a := &in.Areas[i]
		shares := make([]bool, len(in.Zones))
		for z := range in.Zones {
			for y := range in.Zones {
				both := 0
				for c, r := range a.Rates[z] {
					if y != z && a.Rates[y] != nil && r > float32(a.Intake) && a.Rates[y][c] > float32(a.Intake) {
						both++
					}
				}
				shares[z] = shares[z] || both > 0 && both*20 >= len(a.Rates[z])
			}
		}
		stands := 0.0
		for minute := range p.Ends {
			got, fastest := -float64(a.Intake), 0.0
			for _, s := range p.Steps {
				if shares[s.Zone] && s.From <= minute && minute < s.Until {
					sum, squares := 0.0, 0.0
					for _, r := range a.Rates[s.Zone] {
						sum += float64(r)
						squares += float64(r) * float64(r)
					}
					got += squares / sum
					fastest = max(fastest, squares/sum-float64(a.Intake))
				}
			}
			if stands = max(0, stands+got/60); stands > max(float64(a.Surface), fastest/60)+1e-6 {
				t.Errorf("area %d: %.3f in stand at %d, %.3f may", i, stands, minute, float64(a.Surface))
				return
			}
		}
	}
}

func TestRandomYardsReplay(t *testing.T) {
	t.Parallel()
	fit, most := 0, uint64(24)
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		most = 400
	}
	for seed := range most {
		days := []string{"xxxxxxx", "x.x.x.x", "xxx.xx.", "x.xx.x."}[seed%4]
		in := yard(seed, 3+int(seed%5), 40, week(days))
		if seed%3 == 0 {
			in.Calendar.Together, in.Calendar.Flow = true, 18
		}
		if seed%5 != 0 {
			in.Calendar.Until = in.Calendar.From + 24*60
		}
		m, err := Plan(context.Background(), in, 6)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if m.Gallons < m.Least*(1-2*fewer) {
			t.Errorf("seed %d: %g gallons are below the least %g", seed, float64(m.Gallons), float64(m.Least))
		}
		if m.bound(Soil) || m.bound(Reach) {
			for _, p := range m.Programs {
				if !m.bound(Runoff) {
					checkSteps(t, in, p)
				}
			}
			continue
		}
		fit++
		checkReplay(t, in, m)
	}
	if fit < int(most)/2 {
		t.Errorf("only %d yards could be replayed", fit)
	}
}

func TestMoreDaysAndCreditsNeverCostMore(t *testing.T) {
	t.Parallel()
	for seed := range uint64(10) {
		in := yard(seed+100, 4, 30, week("x..x..."))
		in.Calendar.Until = in.Calendar.From + 24*60
		last := math.Inf(1)
		for _, days := range []string{"x..x...", "x..x.x.", "x.xx.x.", "xxxx.x.", "xxxxxxx"} {
			in.Calendar.Days = week(days)
			least, fits := leastOf(t, in)
			if fits && least > last*(1+2*fewer) {
				t.Errorf("seed %d: %s costs %.2f gallons, fewer days %.2f", seed, days, least, last)
			}
			if fits {
				last = min(last, least)
			}
		}
		for i := range in.Areas {
			in.Areas[i].Credit = make([]units.Ratio, len(in.Zones))
			in.Areas[i].Credit[i] = 1
		}
		if none, fits := leastOf(t, in); fits && none < last*(1-2*fewer) {
			t.Errorf("seed %d: %.2f gallons with no credit, %.2f with", seed, none, last)
		}
	}
}

// leastOf is the least gallons of all patterns, each to the cell.
func leastOf(t *testing.T, in *Input) (float64, bool) {
	t.Helper()
	best, fits := math.Inf(1), false
	fields := in.fields()
	for _, p := range patterns(in.Calendar.Days, classes) {
		a, err := questionOf(in, fields, 6, p).solve(context.Background(), true)
		if err != nil {
			t.Fatal(err)
		}
		if a.fits() && a.gallons < best {
			best, fits = a.gallons, true
		}
	}
	return best, fits
}
