package proof_test

import (
	"context"
	"os"
	"regexp"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/units"
)

// foreign are figures in the units of the other plans.
var foreign = map[units.System]*regexp.Regexp{
	units.Metric: regexp.MustCompile(`\d['"]|\d ?(ft|in|gal|gpm|psi|mph|in/h|sq ft)\b|in²`),
	units.US:     regexp.MustCompile(`\d ?(m|mm|cm|L|L/min|m³/h|bar|kPa|km/h|mm/h|m²|cm²)([ .,;)]|$)`),
}

// said are all sentences about the demo once it was run, walked, caught and looked through.
func said(t *testing.T, show units.System) (out []string) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/demo.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	p.Show = show
	add := func(s ...string) { out = append(out, s...) }
	for _, by := range []string{proof.CansByGrid, proof.CansByHeads} {
		o, err := proof.OfferCans(p, "back-lawn", by, 0)
		if err != nil {
			t.Fatal(err)
		}
		add(append(o.Rules, o.Says, o.Label)...)
		if by == proof.CansByHeads {
			if p, err = plan.Preview(p.Encode(), o.Patch); err != nil {
				t.Fatal(err)
			}
		}
	}
	a, wind, from := p.Proof.Audits["a1"], units.MPH(6), units.Degrees(90)
	a.WindMPH, a.WindFromDeg, a.ThroatIn2 = &wind, &from, 16
	n := 0
	for _, id := range plan.SortedIDs(a.Cans) {
		c, ml := a.Cans[id], 14+float64(n*7%11)
		c.ML = &ml
		a.Cans[id] = c
		n++
	}
	deep := a
	deep.Scale, deep.Cans = proof.ByDepth, map[plan.ID]plan.CatchCan{}
	for _, id := range plan.SortedIDs(a.Cans) {
		c, d := a.Cans[id], units.Inches(0.3)
		c.ML, c.Depth = nil, &d
		deep.Cans[id] = c
	}
	p.Proof.Audits = map[plan.ID]plan.Audit{"a1": a, "a2": deep}
	p.Proof.Tests = map[plan.ID]plan.PressureTest{"t1": {On: "2026-05-01", Start: 62, End: 50, Minutes: 90}}
	for _, id := range []plan.ID{"z1", "z2", "z3"} {
		z := p.Zones[id]
		z.Runs = map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-02", When: "before", StaticPSI: 60, RunningPSI: 22, FlowGPM: 14}}
		p.Zones[id] = z
	}
	for i, id := range plan.SortedIDs(p.Heads) { // z1's come first
		h := p.Heads[id]
		if h.Zone != "z1" {
			continue
		}
		h.State = &plan.HeadState{Faults: []string{[]string{"tilted", "sunk", "blocked", "leaking", "wrong_nozzle"}[i%5]}}
		p.Heads[id] = h
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	s := proof.StartUp(p, d)
	for _, x := range s.Steps {
		add(x.Title, x.How, x.Caution)
	}
	for _, x := range s.Tests {
		add(x.Says)
	}
	for _, z := range s.Zones {
		add(z.Flow, z.Pressure, z.Static, z.MeterTime, z.Unknown)
		for _, r := range z.Runs {
			add(r.Says)
			for _, l := range r.Likely {
				add(l.Says, l.Why, l.Do)
			}
		}
	}
	for _, id := range []plan.ID{"a1", "a2"} {
		x, err := proof.AuditOf(context.Background(), p, id)
		if err != nil {
			t.Fatal(err)
		}
		add(append(append(append(x.Rules, x.Notes...), x.Unsure...), x.Says, x.Uses)...)
		for _, f := range x.Figures {
			add(f.Measured, f.Expected, f.Form)
		}
		for _, c := range x.Cans {
			add(c.Catch, c.Depth, c.Predicted)
		}
		for _, f := range x.Heads {
			add(f.Output, f.Look, f.Tilt, f.Verdict)
		}
	}
	r, err := proof.Retrofit(context.Background(), p, []coverage.Estimate{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	add(append(r.Assumed, r.Says)...)
	for _, z := range r.Zones {
		add(z.Flow, z.Pressure, z.Water, z.Saving, z.DU)
	}
	for _, m := range r.Mends {
		add(m.Says, m.Why, m.Saving)
	}
	return out
}

// Whatever is said is in the plan's units.
func TestAllIsSaidInThePlansUnits(t *testing.T) {
	t.Parallel()
	for show, other := range foreign {
		list := said(t, show)
		if len(list) < 300 {
			t.Errorf("%d sentences", len(list))
		}
		told := map[string]bool{}
		for _, s := range list {
			s = strings.ReplaceAll(s, " in 100", " of 100")
			if at := other.FindString(s); at != "" && !told[s] {
				told[s] = true
				t.Errorf("%s plan says %q in %q", show, at, s)
			}
		}
	}
}
