package proof

import (
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"evenfall/internal/plan"
)

// Each fault is put into the network and solved anew, every zone is run and read with the
// errors of gauge and meter: its cause is the first or second that is named.
func TestB16_FaultsAreNamedFirstOrSecond(t *testing.T) {
	t.Parallel()
	p := bare(t)
	d := designed(t, p)
	seeds := 4
	if os.Getenv("EVENFALL_THOROUGH") != "" {
		seeds = 20
	}
	table := map[string][4]int{} // first, second, later, not seen
	var names []string
	for _, f := range faults() {
		for _, zone := range []plan.ID{"z1", "z2", "z3", "z4", "z6"} {
			for seed := range seeds {
				rng := rand.New(rand.NewPCG(uint64(seed), 9))
				wrong := withOwn(p)
				f.do(wrong, zone, rng)
				now := measured(t, p, wrong, d, rng, plan.SortedIDs(p.Zones)...)
				if f.once {
					then := now.Zones[zone]
					now = measured(t, p, p, d, rng, plan.SortedIDs(p.Zones)...)
					now.Zones[zone] = then
				}
				run := newWatch(now, d).run(zone, "r1", now.Zones[zone].Runs["r1"])
				row := table[f.name]
				switch place := placeOf(run.Likely, f.names); {
				case run.Good:
					row[3]++
				case place == 0:
					row[0]++
				case place == 1, f.among && place < len(run.Likely):
					row[1]++
				default:
					row[2]++
					if row[2] == 1 {
						t.Logf("%s in %s: %s %s", f.name, zone, run.Says, list(run.Likely))
					}
				}
				table[f.name] = row
			}
		}
		names = append(names, f.name)
	}
	for _, name := range names {
		row := table[name]
		t.Logf("%-20s first %2d, second %2d, later %2d, not seen %2d", name, row[0], row[1], row[2], row[3])
		if seen := row[0] + row[1] + row[2]; 10*row[2] > seen || seen == 0 {
			t.Errorf("%s: named first or second in %d of %d", name, row[0]+row[1], seen)
		}
	}
}

// Nothing wrong, read with the errors of gauge and meter: hardly a run is told of.
func TestB16_FaultlessZonesAreLeftAlone(t *testing.T) {
	t.Parallel()
	p := bare(t)
	d := designed(t, p)
	good, all := 0, 0
	for seed := range 40 {
		rng := rand.New(rand.NewPCG(uint64(seed), 10))
		for _, z := range StartUp(measured(t, p, p, d, rng, plan.SortedIDs(p.Zones)...), d).Zones {
			if all++; z.Runs[0].Good {
				good++
			}
		}
	}
	t.Logf("%d of %d runs without a fault are told as good", good, all)
	if 100*good < 97*all {
		t.Errorf("%d of %d runs without a fault are told of", all-good, all)
	}
}

// With one zone run alone the causes that go with its signs are not told apart, but their
// kind is: where more flows out, less, or less arrives.
func TestB16_OneZoneAloneTellsTheKind(t *testing.T) {
	t.Parallel()
	p := bare(t)
	d := designed(t, p)
	right, all := 0, 0
	for _, f := range faults() {
		for _, zone := range []plan.ID{"z1", "z3", "z6"} {
			rng := rand.New(rand.NewPCG(7, 11))
			wrong := withOwn(p)
			f.do(wrong, zone, rng)
			run := runOf(StartUp(measured(t, p, wrong, d, rng, zone), d), zone)
			if run.Good {
				continue
			}
			if all++; sameKind(run.Likely[0].Cause, f.names[0]) {
				right++
			} else {
				t.Logf("%s in %s: %s %s", f.name, zone, run.Says, list(run.Likely))
			}
		}
	}
	t.Logf("the kind is right in %d of %d", right, all)
	if 10*right < 9*all {
		t.Errorf("the kind is right in %d of %d", right, all)
	}
}

// sameKind reports whether two causes may be told by the same signs: where the water that
// is too much goes out, before the valve or behind it, one run hardly tells.
func sameKind(a, b Cause) bool {
	kinds := func(c Cause) (out []shape) {
		for _, row := range causes {
			if row.cause == c {
				out = append(out, map[shape]shape{before: outflow}[row.shape], row.shape)
			}
		}
		return out
	}
	for _, x := range kinds(a) {
		if x != less && slices.Contains(kinds(b), x) {
			return true
		}
	}
	return shownBy(a).shape == less && shownBy(b).shape == less
}
