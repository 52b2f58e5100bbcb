package store_test

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// yard is a small plan: a lawn and two heads.
const yard = `{"format":"evenfall-plan/1","name":"Yard","show":"us",
"areas":{"a1":{"name":"Front lawn","kind":"planting","outline":[[0,0],[30,0],[30,20],[0,20]]}},
"heads":{"h1":{"nozzle":"n1","body":"b1","x_ft":0,"y_ft":0,"sweep_deg":90},"h2":{"nozzle":"n1","body":"b1","x_ft":30,"y_ft":0,"start_deg":90,"sweep_deg":90}},
"zones":{"z1":{"name":"Front"}},
"nozzles":{"n1":{"name":"Spray 15","family":"spray","generic":true,"source":"made up","arc_least_deg":1,"arc_most_deg":360,"flow_follows_arc":true,"trajectory_deg":25,"profile":{"kind":"linear"},"turn_down":{"usual_share":0.75,"least_share":0.6,"flow_power":1},"best_psi":30,"rows":[{"pressure_psi":30,"throw_ft":15,"flow_gpm":3.7}],"thread":"spray"}},
"bodies":{"b1":{"name":"Body 4","generic":true,"source":"made up","height_in":4,"check_valve":false,"takes":"spray","inlet_in":0.5}}}`

// clock is a clock that a test moves.
type clock struct{ at time.Time }

func newClock() *clock                   { return &clock{time.Date(2026, 6, 1, 8, 0, 0, 0, time.UTC)} }
func (c *clock) now() time.Time          { return c.at }
func (c *clock) advance(d time.Duration) { c.at = c.at.Add(d) }

// open opens a store in a fresh folder.
func open(t *testing.T) *store.Store {
	t.Helper()
	return openIn(t, filepath.Join(t.TempDir(), "data"), newClock())
}

// openIn opens a store and closes it when the test ends, if nobody did before.
func openIn(t *testing.T, dir string, c *clock) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), dir, store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	if len(s.Warnings) > 0 {
		t.Errorf("warnings: got %q, want none", s.Warnings)
	}
	return s
}

// create keeps the yard.
func create(t *testing.T, s *store.Store) plan.Saved {
	t.Helper()
	p, err := s.Create(context.Background(), []byte(yard))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func commit(t *testing.T, s *store.Store, p plan.Saved, patch, label string) plan.Saved {
	t.Helper()
	next, err := s.Commit(context.Background(), p.ID, p.Rev, plan.Patch(patch), label)
	if err != nil {
		t.Fatalf("commit %s: %v", label, err)
	}
	return next
}

func TestStepsAreALineThatUndoAndRedoWalk(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	made := create(t, s)
	one := commit(t, s, made, `{"heads":{"h1":{"x_ft":2}}}`, "Move head 1")
	two := commit(t, s, one, `{"heads":{"h2":null}}`, "Delete head 2")

	back, step, err := s.Undo(ctx, two.ID, two.Rev)
	if err != nil || step.Label != "Delete head 2" {
		t.Fatalf("undo: got %q, %v; want the deletion taken back", step.Label, err)
	}
	want := plan.Saved{ID: two.ID, Rev: 4, Doc: one.Doc, Undo: "Move head 1", Redo: "Delete head 2"}
	if diff := cmp.Diff(want, back); diff != "" {
		t.Errorf("after undo (-want +got):\n%s", diff)
	}
	again, step, err := s.Redo(ctx, two.ID, back.Rev)
	if err != nil || step.Label != "Delete head 2" || string(again.Doc) != string(two.Doc) {
		t.Fatalf("redo: got %q, %v; want the deletion done again", step.Label, err)
	}
	back, _, err = s.Undo(ctx, two.ID, again.Rev)
	if err != nil {
		t.Fatal(err)
	}
	other := commit(t, s, back, `{"name":"Back yard"}`, "Rename")
	if _, _, err := s.Redo(ctx, two.ID, other.Rev); !errors.Is(err, plan.ErrNothing) {
		t.Errorf("redo after a new step: got %v, want ErrNothing", err)
	}
	checkHistory(t, s, two.ID, "Plan made", "Move head 1", "Rename")
	if _, err := s.Commit(ctx, two.ID, two.Rev, plan.Patch(`{}`), "x"); !isStale(err, other.Rev) {
		t.Errorf("commit on an old revision: got %v, want stale at %d", err, other.Rev)
	}
}

func isStale(err error, now int64) bool {
	var s *plan.Stale
	return errors.As(err, &s) && s.Now == now
}

func checkHistory(t *testing.T, s *store.Store, id string, want ...string) {
	t.Helper()
	steps, err := s.History(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, st := range steps {
		label := st.Label
		if st.Undone {
			label += " (undone)"
		}
		got = append(got, label)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("history (-want +got):\n%s", diff)
	}
}

func TestRefusedStepsLeaveEverythingAsItWas(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := commit(t, s, create(t, s), `{"name":"Yard two"}`, "Rename")
	for _, c := range []struct {
		name, id string
		base     int64
		patch    string
		want     func(error) bool
	}{
		{"unknown plan", "pnone", 2, `{}`, func(err error) bool { return errors.Is(err, plan.ErrNotFound) }},
		{"older revision", p.ID, 1, `{"name":"x"}`, func(err error) bool { return isStale(err, 2) }},
		{"revision to come", p.ID, 3, `{"name":"x"}`, func(err error) bool { return isStale(err, 2) }},
		{"unknown member", p.ID, 2, `{"colour":"red"}`, isProblem},
		{"crossing outline", p.ID, 2, `{"areas":{"a1":{"outline":[[0,0],[10,10],[10,0],[0,10]]}}}`, isProblem},
		{"dangling reference", p.ID, 2, `{"heads":{"h1":{"zone":"z9"}}}`, isProblem},
		{"not JSON", p.ID, 2, `{"name":`, isProblem},
		{"not an object", p.ID, 2, `[1]`, isProblem},
		{"NUL in a name", p.ID, 2, `{"name":"a\u0000b"}`, isProblem},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := s.Commit(ctx, c.id, c.base, plan.Patch(c.patch), "Try"); !c.want(err) {
				t.Errorf("got %v", err)
			}
		})
	}
	got, err := s.Load(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p, got); diff != "" {
		t.Errorf("the plan changed (-want +got):\n%s", diff)
	}
	checkHistory(t, s, p.ID, "Plan made", "Rename")
}

