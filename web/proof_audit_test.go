package web

import (
	"encoding/json"
	"math"
	"net/http"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// demoPlan is the plan of the fixture as it is stored.
func (f *fixture) demoPlan() *plan.Plan {
	f.t.Helper()
	p, err := plan.Decode(f.now().Doc)
	if err != nil {
		f.t.Fatal(err)
	}
	return p
}

// catches are what the cans of an audit would catch, were each head as the plan draws it
// but that head gave only a share: read off the predictions with and without it.
func (f *fixture) catches(id, head plan.ID, share float64) map[plan.ID]any {
	f.t.Helper()
	p := f.demoPlan()
	a := p.Proof.Audits[id]
	one := 1.0
	for can, c := range a.Cans {
		c.ML = &one
		a.Cans[can] = c
	}
	whole, err := proof.AuditOf(f.t.Context(), p, id)
	if err != nil {
		f.t.Fatal(err)
	}
	h := p.Heads[head]
	h.Status = plan.Remove
	p.Heads[head] = h
	without, err := proof.AuditOf(f.t.Context(), p, id)
	if err != nil {
		f.t.Fatal(err)
	}
	const throatIn2, mlPerIn3 = 16, 16.387064 // the cans of the test; exact, by the inch
	out := map[plan.ID]any{}
	for i, c := range whole.Cans {
		with, rest := float64(*c.Expected), float64(*without.Cans[i].Expected)
		ml := (rest + share*(with-rest)) * throatIn2 * mlPerIn3
		out[c.ID] = map[string]any{"catch_ml": math.Round(ml*2) / 2} // as a cylinder of half millilitres reads
	}
	return out
}

// From cans laid out to minutes keyed in: an audit of the demo's back lawn with one head
// half blocked names that head, and its uniformity, taken as a step, has the zone run
// longer.
func TestAnAuditLeadsToTheHeadAndToTheMinutes(t *testing.T) {
	const head = plan.ID("h4-7")
	f := climateOfDemo(t)
	var cans CansView
	if code := f.asks("/cans?area=back-lawn&by=heads&count=36", &cans); code != http.StatusOK {
		t.Fatalf("%d %+v", code, cans)
	}
	f.patches(string(cans.Patch))
	var v AuditView
	at := "/audit?audit=" + string(cans.Audit)
	if code := f.asks(at, &v); code != http.StatusOK || v.Known || v.Says == "" || len(v.Cans) != 36 {
		t.Fatalf("before any can is read: %d %+v", code, v)
	}
	b, err := json.Marshal(map[string]any{"proof": map[string]any{"audits": map[plan.ID]any{cans.Audit: map[string]any{
		"on": "2026-05-30", "throat_in2": 16, "wind_mph": 2, "cans": f.catches(cans.Audit, head, 0.5),
	}}}})
	if err != nil {
		t.Fatal(err)
	}
	f.patches(string(b))
	if code := f.asks(at, &v); code != http.StatusOK || !v.Known || len(v.Figures) == 0 || len(v.Cans) != 36 {
		t.Fatalf("%d %+v", code, v)
	}
	noNulls(t, v)
	if len(v.Faults) == 0 || v.Faults[0].Head != head || !v.Faults[0].Sure || v.Faults[0].Output == "" || v.Faults[0].Look == "" {
		t.Errorf("at fault: %+v", v.Faults)
	}
	for _, c := range v.Cans {
		if c.Measured == nil || c.Expected == nil || c.Catch == "" || c.Predicted == "" || c.Percent == "" || c.Foreseen == "" {
			t.Errorf("%+v", c)
		}
	}
	var p ProofView
	if code := f.asks("/proof", &p); code != http.StatusOK || len(p.Audits) != 1 || p.Audits[0].Read != 36 || !strings.Contains(f.yardPage(t), p.Audits[0].Says) {
		t.Errorf("%d %+v", code, p.Audits)
	}

	minutes := func() string {
		t.Helper()
		var w WaterView
		if code := f.asks("/water", &w); code != http.StatusOK || !w.Offered {
			t.Fatalf("%d %+v", code, w)
		}
		for _, program := range w.Months[w.Peak].Programs {
			for _, s := range program.Stations {
				if s.Zone == "z4" {
					return s.Minutes + " at " + program.Starts + " on " + program.Days
				}
			}
		}
		return ""
	}
	before := minutes()
	if len(v.Patch) == 0 || v.Label == "" || v.Uses == "" {
		t.Fatalf("%+v", v)
	}
	f.patches(string(v.Patch))
	if du := f.demoPlan().Zones["z4"].AuditedDU; !(du > 0.2 && du < 0.9) {
		t.Errorf("the zone's audited uniformity is %g", du)
	}
	if after := minutes(); after == before {
		t.Errorf("zone 4 runs %s before and after", after)
	}
}
