package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// TestRowB17_ATimeThatRottedHidesNoHistory has the times of steps and kept states be
// no times any more. What is there is still listed, looked at and recovered.
func TestRowB17_ATimeThatRottedHidesNoHistory(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 3)
	point, err := s.KeepPoint(ctx, p.ID, p.Rev, 2, "Agreed")
	if err != nil {
		t.Fatal(err)
	}
	want, _, err := s.At(ctx, p.ID, 2)
	if err != nil {
		t.Fatal(err)
	}
	spoil(t, s, "UPDATE steps SET at = '2026-0x'")
	spoil(t, s, "UPDATE points SET at = 'y'")
	if steps, err := s.History(ctx, p.ID); err != nil || len(steps) != 4 || !steps[3].At.IsZero() || steps[3].Label != "Move to 103" {
		t.Errorf("history: %+v, %v", steps, err)
	}
	if steps, _, err := s.HistoryPage(ctx, p.ID, 9, 9); err != nil || len(steps) != 4 {
		t.Errorf("page of history: %+v, %v", steps, err)
	}
	if points, err := s.Points(ctx, p.ID); err != nil || len(points) != 1 || points[0].Name != "Agreed" || !points[0].At.IsZero() {
		t.Errorf("points: %+v, %v", points, err)
	}
	if doc, _, err := s.PointDoc(ctx, p.ID, point.ID); err != nil || string(doc) != string(want) {
		t.Errorf("the point: %v", err)
	}
	if back, _, err := s.Undo(ctx, p.ID, p.Rev); err != nil || string(back.Doc) != string(want) {
		t.Errorf("undo: %v", err)
	}
	spoil(t, s, rot)
	if good, err := s.LastGood(ctx, p.ID); err != nil || string(good.Doc) != string(want) || good.Steps != 0 {
		t.Errorf("last good state: %d steps missing, %v", good.Steps, err)
	}
	spoil(t, s, "UPDATE steps SET sha256 = 'rot'")
	if good, err := s.LastGood(ctx, p.ID); err != nil || string(good.Doc) != string(want) || !good.Step.At.IsZero() {
		t.Errorf("last resort: %+v, %v", good.Step, err)
	}
	if _, err := s.Recover(ctx, p.ID); err != nil {
		t.Errorf("recovering: %v", err)
	}
}

// TestRowB18_AFileThatLacksATableIsNotStarted opens data files some of whose tables are gone. The
// start is refused with the way back, which works.
func TestRowB18_AFileThatLacksATableIsNotStarted(t *testing.T) {
	ctx := context.Background()
	for _, table := range []string{"meta", "plans", "steps", "blobs", "points"} {
		t.Run(table, func(t *testing.T) {
			s := open(t)
			p := create(t, s)
			b, err := store.BackUp(ctx, s.Dir(), "")
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			alter(t, s.Dir(), "DROP TABLE "+table)
			_, err = store.Open(ctx, s.Dir())
			says(t, "opened", err, "its table "+table+" is missing", "It was left untouched", "evenfall restore "+b.File)
			done, err := store.Restore(ctx, s.Dir(), b.File)
			if err != nil || done.Kept == "" {
				t.Fatalf("the way back: %+v, %v", done, err)
			}
			if got, err := openIn(t, s.Dir(), newClock()).Load(ctx, p.ID); err != nil || string(got.Doc) != string(p.Doc) {
				t.Errorf("the plan from the backup: %v", err)
			}
		})
	}
}

// TestRowB15_AStartThatIsStoppedLosesNothing ends the context of a start.
func TestRowB15_AStartThatIsStoppedLosesNothing(t *testing.T) {
	ctx := context.Background()
	fresh := filepath.Join(t.TempDir(), "data")
	if _, err := store.Open(cancelled(), fresh); !errors.Is(err, context.Canceled) {
		t.Errorf("a first start: got %v", err)
	}
	s := openIn(t, fresh, newClock())
	if !s.New {
		t.Error("the first start after one that was stopped is not told as the first")
	}
	p := create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(cancelled(), fresh); err == nil {
		t.Error("a start that was stopped went through")
	}
	if got, err := openIn(t, fresh, newClock()).Load(ctx, p.ID); err != nil || string(got.Doc) != string(p.Doc) {
		t.Errorf("after it: %v", err)
	}
}

// TestRowB21_CountsThatCannotBeMadeHideNoPlan brings a file of version 1 up to date in
// which one plan is damaged and one is no plan: the others are counted.
func TestRowB21_CountsThatCannotBeMadeHideNoPlan(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	good, bad, none, held := create(t, s), create(t, s), create(t, s), create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	alter(t, s.Dir(), "UPDATE plans SET areas = NULL, heads = NULL")
	alter(t, s.Dir(), rot+" WHERE id = ?", bad.ID)
	alter(t, s.Dir(), "UPDATE plans SET doc = CAST('{}' AS BLOB), sha256 = ? WHERE id = ?", plan.Digest([]byte("{}")), none.ID)
	alter(t, s.Dir(), fmt.Sprintf("CREATE TRIGGER held BEFORE UPDATE ON plans WHEN old.id = '%s' BEGIN SELECT raise(ABORT, 'held'); END", held.ID))
	_, err := store.Open(ctx, s.Dir())
	says(t, "a count that cannot be written", err, "held")
	alter(t, s.Dir(), "DROP TRIGGER held")
	s, err = store.Open(ctx, s.Dir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "the plan "+bad.ID) {
		t.Errorf("warnings: %q, want the damaged plan named", s.Warnings)
	}
	list, err := s.List(ctx)
	if err != nil || len(list) != 4 {
		t.Fatalf("%d listed, %v; want all", len(list), err)
	}
	for _, l := range list {
		if counted := l.ID == good.ID || l.ID == held.ID; l.Counted != counted || counted && l.Contents.Heads != 2 {
			t.Errorf("%s: counted %v, %d heads", l.ID, l.Counted, l.Contents.Heads)
		}
		if l.Damaged != (l.ID == bad.ID) {
			t.Errorf("%s: damaged %v", l.ID, l.Damaged)
		}
	}
}

