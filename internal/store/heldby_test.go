package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"evenfall/internal/plan"
)

// What is said before a plan is deleted: the newest backup that holds it and can
// be restored, never one that only might.
func TestRowB25_TheNewestBackupThatHoldsAPlan(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "data")
	c := newClock()
	s := openIn(t, dir, c)
	p := create(t, s)
	want := func(what string, day int, asNow bool) {
		t.Helper()
		at, same, err := s.HeldBy(ctx, p.ID)
		if err != nil {
			t.Fatal(err)
		}
		if day == 0 && !at.IsZero() || day != 0 && at.UTC().Day() != day || same != asNow {
			t.Errorf("%s: held by the backup of %v, as now: %v; want day %d, %v", what, at, same, day, asNow)
		}
	}
	again := func() {
		t.Helper()
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		c.advance(24 * time.Hour)
		s = openIn(t, dir, c)
	}
	want("a plan of today", 0, false)
	again() // 2 June
	want("after a night", 2, true)
	p = commit(t, s, p, `{"name":"Later"}`, "Rename")
	want("changed since", 2, false)
	again() // 3 June
	want("after another night", 3, true)
	if err := os.Truncate(filepath.Join(dir, "backups", "evenfall-day-2026-06-03.db"), 4096); err != nil {
		t.Fatal(err)
	}
	want("the newest is damaged", 2, false)
	if _, _, err := s.HeldBy(ctx, "pnone"); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no such plan: got %v, want plan.ErrNotFound", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}
