package coverage

import (
	"context"
	"math"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/testdata/plans"
)

func codesOf(found []plan.Finding) string {
	var out []string
	for _, f := range found {
		out = append(out, f.Code)
	}
	return strings.Join(out, " ")
}

// watered is the demo.
func watered(t *testing.T) *plan.Plan {
	t.Helper()
	p, err := plan.Decode(plans.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The demo's week at peak against what it may be watered in. In turn its zones run some
// 1,230 minutes: on three nights of eight hours they fit, on two they do not (trade A11,
// row 41).
func TestRow41_AWeekAtPeakAgainstItsHours(t *testing.T) {
	t.Parallel()
	whole := watered(t)
	r, err := Compute(context.Background(), whole)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		water  plan.Watering
		design units.GPM
		words  []string // nil: nothing is found
	}{
		"three days":           {plan.Watering{Days: []string{"mon", "wed", "fri"}, StartHHMM: "22:00", EndHHMM: "06:00"}, 0, nil},
		"two days":             {plan.Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "06:00"}, 0, []string{"on each of 2 days", "against 8 h allowed", "Longest runs zone 3"}},
		"nothing is said":      {plan.Watering{}, 0, nil},
		"two days, no hours":   {plan.Watering{Days: []string{"mon", "thu"}}, 0, []string{"against 8 h allowed"}},
		"three hours, no days": {plan.Watering{StartHHMM: "23:00", EndHHMM: "02:00"}, 0, []string{"on each of 3 days", "against 3 h allowed"}},
		"one day in two":       {plan.Watering{Every: 2, StartHHMM: "22:00", EndHHMM: "06:00"}, 0, nil},
		"one day in four":      {plan.Watering{Every: 4, StartHHMM: "22:00", EndHHMM: "06:00"}, 0, []string{"1.8 days a week"}},
		"little is needed":     {plan.Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "06:00", PeakInWk: 1}, 0, nil},
		"side by side":         {plan.Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "06:00", Together: true}, 20, nil},
		"not even so":          {plan.Watering{Days: []string{"mon"}, StartHHMM: "22:00", EndHHMM: "06:00", Together: true}, 13, []string{"even side by side"}},
		"flow not known":       {plan.Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "06:00", Together: true}, 0, []string{"in turn"}},
	} {
		p := *whole
		p.Watering, p.Controller.Soaks = c.water, true
		found := CheckProgram(&p, r, c.design)
		if c.words == nil {
			if len(found) > 0 {
				t.Errorf("%s: found %s", name, found[0].Sentence)
			}
			continue
		}
		if codesOf(found) != plan.WindowShort {
			t.Errorf("%s: found %q", name, codesOf(found))
			continue
		}
		f := found[0]
		for _, w := range c.words {
			if !strings.Contains(f.Sentence, w) {
				t.Errorf("%s: %q is not in %s", name, w, f.Sentence)
			}
		}
		if f.At == nil || len(f.About) != 1 || !strings.HasPrefix(string(f.About[0]), "zones/") {
			t.Errorf("%s: about %v at %v", name, f.About, f.At)
		}
	}
	p := *whole
	audited := 0.9
	p.Watering = plan.Watering{Days: []string{"mon", "thu"}, StartHHMM: "22:00", EndHHMM: "06:00", AuditedDU: &audited}
	if found := CheckProgram(&p, r, 0); len(found) > 0 {
		t.Errorf("audited at 90 %%: %s", found[0].Sentence)
	}
}

// What would make a week fit does: with the days or the hours named nothing is found.
func TestRow41_WhatIsOfferedFits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ sum, days, window float64 }{{1227, 2, 480}, {1227, 1, 480}, {500, 3, 120}, {5000, 7, 60}, {20000, 2, 600}} {
		says := wider(c.sum, c.days, c.window)
		day, need := c.sum/c.days, math.Ceil(c.sum/c.window)
		if has := strings.Contains(says, hours(day)); has != (day <= 1440) {
			t.Errorf("%g min on %g days: %s", c.sum, c.days, says)
		}
		if has := strings.Contains(says, plan.Plural(int(need), "day", "days")+" a week"); has != (need <= 7) {
			t.Errorf("%g min in %g: %s", c.sum, c.window, says)
		}
	}
}

// Water faster than the soil takes it in wants cycles: as many as its longest run goes
// into a watering (agronomy f-2, g-C). It is found where the controller has fewer starts,
// and only of soil that is said (trade row 40).
func TestRow40_CyclesAgainstStarts(t *testing.T) {
	t.Parallel()
	whole := watered(t)
	r, err := Compute(context.Background(), whole)
	if err != nil {
		t.Fatal(err)
	}
	strip := func(change func(*plan.Plan, *plan.Area)) (found []plan.Finding) {
		p := *whole
		p.Areas = map[plan.ID]plan.Area{}
		for id, a := range whole.Areas {
			a.Soil = ""
			if id == "strip" {
				a.Soil = "clay_loam"
				change(&p, &a)
			}
			p.Areas[id] = a
		}
		return CheckProgram(&p, r, 0)
	}
	starts := func(n int) func(*plan.Plan, *plan.Area) {
		return func(p *plan.Plan, _ *plan.Area) { p.Controller.Starts = n }
	}
	found := strip(starts(1))
	if codesOf(found) != plan.CyclesShort || found[0].About[0] != "areas/strip" || found[0].At == nil {
		t.Fatalf("found %q, %+v", codesOf(found), found)
	}
	cycles := found[0].Values["cycles"]
	week := Weeks(whole, r, ExpectedDU(whole, r), 0)["strip"]
	longest := 60 * .26 / (float64(week.Rate) - .2)
	if want := math.Ceil(week.Minutes / 3 / longest); cycles != want || want < 2 {
		t.Errorf("%g cycles, by hand %g", cycles, want)
	}
	for name, change := range map[string]func(*plan.Plan, *plan.Area){
		"starts enough":   starts(int(cycles)),
		"starts unsaid":   starts(0), // the usual four
		"it soaks itself": func(p *plan.Plan, _ *plan.Area) { p.Controller.Starts, p.Controller.Soaks = 1, true },
		"soil unsaid":     func(p *plan.Plan, a *plan.Area) { p.Controller.Starts, a.Soil = 1, "" },
	} {
		if found := strip(change); len(found) > 0 {
			t.Errorf("%s: found %s", name, found[0].Sentence)
		}
	}
	steep := strip(func(p *plan.Plan, a *plan.Area) { p.Controller.Starts, a.SlopeShare = 1, .15 })
	if len(steep) != 1 || steep[0].Values["cycles"] <= cycles {
		t.Errorf("on a slope: %+v", steep)
	}
}

// An audit of a zone goes before the plan's, and that before published tests.
func TestExpectedDUIsTheAudits(t *testing.T) {
	t.Parallel()
	p := watered(t)
	r, err := Compute(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	of := func(id plan.ID) units.Ratio {
		for _, e := range ExpectedDU(p, r) {
			if e.ID == id {
				return e.Mean
			}
		}
		return 0
	}
	if got := of("strip"); got != .49 {
		t.Errorf("strips came out at %g in tests", got)
	}
	all := 0.6
	p.Watering.AuditedDU = &all
	z := p.Zones["z5"]
	z.AuditedDU = 0.7
	p.Zones["z5"] = z
	if got := of("strip"); got != .7 {
		t.Errorf("the strip's zone was audited at .7, not %g", got)
	}
	if got := of("side-lawn"); got != .6 {
		t.Errorf("all were audited at .6, not %g", got)
	}
}
