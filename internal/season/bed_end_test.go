package season_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

func yard(t *testing.T, name string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile("../../testdata/plans/" + name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// peakOf is the program of the month that asks for most.
func peakOf(t *testing.T, p *plan.Plan) (*season.Program, *watering.Month) {
	t.Helper()
	prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
	if err != nil {
		t.Fatal(err)
	}
	m := prog.Year.Months[prog.Year.Peak]
	if !m.Fits {
		t.Errorf("it does not fit: %+v", m.Binds)
	}
	return prog, m
}

// minutesBy are the minutes of a zone by day of the cycle.
func minutesBy(prog *season.Program, m *watering.Month, zone plan.ID) []int {
	in := &prog.Asked.Input
	out := make([]int, len(in.Calendar.Days))
	for _, program := range m.Programs {
		for _, r := range program.Runs {
			if in.Zones[r.Zone].ID == string(zone) {
				for _, d := range program.Days {
					out[d] += r.Minutes
				}
			}
		}
	}
	return out
}

// receivedBy is what an area has of the cycle.
func receivedBy(t *testing.T, prog *season.Program, m *watering.Month, area plan.ID) watering.Received {
	t.Helper()
	for i, a := range prog.Asked.Input.Areas {
		if a.ID == string(area) {
			return m.Areas[i]
		}
	}
	t.Fatalf("no area %s", area)
	return watering.Received{}
}

// islandYard is the demo with head 2-8 where it belongs, its island on a valve of its own
// and on sand, so that its flowers need water daily, every day allowed.
func islandYard(t *testing.T) *plan.Plan {
	t.Helper()
	p := yard(t, "demo-mended.json")
	z := p.Zones["z6"]
	z.Name, z.Station = "Island", 7
	p.Zones["z7"] = z
	for _, id := range []plan.ID{"h6-1", "h6-2"} {
		h := p.Heads[id]
		h.Zone = "z7"
		p.Heads[id] = h
	}
	change(p, "island", func(a *plan.Area) { a.Soil, a.RootsIn = "sand", 6 })
	p.Watering.Days = nil
	return p
}

// The case of the issue: a bed with sprays of its own within the throw of the lawn's
// streams needs water daily. On the days of the lawn its own valve stays off, on the
// others it runs; as its plants grow into the streams it gives the rest, and when they
// count for nothing it runs daily as if the lawn were not there.
func TestE22_TheIslandsValveStaysOffOnTheDaysOfTheLawn(t *testing.T) {
	t.Parallel()
	p := islandYard(t)
	type outcome struct {
		lawn, own []int
		gallons   units.Gallons
	}
	work := func(height units.Inches, ownOnly bool) outcome {
		change(p, "island", func(a *plan.Area) { a.PlantHeightIn, a.OwnZonesOnly = height, ownOnly })
		prog, m := peakOf(t, p)
		if r := receivedBy(t, prog, m, "island"); r.Interval != 1 || r.Lowest > r.Allowed+0.005 {
			t.Errorf("at %g in the island lasts %d days, is emptied by %.3f and may be by %.3f", float64(height), r.Interval, float64(r.Lowest), float64(r.Allowed))
		}
		east, own := minutesBy(prog, m, "z2"), minutesBy(prog, m, "z7")
		west := minutesBy(prog, m, "z1")
		for d := range west {
			if (west[d] > 0) != (east[d] > 0) {
				t.Errorf("day %d: the lawn runs %d min west, %d min east", d, west[d], east[d])
			}
		}
		return outcome{west, own, m.Gallons}
	}
	low, half, high, grown, off := work(0, false), work(24, false), work(31, false), work(36, false), work(0, true)
	days := 0
	for d, lawn := range low.lawn {
		if lawn > 0 {
			days++
		}
		if (lawn > 0) == (low.own[d] > 0) {
			t.Errorf("day %d: lawn %d min, the island's own valve %d", d, lawn, low.own[d])
		}
	}
	if days < 2 || days > 3 {
		t.Errorf("the lawn runs on %d days", days)
	}
	if !slices.Equal(grown.own, off.own) || slices.Contains(off.own, 0) {
		t.Errorf("grown over the streams %v, credit off %v", grown.own, off.own)
	}
	most := slices.Max(off.own)
	for d, lawn := range high.lawn {
		if lawn > 0 && !(high.own[d] > 0 && high.own[d] < most) {
			t.Errorf("day %d of the lawn: the rest is %d min of %d", d, high.own[d], most)
		}
	}
	if !(low.gallons <= half.gallons && half.gallons <= high.gallons && high.gallons <= off.gallons && low.gallons < off.gallons) {
		t.Errorf("gallons %v, %v, %v, %v", low.gallons, half.gallons, high.gallons, off.gallons)
	}
	t.Logf("lawn %v; own %v at 0 in, %v at 24, %v at 31, %v at 36 and switched off; gallons %.0f, %.0f, %.0f, %.0f",
		low.lawn, low.own, half.own, high.own, off.own, float64(low.gallons), float64(half.gallons), float64(high.gallons), float64(off.gallons))
}

// The demo's island shares its valve with the entry bed, which no lawn wets: so the valve
// runs for the entry bed, and the island has more than it needs.
func TestE22_AValveOfTwoBedsRunsForTheOneThatGetsLess(t *testing.T) {
	t.Parallel()
	p := yard(t, "demo-mended.json")
	prog, m := peakOf(t, p)
	entry, island := receivedBy(t, prog, m, "entry-bed"), receivedBy(t, prog, m, "island")
	if entry.Counts < entry.Need || island.Counts < 1.5*island.Need {
		t.Errorf("the entry bed has %.2f of %.2f in, the island %.2f of %.2f", float64(entry.Counts), float64(entry.Need), float64(island.Counts), float64(island.Need))
	}
	if on, lawn := minutesBy(prog, m, "z6"), minutesBy(prog, m, "z1"); slices.Max(on) == 0 || slices.Max(lawn) == 0 {
		t.Errorf("flowers %v, lawn %v", on, lawn)
	}
}

// The other cure: the bed lies at the end of the lawn's arcs. Kept off it, the lawn runs
// as it did, and the bed's valve alone gives what it needs, as long each day as if the
// lawn's water were not counted.
func TestE22_KeptOffTheBedLivesByItsOwnValve(t *testing.T) {
	t.Parallel()
	p := yard(t, "bed-end.json")
	prog, m := peakOf(t, p)
	lawn, bed := minutesBy(prog, m, "z1"), minutesBy(prog, m, "z2")
	for d := range lawn {
		if (lawn[d] > 0) == (bed[d] > 0) {
			t.Errorf("as drawn, day %d: lawn %d min, bed %d", d, lawn[d], bed[d])
		}
	}
	found, err := arrange.KeepOff(context.Background(), p, "bed", arrange.Usual(), nil)
	if err != nil || !found.Offered {
		t.Fatalf("%v %+v", err, found)
	}
	next, err := plan.Preview(p.Encode(), found.Patch)
	if err != nil {
		t.Fatal(err)
	}
	prog, m = peakOf(t, next)
	for z, rates := range areaOf(t, prog.Asked, "bed").Rates {
		for _, r := range rates {
			if prog.Asked.Input.Zones[z].ID == "z1" && r > 1e-6 {
				t.Fatalf("%.4f in/h of the lawn's zone are left on the bed", r)
			}
		}
	}
	lawnAfter, bedAfter := minutesBy(prog, m, "z1"), minutesBy(prog, m, "z2")
	if !slices.Equal(lawn, lawnAfter) {
		t.Errorf("the lawn ran %v, and then %v", lawn, lawnAfter)
	}
	if slices.Contains(bedAfter, 0) {
		t.Errorf("the bed's own valve runs %v", bedAfter)
	}
	if r := receivedBy(t, prog, m, "bed"); r.Interval != 1 || r.Counts < r.Need || r.Lowest > r.Allowed+0.005 {
		t.Errorf("the bed: %+v", r)
	}
	change(p, "bed", func(a *plan.Area) { a.OwnZonesOnly = true })
	prog, m = peakOf(t, p)
	if uncounted := minutesBy(prog, m, "z2"); !slices.Equal(uncounted, bedAfter) {
		t.Errorf("turned off %v, not counted %v", bedAfter, uncounted)
	}
	t.Logf("lawn %v; bed %v as drawn, %v once the lawn is kept off", lawn, bed, bedAfter)
}

// Established turf rests a day between waterings where the days leave gaps that its soil
// lasts; new sod does not.
func TestEstablishedTurfRestsBetweenWaterings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		do   func(p *plan.Plan)
		rest int
		note bool // of some turf, in shade it lasts longer
	}{
		{"every day", func(p *plan.Plan) { p.Watering.Days = nil }, 2, true},
		{"three days apart", func(*plan.Plan) {}, 0, false},
		{"its soil lasts a day", func(p *plan.Plan) {
			p.Watering.Days = nil
			change(p, "front-lawn", func(a *plan.Area) { a.Soil, a.RootsIn = "sand", 6 })
		}, 0, true},
		{"new sod", func(p *plan.Plan) { p.Watering.Days, p.Watering.Stage = nil, plan.NewSod }, 0, false},
		{"gaps that it does not last", func(p *plan.Plan) { p.Watering.Days = []string{"mon", "tue"} }, 0, false},
		{"only without rest it lasts", func(p *plan.Plan) { p.Watering.Days = []string{"mon", "tue", "thu", "fri"} }, 0, true},
		{"Sunday and Monday meet", func(p *plan.Plan) { p.Watering.Days = []string{"mon", "wed", "fri", "sun"} }, 2, true},
		{"each day by itself", func(p *plan.Plan) { p.Watering.Days, p.Watering.Every = nil, 1 }, 0, false},
		{"one day in three", func(p *plan.Plan) { p.Watering.Days, p.Watering.Every = nil, 3 }, 0, false},
	} {
		p := yard(t, "demo-mended.json")
		c.do(p)
		q := ask(t, p)
		if got := areaOf(t, q, "front-lawn").Rest; got != c.rest {
			t.Errorf("%s: rests %d days, want %d", c.name, got, c.rest)
		}
		if got := areaOf(t, q, "island").Rest; got != 0 {
			t.Errorf("%s: the island rests %d days", c.name, got)
		}
		noted := slices.ContainsFunc(q.Notes, func(n string) bool { return strings.HasPrefix(n, "Established turf") })
		if noted != c.note {
			t.Errorf("%s: notes %q", c.name, q.Notes)
		}
	}
}

