package web

import (
	"context"
	"encoding/binary"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
)

// FuzzRouter sends requests of every shape through the whole site. Whatever is
// asked, the answer is no fault of ours and carries the headers, and what only
// reads leaves the plan as it was.
func FuzzRouter(f *testing.F) {
	for _, seed := range []struct{ method, target, kind, match, body string }{
		{"GET", "/", "", "", ""},
		{"GET", "/api/plans/x", "", "", ""},
		{"PATCH", "/api/plans/PLAN", "application/merge-patch+json", `"1"`, `{"name":"x"}`},
		{"PATCH", "/api/plans/PLAN", "application/merge-patch+json", `"2"`, `{"heads":{"h1":{"x_ft":1e3}}}`},
		{"POST", "/api/plans", "application/json", "", `{"name":"x","show":"us"}`},
		{"POST", "/api/import/geojson?lat=1&lon=2", "application/geo+json", "", `{"type":"Polygon","coordinates":[]}`},
		{"POST", "/api/catalog/preview", "text/csv", "", "name\nx\n"},
		{"GET", "/api/plans/PLAN/rate?x=1&y=2", "", "", ""},
		{"POST", "/api/plans/PLAN/undo", "", `"1"`, ""},
		{"GET", "/api/plans/PLAN/live", "", "", ""},
		{"GET", "/static/%2e%2e/x", "", "", ""},
		{"GET", "/plans/PLAN/files/parts.csv", "", "", ""},
		{"GET", "/plans/PLAN/packs/owner.pdf?paper=a4&scale=250&date=2026-05-01&rev=1", "", "", ""},
		{"GET", "/plans/PLAN/packs/owner/pages/1.svg?paper=arch_d&scale=fit", "", "", ""},
		{"GET", "/api/plans/PLAN/packs/owner?paper=letter", "", "", ""},
		{"OPTIONS", "*", "", "", ""},
		{"GET", "/api/plans/PLAN/arrange?areas=a1&families=spray&hard=2&angle=15&throw=1&facing=1&effort=quick&seed=1", "", "", ""},
		{"GET", "/api/plans/PLAN/arrange/options?rev=1", "", "", ""},
		{"GET", "/api/plans/PLAN/improve?effort=9", "", "", ""},
		{"GET", "/api/plans/PLAN/turnoff?area=a1&rev=1&angle=15", "", "", ""},
		{"GET", "/api/plans/PLAN/group?limit=9&days=3&hours=8&need=1.4", "", "", ""},
		{"GET", "/plans/PLAN/program?month=july", "", "", ""},
		{"GET", "/api/plans/PLAN/water?rev=1", "", "", ""},
		{"POST", "/api/plans/PLAN/catches?audit=a1", "text/csv", "", "can,ml\n1,20\n"},
		{"POST", "/api/plans/PLAN/weather", "text/csv", "", "month,tmax_c,tmin_c\n2024-07,30,15\n"},
		{"PATCH", "/api/plans/PLAN", "application/merge-patch+json", `"1"`, `{"watering":{"et_zone":9,"days":["mon"]}}`},
		{"GET", "/plans/PLAN/yard", "", "", ""},
		{"GET", "/api/plans/PLAN/proof?rev=1", "", "", ""},
		{"GET", "/api/plans/PLAN/cans?area=a1&by=heads&count=24", "", "", ""},
		{"GET", "/api/plans/PLAN/audit?audit=a1", "", "", ""},
		{"GET", "/api/plans/PLAN/retrofit", "", "", ""},
		{"POST", "/api/import/handover", "application/zip", "", "PK\x05\x06"},
		{"PATCH", "/api/plans/PLAN", "application/merge-patch+json", `"1"`, `{"zones":{"z1":{"runs":{"r1":{"static_psi":60,"running_psi":1e-9,"flow_gpm":1e9,"meter_s":0}}}}}`},
		{"PATCH", "/api/plans/PLAN", "application/merge-patch+json", `"1"`, `{"proof":{"audits":{"a1":{"area":"a1","runs":{"z1":10},"throat_in2":16,"cans":{"c1":{"x_ft":3,"y_ft":4,"catch_ml":9}}}}}}`},
	} {
		f.Add(seed.method, seed.target, seed.kind, seed.match, seed.body)
	}
	shared := newFixture(f)
	shared.searches(func(s *proposers) { // what is sought takes its time; how it is asked for is fuzzed
		s.arrange = func(context.Context, *plan.Plan, arrange.Options, func(arrange.Stage)) (*arrange.Proposal, error) {
			return madeUp(0), nil
		}
		s.improve = func(context.Context, *plan.Plan, arrange.Options, func(done, total int)) (*arrange.Improvement, error) {
			return &arrange.Improvement{}, nil
		}
	})
	f.Fuzz(func(t *testing.T, method, target, kind, match, body string) {
		fx := *shared
		fx.t = t
		target = strings.ReplaceAll(target, "PLAN", fx.plan.ID)
		r, err := http.NewRequestWithContext(t.Context(), method, target, strings.NewReader(body))
		if err != nil || method == http.MethodDelete { // the plan is to stay
			return
		}
		r.Host = testHost
		r.Header.Set("Content-Type", kind)
		r.Header.Set("If-Match", match)
		before := fx.now()
		w := httptest.NewRecorder()
		fx.h.ServeHTTP(w, r)
		if w.Code == http.StatusInternalServerError {
			t.Fatalf("%s %q: %s", method, target, w.Body)
		}
		if w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s %q: the headers are missing", method, target)
		}
		if made, ok := strings.CutPrefix(w.Header().Get("Location"), "/plans/"); ok { // keep the list short
			if err := fx.store.Delete(t.Context(), made, 1); err != nil {
				t.Error(err)
			}
		}
		if now := fx.now(); reads(method) && now.Rev != before.Rev {
			t.Errorf("%s %q changed the plan", method, target)
		}
	})
}

