package web

import (
	"context"
	"net/http"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/zones"
)

func TestMendsAreToldBeforeAndAfter(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.improve = func(_ context.Context, _ *plan.Plan, o arrange.Options, tell func(done, total int)) (*arrange.Improvement, error) {
			tell(5, 10)
			if len(o.Areas) > 0 {
				return &arrange.Improvement{Says: "Nothing to mend.", Left: []string{"A dry place behind the shed."}}, nil
			}
			from := arrange.Placed{ID: "h2", At: orb.Point{15, 0}, Start: 90, Sweep: 90, Throw: 15, Nozzle: "n1", Body: "b1"}
			to := from
			to.At = orb.Point{14, 0}
			return &arrange.Improvement{Says: "One change.", Evaluations: 1234567, Mends: []arrange.Mend{{
				Kind: "move", Heads: []plan.ID{"h2"}, Area: "a1", Says: "Move head 1-2 a foot west.", Why: "It cures a dry patch.", At: orb.Point{7, 7},
				Before: arrange.State{DU: 0.6, FieldP10: 0.5, DrySqFt: 30, HardGPM: 0.4, HardPart: 0.11, RateOff: 0.05},
				After:  arrange.State{DU: 0.8, FieldP10: 0.66, HardGPM: 0.5, HardPart: 0.13, RateOff: 0.0501},
				Patch:  plan.Patch(`{"heads":{"h2":{"x_ft":14}}}`), Label: "Move head 1-2", From: []arrange.Placed{from}, To: []arrange.Placed{to},
			}}}, nil
		}
	})
	var v ImproveView
	if code := f.asks("/improve?rev=1", &v); code != http.StatusOK || !v.Offered || v.Evaluations != "1,234,567 changes weighed" || len(v.Mends) != 1 || v.Left == nil {
		t.Fatalf("%d %+v", code, v)
	}
	m := v.Mends[0]
	if m.AreaName != "Front lawn" || m.From[0].X != 15 || m.To[0].X != 14 || len(m.Patch) == 0 || m.X != 7 {
		t.Errorf("%+v", m)
	}
	want := []BeforeAfter{
		{"evenness", "Layout uniformity", "60 %", "80 %", "better"},
		{"field_low", "Field estimate, 1 in 10 under", "50 %", "66 %", "better"},
		{"dry", "Dry patches", "30 ft²", "none", "better"},
		{"hard", "On paving, buildings and off the lot", "0.40 gpm, 11 %", "0.50 gpm, 13 %", "worse"},
		{"rate", "Farthest from the zone's rate", "5 %", "5 %", "same"},
	}
	for i, w := range want {
		if m.Readings[i] != w {
			t.Errorf("%+v, want %+v", m.Readings[i], w)
		}
	}
	var none ImproveView
	if code := f.asks("/improve?areas=a1", &none); code != http.StatusOK || none.Offered || none.Says != "Nothing to mend." || len(none.Left) != 1 || none.Mends == nil {
		t.Errorf("%d %+v", code, none)
	}
}

func TestGroupsAreToldInWords(t *testing.T) {
	f := newFixture(t)
	f.searches(func(s *proposers) {
		s.group = func(_ context.Context, _ *plan.Plan, o zones.Options, tell func(done, total int)) (*zones.Offer, error) {
			tell(1, 2)
			if o.Limit == 2 {
				return nil, &zones.Refusal{At: "heads/h1", Sentence: "head 1-1 takes more than a zone may."}
			}
			return &zones.Offer{
				Says: "Two zones.", Label: "Group 4 heads", Patch: plan.Patch(`{"zones":{"z2":{"name":"Two"}}}`), Limit: 8, Minutes: 99.5, Fits: true, Window: "Fits three nights.",
				Bound: zones.Bound{Valves: 2, Proved: true, Says: "No grouping has fewer than 2 valves."}, Evaluations: 12,
				Groups: []zones.Group{
					{Zone: "z1", Name: "Front", Station: 1, Heads: []plan.ID{"h1", "h2"}, Areas: []plan.ID{"a1"}, Kind: "turf, sun, sprays", Flow: 4, Rate: 1.6, Minutes: 60, Valve: orb.Point{1, 2}, Manifold: 1, Where: "by the meter", Locked: true},
					{Zone: "z2", Station: 2, Heads: []plan.ID{"h3", "h4"}, Flow: 4},
				},
			}, nil
		}
	})
	var v GroupView
	if code := f.asks("/group?rev=1&days=2", &v); code != http.StatusOK || !v.Offered || !v.Fits || !v.Proved || v.Bound != "No grouping has fewer than 2 valves." || v.Limit != "8.00 gpm" || v.Minutes != "100 min" || len(v.Patch) == 0 {
		t.Fatalf("%d %+v", code, v)
	}
	z := v.Zones[0]
	if z.Count != "2 heads" || z.Areas != "Front lawn" || z.Flow != "4.00 of 8.00 gpm" || z.Share != 0.5 || z.Rate != "1.60 in/h" || z.Minutes != "60 min" || z.X != 1 || !z.Locked || v.Zones[1].Name != "Zone 2" {
		t.Errorf("%+v", v.Zones)
	}
	var none GroupView
	if code := f.asks("/group?limit=2", &none); code != http.StatusOK || none.Offered || none.Says != "Head 1-1 takes more than a zone may." || none.At != "heads/h1" || none.Zones == nil {
		t.Errorf("%d %+v", code, none)
	}
}
