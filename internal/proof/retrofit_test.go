package proof

import (
	"context"
	"testing"

	"evenfall/internal/plan"
)

// found notes faults of heads on a plan.
func found(p *plan.Plan, faults map[plan.ID][]string) *plan.Plan {
	q := withOwn(p)
	for id, f := range faults {
		h := q.Heads[id]
		h.State = &plan.HeadState{SeenOn: "2026-05-01", Faults: f}
		q.Heads[id] = h
	}
	return q
}

func TestLookRetrofit(t *testing.T) {
	p, _ := demo(t)
	q := found(p, map[plan.ID][]string{"h2-8": {"blocked"}, "h2-5": {"tilted"}, "h3-5": {"worn"}, "h4-2": {"sunk"}, "h4-3": {"sunk"}, "h4-7": {"leaking"}, "h1-6": {"off_target", "wrong_nozzle"}, "h1-5": {"off_target"}, "h6-1": {"hidden"}})
	z := q.Zones["z3"]
	z.Runs = map[plan.ID]plan.ZoneRun{"r1": {On: "2026-05-01", When: "before", FlowGPM: 16, RunningPSI: 58}}
	q.Zones["z3"] = z
	r, err := Retrofit(context.Background(), q, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(r.Says)
	for _, c := range r.Census {
		t.Logf("%+v", c)
	}
	for _, z := range r.Zones {
		t.Logf("%s | %s | %s | %s | %s | %s", z.Name, z.Flow, z.Pressure, z.DU, z.Water, z.Saving)
	}
	for _, m := range r.Mends {
		t.Logf("%s | %s | %s", m.Says, m.Saving, m.Why)
	}
	for _, a := range r.Assumed {
		t.Log(a)
	}
}