// FuzzPreview sends messages of every shape up the live channel: each is
// refused in a sentence or answered with a whole frame, and none changes the
// plan.
func FuzzPreview(f *testing.F) {
	for _, message := range []string{
		`{"rev":1,"seq":1,"patch":{}}`,
		`{"rev":1,"seq":2,"patch":{"heads":{"h1":{"x_ft":3.5,"y_ft":-2}}}}`,
		`{"rev":1,"seq":3,"patch":{"heads":{"h1":null},"areas":{"a1":{"outline":[[0,0],[9,9],[9,0],[0,9]]}}}}`,
		`{"rev":9,"seq":4294967295,"patch":{"heads":{"h1":{"x_ft":1e9}}}}`,
		`{"rev":1,"seq":-1,"patch":{}}`, `{"rev":1,"patch":null}`, `{"rev":1,"seq":1,"patch":[]}`, `{}`, `null`, `{"rev":1,"seq":1,"patch":{},"more":1}`,
		`{"rev":1,"seq":5,"patch":{"options":{"cell_ft":0.0001},"zones":{"z1":{"pressure_psi":1e-9}}}}`,
	} {
		f.Add([]byte(message))
	}
	shared := newFixture(f)
	f.Fuzz(func(t *testing.T, message []byte) {
		fx := *shared
		fx.t = t
		p, err := readPreview(message)
		if err != nil {
			return
		}
		v := &viewer{site: fx.site, o: fx.site.desk.take(fx.plan.ID, fx.site.Now())}
		frame, err := v.compute(t.Context(), p)
		switch {
		case err != nil:
			if status, _ := explain(err); status == http.StatusInternalServerError {
				t.Fatalf("%q: %v", message, err)
			}
		case len(frame) < frameHead || binary.LittleEndian.Uint32(frame) != frameMagic || binary.LittleEndian.Uint32(frame[8:]) != p.Seq:
			t.Fatalf("%q: a frame of %d bytes that begins %x", message, len(frame), frame[:min(len(frame), frameHead)])
		}
		if now := fx.now(); now.Rev != fx.plan.Rev {
			t.Fatalf("%q changed the plan", message)
		}
	})
}
