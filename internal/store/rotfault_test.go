package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// TestRowB17_WhatRottedIsNamedAndNothingIsWritten asks for what rotted: each time the
// answer names it, and not a row is different after.
func TestRowB17_WhatRottedIsNamedAndNothingIsWritten(t *testing.T) {
	ctx := context.Background()
	empty := plan.Digest([]byte("{}"))
	for _, c := range []struct {
		name string
		rot  string
		args []any
		do   func(t *testing.T, s *store.Store, p plan.Saved, point int64) error
		says string
	}{
		{"undo over a patch that is none", "UPDATE steps SET inverse = CAST('x' AS BLOB) WHERE pos = 3", nil, undoing, "its step 3 no longer fits it"},
		{"undo over a patch that leads elsewhere", `UPDATE steps SET inverse = CAST('{"name":"Z"}' AS BLOB) WHERE pos = 3`, nil, undoing, "does not lead back to step 2"},
		{"back to a kept state", "UPDATE points SET doc = CAST('x' AS BLOB) WHERE kind = 'named'", nil, func(t *testing.T, s *store.Store, p plan.Saved, point int64) error {
			return second(s.GoBackTo(ctx, p.ID, p.Rev, point))
		}, "the checksum of its point “Agreed” differs"},
		{"a copy of what is no plan", "UPDATE plans SET doc = CAST('{}' AS BLOB), sha256 = ?", []any{empty}, func(t *testing.T, s *store.Store, p plan.Saved, _ int64) error {
			return second(s.Copy(ctx, p.ID, "Copy"))
		}, "format"},
		{"recovering what is no plan", "UPDATE points SET doc = CAST('{}' AS BLOB), sha256 = ?", []any{empty}, func(t *testing.T, s *store.Store, p plan.Saved, _ int64) error {
			spoil(t, s, rot)
			spoil(t, s, "UPDATE steps SET sha256 = 'x'")
			return second(s.Recover(ctx, p.ID))
		}, "format"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t)
			p := moved(t, s, create(t, s), 3)
			point, err := s.KeepPoint(ctx, p.ID, p.Rev, 2, "Agreed")
			if err != nil {
				t.Fatal(err)
			}
			spoil(t, s, c.rot, c.args...)
			plans := func() (list []string) {
				all, err := s.List(ctx)
				if err != nil {
					t.Fatal(err)
				}
				for _, l := range all {
					list = append(list, l.ID+l.Name)
				}
				return list
			}
			before, listed := history(t, s, p.ID), plans()
			says(t, "asked", c.do(t, s, p, point.ID), c.says)
			if diff := cmp.Diff(before, history(t, s, p.ID)); diff != "" {
				t.Errorf("history (-before +after):\n%s", diff)
			}
			if diff := cmp.Diff(listed, plans()); diff != "" {
				t.Errorf("plans (-before +after):\n%s", diff)
			}
		})
	}
}

func undoing(_ *testing.T, s *store.Store, p plan.Saved, _ int64) error {
	_, _, err := s.Undo(context.Background(), p.ID, p.Rev)
	return err
}

// TestRowB22_GoingBackMindsTheRevision goes back from a page that is behind, and to where the
// plan is.
func TestRowB22_GoingBackMindsTheRevision(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 3)
	if _, err := s.GoBack(ctx, p.ID, p.Rev-1, 1); !isStale(err, p.Rev) {
		t.Errorf("from a page that is behind: got %v, want it told of revision %d", err, p.Rev)
	}
	if _, _, err := s.Undo(ctx, p.ID, p.Rev-1); !isStale(err, p.Rev) {
		t.Errorf("undo from a page that is behind: got %v", err)
	}
	if got, err := s.GoBack(ctx, p.ID, p.Rev, 3); err != nil || got.Rev != p.Rev {
		t.Errorf("to where it is: revision %d, %v; want no step", got.Rev, err)
	}
	if got := history(t, s, p.ID); len(got) != 4 {
		t.Errorf("%d steps, want the four there were", len(got))
	}
}