func isProblem(err error) bool {
	var p *plan.Problem
	return errors.As(err, &p)
}

func TestAStepSentAgainIsTheSameStep(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	made := create(t, s)
	patch := plan.Patch(`{"heads":{"h1":{"x_ft":2}}}`)
	first := commit(t, s, made, string(patch), "Move head 1")
	again, err := s.Commit(ctx, made.ID, made.Rev, patch, "Move head 1")
	if err != nil {
		t.Fatalf("the same step again: %v", err)
	}
	if diff := cmp.Diff(first, again); diff != "" {
		t.Errorf("answer to the same step again (-first +again):\n%s", diff)
	}
	checkHistory(t, s, made.ID, "Plan made", "Move head 1")
	if _, err := s.Commit(ctx, made.ID, made.Rev, plan.Patch(`{"heads":{"h1":{"x_ft":3}}}`), "Move head 1"); !isStale(err, 2) {
		t.Errorf("another step on the old revision: got %v, want stale", err)
	}
	undone, _, err := s.Undo(ctx, made.ID, first.Rev)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Commit(ctx, made.ID, made.Rev, patch, "Move head 1"); !isStale(err, undone.Rev) {
		t.Errorf("the same step after an undo: got %v, want stale", err)
	}
}

func TestAStepThatChangesNothingIsNone(t *testing.T) {
	s := open(t)
	made := create(t, s)
	same := commit(t, s, made, `{"heads":{"h1":{"x_ft":0}}}`, "Move head 1")
	if same.Rev != made.Rev {
		t.Errorf("revision: got %d, want %d", same.Rev, made.Rev)
	}
	checkHistory(t, s, made.ID, "Plan made")
	if _, _, err := s.Undo(context.Background(), made.ID, made.Rev); !errors.Is(err, plan.ErrNothing) {
		t.Errorf("undo of nothing: got %v, want ErrNothing", err)
	}
}

func TestListShowsTheLastWorkedOnFirst(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	a := create(t, s)
	c.advance(time.Second)
	b := create(t, s)
	c.advance(time.Second)
	a = commit(t, s, a, `{"name":"Side yard"}`, "Rename")
	got, err := s.List(ctx)
	if err != nil {
		t.Fatal(err)
	}
	want := []plan.Listed{
		{ID: a.ID, Name: "Side yard", Rev: 2, Changed: c.at, SHA256: plan.Digest(a.Doc), Contents: plan.Contents{Show: "us", Areas: 1, Heads: 2, Zones: 1}, Counted: true},
		{ID: b.ID, Name: "Yard", Rev: 1, Changed: c.at.Add(-time.Second), SHA256: plan.Digest(b.Doc), Contents: plan.Contents{Show: "us", Areas: 1, Heads: 2, Zones: 1}, Counted: true},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("list (-want +got):\n%s", diff)
	}
}

func TestDeleteNeedsTheRevision(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := create(t, s)
	if err := s.Delete(ctx, p.ID, 7); !isStale(err, 1) {
		t.Errorf("delete of another revision: got %v, want stale", err)
	}
	if err := s.Delete(ctx, p.ID, 1); err != nil {
		t.Fatal(err)
	}
	for name, err := range map[string]error{
		"load":    second(s.Load(ctx, p.ID)),
		"history": second(s.History(ctx, p.ID)),
		"delete":  s.Delete(ctx, p.ID, 1),
	} {
		if !errors.Is(err, plan.ErrNotFound) {
			t.Errorf("%s of a deleted plan: got %v, want ErrNotFound", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestLabelsAreOneTidyLine(t *testing.T) {
	s := open(t)
	p := create(t, s)
	for _, c := range []struct{ label, want string }{
		{"Move head 1", "Move head 1"},
		{"", "Change"},
		{" two\n lines\t", "two lines"},
		{"a\x00b\x1b[31mc", "ab[31mc"},
		{"broken \xff text", "broken text"},
		{strings.Repeat("é", 300), strings.Repeat("é", 199) + "…"},
		{"Zone 'x'; DROP TABLE plans;--", "Zone 'x'; DROP TABLE plans;--"},
	} {
		x := `1`
		if p.Rev%2 == 0 {
			x = `2`
		}
		p = commit(t, s, p, `{"heads":{"h1":{"x_ft":`+x+`}}}`, c.label)
		if p.Undo != c.want {
			t.Errorf("label %q: got %q, want %q", c.label, p.Undo, c.want)
		}
	}
}
