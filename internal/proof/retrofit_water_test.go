package proof

import (
	"math"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Evenness goes from what was audited to what the mended layout has in the field, as the
// drawn one does, and never below the audit.
func TestB11_EvennessFromTheAuditOn(t *testing.T) {
	t.Parallel()
	area := func(du float64) *outcome {
		return &outcome{areas: map[plan.ID]coverage.AreaReading{"a": {ID: "a", Evenness: coverage.Evenness{DU: units.Ratio(du)}}}}
	}
	r := &reckoner{field0: map[plan.ID]float64{"a": 0.8}, before: area(0.4), mended: area(0.8)}
	for _, c := range []struct{ audited, drawn, want float64 }{
		{0, 0.4, 0.32}, {0, 0.8, 0.64}, // not audited: the field estimate's share
		{0.5, 0.4, 0.5}, {0.5, 0.6, 0.57}, {0.5, 0.8, 0.64}, {0.5, 0.3, 0.5}, {0.5, 0.9, 0.64},
		{0.7, 0.4, 0.7}, {0.7, 0.8, 0.7}, // better than what the mended layout is reckoned to be
	} {
		r.audit = map[plan.ID]float64{}
		if c.audited > 0 {
			r.audit["a"] = c.audited
		}
		if got := r.even("a", c.drawn); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("audited %g, drawn %g: %g, want %g", c.audited, c.drawn, got, c.want)
		}
	}
	r.mended = area(0.402)
	if got := r.even("a", 0.402); got != 0.7 {
		t.Errorf("mending that does not show in the layout: %g, want the audit's", got)
	}
}

// Of the zones that stand for an area the least even audit counts, whichever comes first;
// the plan's own where none has one.
func TestB11_TheLeastEvenAuditCounts(t *testing.T) {
	t.Parallel()
	own := 0.7
	p := &plan.Plan{Zones: map[plan.ID]plan.Zone{"z1": {AuditedDU: 0.6}, "z2": {AuditedDU: 0.4}, "z3": {AuditedDU: 0.5}, "z4": {}}}
	zones := []coverage.ZoneReading{{ID: "z1", Areas: []plan.ID{"a"}}, {ID: "z2", Areas: []plan.ID{"a"}}, {ID: "z3", Areas: []plan.ID{"a", "b"}}, {ID: "z4", Areas: []plan.ID{"c"}}}
	areas := []coverage.AreaReading{{ID: "a"}, {ID: "b"}, {ID: "c"}}
	got := audits(p, zones, areas)
	if len(got) != 2 || got["a"] != 0.4 || got["b"] != 0.5 {
		t.Errorf("%v", got)
	}
	p.Watering.AuditedDU = &own
	if got := audits(p, zones, areas); got["a"] != 0.4 || got["c"] != 0.7 {
		t.Errorf("with the plan's own: %v", got)
	}
}
