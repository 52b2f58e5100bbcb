package web

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// testHost is the Host the site under test answers to.
const testHost = "127.0.0.1:8740"

// yard is a lawn with a head in each corner, a walk beside it, and a fifth head
// in no zone.
const yard = `{"format":"evenfall-plan/1","name":"Yard","show":"us",
"site":{"latitude_deg":40,"longitude_deg":-105,"lot":[[-5,-5],[40,-5],[40,30],[-5,30]]},
"areas":{
 "a1":{"name":"Front lawn","kind":"planting","outline":[[0,0],[15,0],[15,15],[0,15]]},
 "a2":{"name":"Walk","kind":"paving","outline":[[15,0],[19,0],[19,15],[15,15]]}},
"heads":{
 "h1":{"tag":"1-1","nozzle":"n1","body":"b1","x_ft":0,"y_ft":0,"sweep_deg":90,"zone":"z1"},
 "h2":{"tag":"1-2","nozzle":"n1","body":"b1","x_ft":15,"y_ft":0,"start_deg":90,"sweep_deg":90,"zone":"z1"},
 "h3":{"tag":"1-3","nozzle":"n1","body":"b1","x_ft":15,"y_ft":15,"start_deg":180,"sweep_deg":90,"zone":"z1"},
 "h4":{"tag":"1-4","nozzle":"n1","body":"b1","x_ft":0,"y_ft":15,"start_deg":270,"sweep_deg":90,"zone":"z1"}},
"zones":{"z1":{"name":"Front","station":1}},
"supply":{"flow_gpm":10,"residual_psi":45},
"nozzles":{"n1":{"name":"Spray 15","family":"spray","generic":true,"source":"made up","arc_least_deg":1,"arc_most_deg":360,"flow_follows_arc":true,"trajectory_deg":25,"profile":{"kind":"linear"},"turn_down":{"usual_share":0.75,"least_share":0.6,"flow_power":1},"best_psi":30,"rows":[{"pressure_psi":30,"throw_ft":15,"flow_gpm":3.7}],"thread":"spray"}},
"bodies":{"b1":{"name":"Body 4","generic":true,"source":"made up","height_in":4,"check_valve":false,"takes":"spray","inlet_in":0.5}}}`

// fixture is a site on a real store in a folder of its own.
type fixture struct {
	t     testing.TB
	store *store.Store
	site  *Site
	h     http.Handler
	plan  plan.Saved // the yard
}

func newFixture(t testing.TB) *fixture {
	t.Helper()
	return newFixtureWith(t, func(*Options) {})
}

func newFixtureWith(t testing.TB, change func(*Options)) *fixture {
	t.Helper()
	s, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "data"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	o := Options{Plans: s, Hosts: []string{testHost, "localhost:8740", "[::1]:8740"}, Data: s.Dir(), Version: "test"}
	change(&o)
	f := &fixture{t: t, store: s, site: New(o)}
	f.h = f.site.Handler()
	f.plan = f.keep(yard)
	return f
}

// keep stores a document as a new plan.
func (f *fixture) keep(doc string) plan.Saved {
	f.t.Helper()
	p, err := f.store.Create(context.Background(), []byte(doc))
	if err != nil {
		f.t.Fatal(err)
	}
	return p
}

// now is the yard as stored.
func (f *fixture) now() plan.Saved {
	f.t.Helper()
	p, err := f.store.Load(context.Background(), f.plan.ID)
	if err != nil {
		f.t.Fatal(err)
	}
	return p
}

// do asks the site as its own page would; header lines are "Name: value".
func (f *fixture) do(method, path, body string, header ...string) *httptest.ResponseRecorder {
	f.t.Helper()
	var b io.Reader
	if body != "" {
		b = strings.NewReader(body)
	}
	r := httptest.NewRequestWithContext(f.t.Context(), method, "http://"+testHost+path, b)
	r.Host = testHost
	for _, line := range header {
		name, value, ok := strings.Cut(line, ": ")
		if !ok {
			f.t.Fatalf("header line %q", line)
		}
		if name == "Host" {
			r.Host = value
			continue
		}
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	f.h.ServeHTTP(w, r)
	return w
}

// scenario is one request and what must come of it. In path and header PLAN
// stands for the id of the yard.
type scenario struct {
	name         string
	method, path string
	header       []string
	body         string
	status       int
	has, hasNot  []string // in the body
	hasHeader    []string // "Name: value"
}

// play runs scenarios one after another on one site.
func (f *fixture) play(t *testing.T, list []scenario) {
	t.Helper()
	for _, sc := range list {
		t.Run(sc.name, func(t *testing.T) {
			w := f.do(sc.method, strings.ReplaceAll(sc.path, "PLAN", f.plan.ID), sc.body, sc.header...)
			body := w.Body.String()
			if w.Code != sc.status {
				t.Errorf("status: got %d, want %d; body %.300s", w.Code, sc.status, body)
			}
			for _, s := range sc.has {
				if !strings.Contains(body, s) {
					t.Errorf("body does not hold %q: %.400s", s, body)
				}
			}
			for _, s := range sc.hasNot {
				if strings.Contains(body, s) {
					t.Errorf("body holds %q: %.400s", s, body)
				}
			}
			for _, line := range sc.hasHeader {
				name, want, _ := strings.Cut(line, ": ")
				if got := w.Header().Get(name); got != want {
					t.Errorf("header %s: got %q, want %q", name, got, want)
				}
			}
		})
	}
}

// The header lines the page sends with a step.
const (
	patchType = "Content-Type: application/merge-patch+json"
	jsonType  = "Content-Type: application/json"
)

// day is a fixed moment for tests with a clock.
var day = time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)