// TestRowB25_BackupsThatCannotBeCountedOnAreNot puts next to a good backup a text, one made of
// damaged plans, and a file of the user's with a name like ours.
func TestRowB25_BackupsThatCannotBeCountedOnAreNot(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, filepath.Join(t.TempDir(), "data"), c)
	p := moved(t, s, create(t, s), 2)
	mine := filepath.Join(s.Dir(), "backups", "evenfall-day-holiday.db")
	if err := os.MkdirAll(filepath.Dir(mine), 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, mine, []byte("not a database"))
	c.advance(time.Hour)
	if at, _, err := s.HeldBy(ctx, p.ID); err != nil || !at.IsZero() {
		t.Errorf("with a text only: held by the backup of %v, %v; want none", at, err)
	}
	spoil(t, s, "UPDATE points SET doc = CAST('x' AS BLOB)")
	says(t, "daily backup", s.BackUpDaily(ctx), "a kept state of the plan")
	if at, same, err := s.HeldBy(ctx, p.ID); err != nil || !at.Equal(c.at) || !same {
		t.Errorf("held by the backup of %v, as now %v, %v; want today's", at, same, err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(s.File()); err != nil {
		t.Fatal(err)
	}
	_, err := store.Open(ctx, s.Dir()) // rather a backup with one thing damaged than none
	says(t, "opened", err, "it is missing or empty", "The newest good backup is", "evenfall-day-2026-06-01.db")
	_, err = store.Restore(ctx, s.Dir(), "evenfall-day-2026-06-01.db/x")
	says(t, "a backup in a file", err, "there is no file")
	_, err = store.Restore(ctx, s.Dir(), filepath.Join(mine, "x"))
	says(t, "a backup in a file, whole", err, "the backup cannot be read")
	if _, err := store.Restore(ctx, s.Dir(), "evenfall-day-2026-06-01.db"); err != nil {
		t.Fatal(err)
	}
	c.advance(time.Hour)
	s = openIn(t, s.Dir(), c)
	if said := daily(s, c, 12); len(said) != 1 || !strings.Contains(said[0], "a kept state of the plan") {
		t.Errorf("said %q, want the damage once, and it mended", said)
	}
	if b, err := os.ReadFile(mine); err != nil || string(b) != "not a database" {
		t.Errorf("the user's own file: %q, %v", b, err)
	}
}

// TestRowB25_BackupsOnAnotherDiskTakeWhatARestoreReplaces has the folder of backups be a
// link to another disk, where a file can have no second name.
func TestRowB25_BackupsOnAnotherDiskTakeWhatARestoreReplaces(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, filepath.Join(t.TempDir(), "data"), c)
	p := create(t, s)
	other, err := os.MkdirTemp("/dev/shm", "evenfall-")
	if err != nil {
		t.Skipf("this machine has no second disk: %v", err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(other); err != nil {
			t.Error(err)
		}
	})
	if err := os.Symlink(other, filepath.Join(s.Dir(), "backups")); err != nil {
		t.Skipf("this machine makes no links: %v", err)
	}
	b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	p = commit(t, s, p, `{"name":"Later"}`, "Rename")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	done, err := store.Restore(ctx, s.Dir(), filepath.Base(b.File), store.WithClock(c.now))
	if err != nil || !done.Whole || !strings.Contains(done.Kept, "evenfall-before-restore-") {
		t.Fatalf("restored: %+v, %v", done, err)
	}
	if kept, err := store.Verify(ctx, done.Kept); err != nil || kept.Plans != 1 {
		t.Errorf("the plans of before: %+v, %v", kept, err)
	}
	if _, err := store.Restore(ctx, s.Dir(), done.Kept, store.WithClock(c.now)); err != nil {
		t.Fatal(err)
	}
	if got, err := openIn(t, s.Dir(), c).Load(ctx, p.ID); err != nil || string(got.Doc) != string(p.Doc) {
		t.Errorf("the plans of before, restored: %v", err)
	}
}

// TestRowB24_OfAFolderThatIsNotThereNothingIsSaid asks what kind of disk it is on.
func TestRowB24_OfAFolderThatIsNotThereNothingIsSaid(t *testing.T) {
	if kind := store.DiskKind(filepath.Join(t.TempDir(), "none")); kind != "" {
		t.Errorf("got %q, want nothing said", kind)
	}
	dir := t.TempDir()
	write(t, filepath.Join(dir, "evenfall.db"), nil)
	says(t, "a backup before the first start", second(store.BackUp(context.Background(), dir, "")), "there are no plans in the data folder "+dir+" yet")
	if _, err := os.Stat(filepath.Join(dir, "backups")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder for backups was made: %v", err)
	}
}
