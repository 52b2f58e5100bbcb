package proof

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// withFaults notes faults of heads on a plan.
func withFaults(p *plan.Plan, faults map[plan.ID][]string) *plan.Plan {
	q := withOwn(p)
	for id, f := range faults {
		h := q.Heads[id]
		h.State = &plan.HeadState{SeenOn: "2026-05-01", Faults: f}
		q.Heads[id] = h
	}
	return q
}

// run notes a run of a zone.
func run(p *plan.Plan, zone plan.ID, v plan.ZoneRun) {
	z := p.Zones[zone]
	z.Runs = map[plan.ID]plan.ZoneRun{"r1": v}
	p.Zones[zone] = z
}

// oldDemo is the demo as an old system that was walked and measured.
func oldDemo(t testing.TB) *plan.Plan {
	p, _ := demo(t)
	q := withFaults(p, map[plan.ID][]string{
		"h2-8": {"blocked"}, "h2-5": {"tilted"}, "h3-5": {"worn"}, "h4-2": {"sunk"}, "h4-3": {"sunk"}, "h4-7": {"leaking"},
		"h1-6": {"off_target", "wrong_nozzle"}, "h1-5": {"off_target"}, "h6-1": {"hidden"}, "h6-2": {"stuck"},
	})
	run(q, "z3", plan.ZoneRun{On: "2026-05-01", When: "before", FlowGPM: 16, RunningPSI: 58})
	return q
}

// flat is a field estimate that takes nothing off, so that sums can be done by hand.
func flat(t testing.TB, p *plan.Plan) []coverage.Estimate {
	t.Helper()
	r, err := coverage.Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	var out []coverage.Estimate
	for _, a := range r.Areas {
		out = append(out, coverage.Estimate{ID: a.ID, Mean: a.DU})
	}
	return out
}