// TestRowB25_AnyStatementOfTheDailyRoundThatFailsIsToldAndTheBackupStays has the statements after
// the day's backup fail one after the other: dropping unused pictures, and mending
// what was kept.
func TestRowB25_AnyStatementOfTheDailyRoundThatFailsIsToldAndTheBackupStays(t *testing.T) {
	ctx := context.Background()
	for _, state := range []string{"unused pictures", "damaged states"} {
		t.Run(state, func(t *testing.T) {
			c := newClock()
			s := openIn(t, t.TempDir(), c)
			p := moved(t, s, create(t, s), 3)
			shown, loose, late := putPicture(t, s, "shown"), putPicture(t, s, "loose"), putPicture(t, s, "late")
			under(t, s, p, shown)
			if _, err := s.KeepPoint(ctx, p.ID, p.Rev+1, 2, "Agreed"); err != nil {
				t.Fatal(err)
			}
			if said := daily(s, c, 1); len(said) > 0 {
				t.Fatal(said)
			}
			if state == "damaged states" {
				spoil(t, s, "UPDATE points SET doc = CAST('other' AS BLOB)")
			}
			c.advance(25 * time.Hour)
			spoil(t, s, "DELETE FROM meta WHERE key LIKE ?", "%"+late) // seen for the first time today
			today := filepath.Join(s.Dir(), "backups", "evenfall-day-"+c.at.Format(time.DateOnly)+".db")
			before := rows(t, s.File())
			for n := int64(1); ; n++ {
				if n > 200 {
					t.Fatal("it never went through")
				}
				if err := os.Remove(today); err != nil && !errors.Is(err, os.ErrNotExist) {
					t.Fatal(err)
				}
				came, err := store.FailStatement(ctx, s, n)
				if err != nil {
					t.Fatal(err)
				}
				err = s.BackUpDaily(ctx)
				if !came() {
					if whole := state == "unused pictures"; whole != (err == nil) {
						t.Errorf("once nothing fails: %v", err)
					}
					break
				}
				says(t, fmt.Sprintf("statement %d failed", n), err, "today's backup ")
				if made := !strings.Contains(err.Error(), "could not be made"); made != (n > 1) {
					t.Errorf("statement %d failed: told as %v", n, err)
				}
				if _, err := os.Stat(today); n > 1 && err != nil {
					t.Errorf("statement %d failed, and the backup is gone: %v", n, err)
				}
				if state == "unused pictures" {
					if diff := cmp.Diff(before, rows(t, s.File())); diff != "" {
						t.Errorf("statement %d failed and left (-before +after):\n%s", n, diff)
					}
				}
			}
			if _, err := store.FailStatement(ctx, s, 0); err != nil {
				t.Fatal(err)
			}
			if got := hasPicture(t, s, shown); !got {
				t.Error("the picture that is shown went")
			}
			if state == "unused pictures" && (hasPicture(t, s, loose) || !hasPicture(t, s, late)) {
				t.Error("want the picture unused for a day gone, and the one first seen today kept")
			}
			if state == "damaged states" {
				if said := daily(s, c, 1); len(said) > 0 {
					t.Errorf("the day after: %q, want all mended", said)
				}
			}
		})
	}
}

// TestRowA31_TheTwoHundredAndFirstNamedPointIsRefused fills the names a plan may have.
func TestRowA31_TheTwoHundredAndFirstNamedPointIsRefused(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := create(t, s)
	spoil(t, s, `INSERT INTO points (plan, pos, rev, kind, name, doc, sha256, at)
		WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 199)
		SELECT plan, pos, rev, 'named', 'n' || i, doc, sha256, at FROM points, n WHERE kind = 'frame'`)
	last, err := s.KeepPoint(ctx, p.ID, p.Rev, 0, "The last one")
	if err != nil {
		t.Fatal(err)
	}
	_, err = s.KeepPoint(ctx, p.ID, p.Rev, 0, "One too many")
	says(t, "one more", err, "This plan has 200 named points", "Remove one")
	if got := kept(t, s, p.ID); len(got) != 200 || got[0] != "named The last one 0" {
		t.Errorf("kept %d, the newest %q", len(got), got[0])
	}
	if err := s.ForgetPoint(ctx, p.ID, p.Rev, last.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := s.KeepPoint(ctx, p.ID, p.Rev, 0, "Room again"); err != nil {
		t.Error(err)
	}
}
