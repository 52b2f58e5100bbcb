package web

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// faulty is a store that fails on loading the way its kind says.
type faulty struct {
	Plans
	fault string
}

func (s faulty) Load(ctx context.Context, id string) (plan.Saved, error) {
	switch s.fault {
	case "panic":
		panic("the bug of the day: secret plan text")
	case "unknown":
		return plan.Saved{}, fmt.Errorf("disk controller said 0x17")
	case "damaged":
		return plan.Saved{}, &plan.Damaged{ID: id, Reason: "its checksum differs"}
	case "full":
		return plan.Saved{}, fmt.Errorf("store: %w", plan.ErrNoRoom)
	case "slow":
		return plan.Saved{}, context.DeadlineExceeded
	}
	return s.Plans.Load(ctx, id)
}

func (s faulty) List(ctx context.Context) ([]plan.Listed, error) {
	list, err := s.Plans.List(ctx)
	for i := range list {
		list[i].Damaged = s.fault == "damaged"
	}
	return list, err
}

// withFault returns a site whose store fails, and what it logs.
func withFault(t *testing.T, fault string) (*fixture, *bytes.Buffer) {
	var log bytes.Buffer
	f := newFixtureWith(t, func(o *Options) {
		o.Plans = faulty{o.Plans, fault}
		o.Log = slog.New(slog.NewTextHandler(&log, nil))
	})
	return f, &log
}

func TestRowB32_AFaultIsNumberedAndTheServerLives(t *testing.T) {
	for _, fault := range []string{"panic", "unknown"} {
		t.Run(fault, func(t *testing.T) {
			f, log := withFault(t, fault)
			number := regexp.MustCompile(`number ([0-9a-f]{8}) in`)
			w := f.do("GET", "/api/plans/"+f.plan.ID, "")
			m := number.FindStringSubmatch(w.Body.String())
			if w.Code != http.StatusInternalServerError || m == nil {
				t.Fatalf("got %d %s, want 500 with a number", w.Code, w.Body)
			}
			if !strings.Contains(w.Body.String(), "Your data is safe") || strings.Contains(w.Body.String(), "secret") || strings.Contains(w.Body.String(), "0x17") {
				t.Errorf("the answer: %s", w.Body)
			}
			if !strings.Contains(log.String(), m[1]) {
				t.Errorf("the log does not have number %s: %s", m[1], log)
			}
			page := f.do("GET", "/plans/"+f.plan.ID, "")
			if page.Code != http.StatusInternalServerError || !strings.Contains(page.Body.String(), "Your data is safe") || !strings.Contains(page.Body.String(), f.store.Dir()) {
				t.Errorf("the page: got %d %s", page.Code, page.Body)
			}
			if page.Header().Get("Content-Security-Policy") != contentPolicy {
				t.Error("the page of a fault has no content policy")
			}
			if w := f.do("GET", "/help", ""); w.Code != http.StatusOK {
				t.Errorf("after it: got %d, want 200", w.Code)
			}
			if got := f.now(); got.Rev != 1 {
				t.Errorf("the plan: revision %d, want 1", got.Rev)
			}
		})
	}
}

func TestTroubleOfTheStoreIsToldInWords(t *testing.T) {
	for _, c := range []struct {
		fault  string
		status int
		has    string
	}{
		{"damaged", http.StatusGone, "was left as it is"},
		{"full", http.StatusInsufficientStorage, "disk is full"},
		{"slow", http.StatusServiceUnavailable, "longer than a minute"},
	} {
		f, _ := withFault(t, c.fault)
		w := f.do("GET", "/api/plans/"+f.plan.ID, "")
		if w.Code != c.status || !strings.Contains(w.Body.String(), c.has) {
			t.Errorf("%s: got %d %s, want %d with %q", c.fault, w.Code, w.Body, c.status, c.has)
		}
	}
}

func TestADamagedPlanDoesNotHideTheOthers(t *testing.T) {
	f, _ := withFault(t, "damaged")
	if w := f.do("GET", "/", ""); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "damaged") || !strings.Contains(w.Body.String(), "Yard") {
		t.Errorf("the list: got %d %s", w.Code, w.Body)
	}
}

// bannedWords are those our sentences do without.
var bannedWords = regexp.MustCompile(`(?i)\b(invalid|illegal|oops|failed to parse|something went wrong)\b`)

func TestRowA28_ErrorsSayWhatToDo(t *testing.T) {
	f := newFixture(t)
	said := 0
	for _, w := range []struct{ method, path, body string }{
		{"GET", "/none", ""}, {"GET", "/api/none", ""}, {"PUT", "/", ""}, {"PATCH", "/api/plans/x", "{}"}, {"POST", "/api/plans", "x"},
		{"POST", "/api/import/geojson?lat=x&lon=1", "{}"}, {"GET", "/api/plans/" + f.plan.ID + "/rate?x=abc&y=1", ""},
	} {
		body := f.do(w.method, w.path, w.body, jsonType).Body.String()
		if bannedWords.MatchString(body) {
			t.Errorf("%s %s: %s", w.method, w.path, bannedWords.FindString(body))
		}
		said++
	}
	if said == 0 {
		t.Error("nothing was asked")
	}
}