func retrofit(t testing.TB, p *plan.Plan, estimates []coverage.Estimate) *RetrofitPlan {
	t.Helper()
	r, err := Retrofit(context.Background(), p, estimates, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the repairs save in their order is what all of them save together, zone by zone as
// well, and the first saves more than any other would by itself.
func TestB11_SavingsAddUp(t *testing.T) {
	t.Parallel()
	p := oldDemo(t)
	estimates := flat(t, p)
	r := retrofit(t, p, estimates)
	if !r.Offered || len(r.Mends) != 12 || r.After >= r.Before {
		t.Fatalf("%d repairs, %g then %g: %s", len(r.Mends), r.Before, r.After, r.Says)
	}
	sum, before, after := 0.0, 0.0, 0.0
	for _, m := range r.Mends {
		sum += float64(m.Saves)
		if m.Saves < 0 || m.Says == "" || m.Why == "" || m.Saving == "" {
			t.Errorf("%+v", m)
		}
	}
	for _, z := range r.Zones {
		before, after = before+float64(z.WaterBefore), after+float64(z.WaterAfter)
	}
	// A repair of less than a thousandth is told as none, so that so much may be missing.
	if room := leastWorth * float64(r.Before) * float64(len(r.Mends)); math.Abs(sum-float64(r.Before-r.After)) > room {
		t.Errorf("the repairs save %g, all of them %g", sum, r.Before-r.After)
	}
	if math.Abs(before-float64(r.Before)) > 1e-6 || math.Abs(after-float64(r.After)) > 1e-6 {
		t.Errorf("zones: %g and %g, all: %g and %g", before, after, r.Before, r.After)
	}
	for _, other := range []map[plan.ID][]string{{"h2-8": {}}, {"h4-7": {}}, {"h6-1": {}}, {"h2-5": {}}} {
		q := withFaults(p, other)
		if saves := float64(r.Before) - float64(retrofit(t, q, estimates).Before); saves > float64(r.Mends[0].Saves)+1e-6 {
			t.Errorf("%v saves %g by itself, the first of the list %g", other, saves, r.Mends[0].Saves)
		}
	}
}

// Water by hand, from the figures of the coverage alone: minutes are the need over the
// mean rate times 1/(0.4 + 0.6 DU), gallons the flow times those; the area that asks
// longest decides.
func TestB11_WaterByHand(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withFaults(p, map[plan.ID][]string{"h4-7": {"leaking"}})
	r := retrofit(t, q, flat(t, q))
	got, err := coverage.Compute(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	year, peakOnly, err := season.YearOf(q)
	if err != nil || !peakOnly {
		t.Fatal("the demo has a climate", err)
	}
	minutes := map[plan.ID]float64{}
	for _, a := range got.Areas {
		n, err := season.NeedOf(q, a.ID, year)
		if err != nil {
			t.Fatal(err)
		}
		minutes[a.ID] = 60 * 7 * float64(n.Month[0].Day) / float64(a.Mean) / (0.4 + 0.6*float64(a.DU))
	}
	for _, z := range got.Zones {
		longest := 0.0
		for _, a := range z.Areas {
			longest = max(longest, minutes[a])
		}
		flow := float64(z.FlowGPM)
		leak := 0.0
		for _, h := range got.Heads {
			if h.ID == "h4-7" && z.ID == "z4" {
				leak = 0.3 * float64(h.FlowGPM)
			}
		}
		for _, m := range r.Zones {
			if m.ID != z.ID {
				continue
			}
			if math.Abs(float64(m.WaterBefore)-(flow+leak)*longest) > 1e-6 || math.Abs(float64(m.WaterAfter)-flow*longest) > 1e-6 {
				t.Errorf("%s: %g then %g, by hand %g then %g", z.ID, m.WaterBefore, m.WaterAfter, (flow+leak)*longest, flow*longest)
			}
		}
	}
	if len(r.Mends) != 2 || r.Mends[0].Heads[0] != "h4-7" || r.PerYear {
		t.Errorf("%+v", r.Mends)
	}
}

// A year's water needs a climate; without one it is said of the week at peak.
func TestB11_YearWithAClimate(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withFaults(p, map[plan.ID][]string{"h2-8": {"blocked"}})
	estimates := flat(t, q)
	week := retrofit(t, q, estimates)
	q.Watering.ETIn = []float64{1.5, 2, 3.2, 4.4, 5.6, 6.5, 7.1, 6.4, 4.9, 3.3, 1.9, 1.4}
	year := retrofit(t, q, estimates)
	if week.PerYear || !year.PerYear || !strings.Contains(week.Says, "in the week at peak") || !strings.Contains(year.Says, "a year") {
		t.Errorf("%q, %q", week.Says, year.Says)
	}
	if !(year.Before > 10*week.Before) {
		t.Errorf("%g a year, %g a week", year.Before, week.Before)
	}
}

// What is measured is told as measured, and a flow that the heads do not explain is a leak
// to be found.
func TestB11_MeasuredFlowAndPressure(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withOwn(p)
	run(q, "z3", plan.ZoneRun{On: "2026-05-01", When: "before", FlowGPM: 17})
	run(q, "z2", plan.ZoneRun{On: "2026-05-01", When: "after", FlowGPM: 9, RunningPSI: 39})
	r := retrofit(t, q, flat(t, q))
	if len(r.Mends) != 2 || !strings.HasPrefix(r.Mends[0].Says, "Zone 3 (Side lawn): find where 5.00 gpm go") || r.Mends[0].Saves <= 0 {
		t.Errorf("%+v", r.Mends)
	}
	for _, z := range r.Zones {
		switch z.ID {
		case "z3":
			if z.Flow != "17.0 gpm measured, then 12.0 gpm reckoned" {
				t.Error(z.Flow)
			}
		case "z2":
			if z.FlowAfter != 9 || z.PSIAfter != 39 || !strings.HasSuffix(z.Pressure, "39 psi measured") {
				t.Errorf("%+v", z)
			}
		}
	}
	run(q, "z3", plan.ZoneRun{On: "2026-05-01", When: "before", FlowGPM: 12.5}) // within measuring
	if r := retrofit(t, q, flat(t, q)); len(r.Mends) != 1 || r.Mends[0].Saving != "not reckoned" || !strings.Contains(r.Says, "saves no water here") {
		t.Errorf("%+v %s", r.Mends, r.Says)
	}
	run(q, "z3", plan.ZoneRun{On: "2026-05-01", When: "before", FlowGPM: 9})
	if r := retrofit(t, q, flat(t, q)); !strings.Contains(strings.Join(r.Assumed, " "), "Zone 3 (Side lawn) gave 9.00 gpm where its heads as found take 12.0 gpm") {
		t.Errorf("%q", r.Assumed)
	}
	run(q, "z3", plan.ZoneRun{On: "2026-05-01", When: "before", RunningPSI: 30})
	if r := retrofit(t, q, flat(t, q)); len(r.Mends) != 2 || !strings.Contains(r.Mends[0].Says, "find what takes the pressure: 30 psi where 45 psi is planned") {
		t.Errorf("%+v", r.Mends)
	}
}

// An audit is what evenness starts from.
func TestB11_AuditedEvenness(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	q := withFaults(p, map[plan.ID][]string{"h4-7": {"blocked"}, "h4-6": {"blocked"}})
	z := q.Zones["z4"]
	z.AuditedDU = 0.4
	q.Zones["z4"] = z
	r := retrofit(t, q, flat(t, q))
	for _, z := range r.Zones {
		if z.ID == "z4" && (z.DUBefore != 0.4 || !z.DUAudited || !(z.DUAfter > 0.6) || !strings.HasPrefix(z.DU, "40 % audited, then")) {
			t.Errorf("%+v", z)
		}
		if z.ID == "z5" && z.DUAudited {
			t.Errorf("%+v", z)
		}
	}
}

// Where mending takes more water, for ground that stayed dry, that is said and no saving
// is made of it.
func TestB11_NoNegativeSavings(t *testing.T) {
	t.Parallel()
	p, _ := demo(t)
	faults := map[plan.ID][]string{}
	for id, h := range p.Heads {
		if h.Zone == "z5" {
			faults[id] = []string{"blocked"}
		}
	}
	r := retrofit(t, withFaults(p, faults), flat(t, p))
	for _, m := range r.Mends {
		if m.Saves < 0 || strings.Contains(m.Saving, "-") {
			t.Errorf("%+v", m)
		}
	}
	for _, z := range r.Zones {
		if strings.Contains(z.Saving, "-") {
			t.Errorf("%+v", z)
		}
	}
}

func TestB11_CalledOff(t *testing.T) {
	t.Parallel()
	p := oldDemo(t)
	ctx, stop := context.WithCancel(context.Background())
	n, last := 0, 0.0
	_, err := Retrofit(ctx, p, flat(t, p), func(done, of int) {
		if part := float64(done) / float64(of); part < last || part > 1 {
			t.Errorf("it goes back from %g to %g", last, part)
		} else {
			last = part
		}
		if n++; n == 5 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("called off it answers %v", err)
	}
}

func BenchmarkRetrofit(b *testing.B) {
	p := oldDemo(b)
	estimates := flat(b, p)
	best(b, func() { retrofit(b, p, estimates) })
}

// Volumes are whole units of the plan, in tens above a thousand.
func TestB11_VolumesAreNoSurerThanTheyAre(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sys  units.System
		gal  float64
		want string
	}{{units.US, 8612.4, "8,610 gal"}, {units.US, 612.4, "612 gal"}, {units.Metric, 8612.4, "32,600 L"}, {units.Metric, 100.2, "379 L"}, {units.US, 0, "0 gal"}} {
		r := &reckoner{f: &oldSystem{p: &plan.Plan{Show: c.sys}}}
		if got := r.amount(c.gal); got != c.want {
			t.Errorf("%g: %s, want %s", c.gal, got, c.want)
		}
	}
}
