package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// putPicture keeps some bytes as a picture.
func putPicture(t *testing.T, s *store.Store, bytes string) string {
	t.Helper()
	sum, err := s.PutBlob(context.Background(), "image/png", []byte(bytes))
	if err != nil {
		t.Fatal(err)
	}
	return sum
}

// hasPicture reports whether a picture is kept.
func hasPicture(t *testing.T, s *store.Store, sum string) bool {
	t.Helper()
	_, _, err := s.Blob(context.Background(), sum)
	if err != nil && !errors.Is(err, plan.ErrNoPicture) {
		t.Fatal(err)
	}
	return err == nil
}

// under lays a picture under a plan.
func under(t *testing.T, s *store.Store, p plan.Saved, sum string) plan.Saved {
	t.Helper()
	return commit(t, s, p, fmt.Sprintf(`{"underlay":{"sha256":%q,"ft_per_px":0.1,"x_ft":0,"y_ft":0}}`, sum), "Lay a picture under the plan")
}

// alter runs SQL in a data file nobody has open.
func alter(t *testing.T, dir, query string, args ...any) {
	t.Helper()
	db, err := sql.Open("sqlite3", filepath.Join(dir, "evenfall.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(query, args...); err != nil {
		t.Fatal(err)
	}
}

func TestRowA7_APictureIsKeptByItsChecksum(t *testing.T) {
	ctx := context.Background()
	dir, c := filepath.Join(t.TempDir(), "data"), newClock()
	s := openIn(t, dir, c)
	create(t, s)
	sum := putPicture(t, s, "the yard from above")
	if again := putPicture(t, s, "the yard from above"); sum != plan.Digest([]byte("the yard from above")) || again != sum {
		t.Errorf("kept as %s, again as %s", sum, again)
	}
	kind, b, err := s.Blob(ctx, sum)
	if kind != "image/png" || string(b) != "the yard from above" || err != nil {
		t.Errorf("got %q %q %v", kind, b, err)
	}
	if _, _, err := s.Blob(ctx, strings.Repeat("0", 64)); !errors.Is(err, plan.ErrNoPicture) {
		t.Errorf("a picture that was never kept: got %v", err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	alter(t, dir, "UPDATE blobs SET bytes = ?", []byte("the yard from below"))
	s, err = store.Open(ctx, dir, store.WithClock(c.now)) // warns that the day's backup is not sound
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, _, err := s.Blob(ctx, sum); !errors.Is(err, plan.ErrPictureDamaged) {
		t.Errorf("a picture with changed bytes: got %v", err)
	}
	putPicture(t, s, "the yard from above")
	if !hasPicture(t, s, sum) {
		t.Error("choosing a damaged picture again does not mend it")
	}
}

func TestRowB8_OnlyPicturesNothingNamesForADayAreDropped(t *testing.T) {
	ctx := context.Background()
	dir, c := filepath.Join(t.TempDir(), "data"), newClock()
	s := openIn(t, dir, c)
	later := func(d time.Duration) {
		t.Helper()
		c.advance(d)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		s = openIn(t, dir, c)
	}
	shown, undone, deleted := create(t, s), create(t, s), create(t, s)
	inPlan, inStep, inDeleted, loose := putPicture(t, s, "plan"), putPicture(t, s, "step"), putPicture(t, s, "deleted"), putPicture(t, s, "loose")
	under(t, s, shown, inPlan)
	with := under(t, s, undone, inStep)
	if _, _, err := s.Undo(ctx, with.ID, with.Rev); err != nil {
		t.Fatal(err)
	}
	gone := under(t, s, deleted, inDeleted)
	want := func(when string, sums ...string) {
		t.Helper()
		for _, sum := range []string{inPlan, inStep, inDeleted, loose} {
			if got := hasPicture(t, s, sum); got != slices.Contains(sums, sum) {
				t.Errorf("%s: picture %.8s kept: %v", when, sum, got)
			}
		}
	}
	later(0) // the day's backup has been made by now or is made here: loose ones are noted at most
	want("at once", inPlan, inStep, inDeleted, loose)
	later(17 * time.Hour) // past midnight UTC: the next day's backup, but less than a day since
	want("before a day has passed", inPlan, inStep, inDeleted, loose)
	if err := s.Delete(ctx, gone.ID, gone.Rev); err != nil {
		t.Fatal(err)
	}
	later(24 * time.Hour)
	want("the picture of a plan deleted less than a day ago stays", inPlan, inStep, inDeleted)
	putPicture(t, s, "loose") // sent again: counts from now
	later(24 * time.Hour)
	want("a day after the deletion", inPlan, inStep, loose)
	later(24 * time.Hour)
	want("a day after it was sent again", inPlan, inStep)
	// What was dropped is in the backup made before.
	if again, _, err := s.Redo(ctx, with.ID, with.Rev+1); err != nil || !strings.Contains(string(again.Doc), inStep) || !hasPicture(t, s, inStep) {
		t.Errorf("the picture of an undone step, done again: %v", err)
	}
}

// TestRowB8_EveryTextThatMayNameAPictureIsSearched fails when the schema gets a
// column of documents or patches that dropping unused pictures does not look at.
func TestRowB8_EveryTextThatMayNameAPictureIsSearched(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	s := openIn(t, dir, newClock())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite3", filepath.Join(dir, "evenfall.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query(`SELECT m.name || '.' || c.name FROM sqlite_schema m, pragma_table_info(m.name) c
		WHERE m.type = 'table' AND c.type = 'BLOB' AND m.name NOT LIKE 'sqlite%' ORDER BY 1`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var got []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			t.Fatal(err)
		}
		got = append(got, name)
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	want := []string{"blobs.bytes", "plans.doc", "points.doc", "steps.inverse", "steps.patch"}
	if !slices.Equal(got, want) {
		t.Errorf("columns of bytes: got %q, want %q: have namedSums and consider of blobs.go look at a new one", got, want)
	}
}