// Where the hours of the days of rest do not suffice and those of all days do, turf is
// watered on days that follow one another, and that is said; where neither do, it rests.
func TestTurfRestsOnlyWhereTheHoursSuffice(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		until  string
		rested bool // the front lawn never runs on two days in a row
		fits   bool
		note   string
	}{{"06:00", true, true, "Established turf"}, {"01:30", false, true, "Turf is watered on days that follow"}, {"23:00", true, false, "Established turf"}} {
		p := yard(t, "demo-mended.json")
		p.Watering.Days, p.Watering.EndHHMM = nil, c.until
		prog, err := season.Work(context.Background(), p, even(p, 0.65), nil)
		if err != nil {
			t.Fatal(err)
		}
		m := prog.Year.Months[prog.Year.Peak]
		on, rested := minutesBy(prog, m, "z1"), true
		for d := range on {
			rested = rested && (on[d] == 0 || on[(d+1)%len(on)] == 0)
		}
		if m.Fits != c.fits || rested != c.rested {
			t.Errorf("until %s: fits %v, the lawn runs %v", c.until, m.Fits, on)
		}
		if !slices.ContainsFunc(prog.Asked.Notes, func(n string) bool { return strings.HasPrefix(n, c.note) }) {
			t.Errorf("until %s: notes %q", c.until, prog.Asked.Notes)
		}
		if rest := areaOf(t, prog.Asked, "front-lawn").Rest; (rest == 2) != c.rested {
			t.Errorf("until %s: the lawn is asked to rest %d days", c.until, rest)
		}
	}
}
