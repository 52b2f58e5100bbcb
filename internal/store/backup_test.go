package store_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/store"
)

func backupNames(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, "backups"))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// The newest seven days are kept, and the first backup of each of the four weeks
// before them. 1 June 2026 is a Monday.
func TestRowB25_SevenDaysAndFourWeeksAreKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "it's [odd]* 100%?")
	c := newClock()
	for day := range 50 {
		for range 2 { // the second start of a day makes none
			s := openIn(t, dir, c)
			if day == 0 {
				create(t, s)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
		}
		if day == 9 {
			want := []string{"evenfall-day-2026-06-01.db", // the first of its week
				"evenfall-day-2026-06-04.db", "evenfall-day-2026-06-05.db", "evenfall-day-2026-06-06.db", "evenfall-day-2026-06-07.db",
				"evenfall-day-2026-06-08.db", "evenfall-day-2026-06-09.db", "evenfall-day-2026-06-10.db"}
			if diff := cmp.Diff(want, backupNames(t, dir)); diff != "" {
				t.Errorf("after ten days (-want +got):\n%s", diff)
			}
		}
		c.advance(24 * time.Hour)
	}
	want := []string{
		"evenfall-day-2026-06-22.db", "evenfall-day-2026-06-29.db", "evenfall-day-2026-07-06.db", "evenfall-day-2026-07-13.db",
		"evenfall-day-2026-07-14.db", "evenfall-day-2026-07-15.db", "evenfall-day-2026-07-16.db", "evenfall-day-2026-07-17.db",
		"evenfall-day-2026-07-18.db", "evenfall-day-2026-07-19.db", "evenfall-day-2026-07-20.db",
	}
	if diff := cmp.Diff(want, backupNames(t, dir)); diff != "" {
		t.Errorf("after fifty days (-want +got):\n%s", diff)
	}
	t.Logf("shown: %d backups kept after 50 days", len(backupNames(t, dir)))
}

func TestRowB25_ABackupHoldsTheLatestStep(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "data")
	c := newClock()
	s := openIn(t, dir, c)
	p := commit(t, s, create(t, s), `{"name":"Latest"}`, "Rename")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	c.advance(48 * time.Hour)
	s = openIn(t, dir, c)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	copied := t.TempDir()
	b, err := os.ReadFile(filepath.Join(dir, "backups", "evenfall-day-2026-06-03.db"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(copied, "evenfall.db"), b, 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := openIn(t, copied, c).Load(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p, got); diff != "" {
		t.Errorf("plan from the backup (-want +got):\n%s", diff)
	}
}

func TestABackupThatCannotBeMadeIsAWarning(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "data")
	c := newClock()
	s := openIn(t, dir, c)
	create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "backups"), []byte("in the way"), 0o600); err != nil {
		t.Fatal(err)
	}
	c.advance(24 * time.Hour)
	s, err := store.Open(context.Background(), dir, store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if len(s.Warnings) != 1 || !strings.Contains(s.Warnings[0], "backup could not be made") {
		t.Errorf("warnings: got %q, want one about the backup", s.Warnings)
	}
}

func TestRowB13_ClosingLeavesNoLogBehind(t *testing.T) {
	s := open(t)
	create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(s.Dir())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	want := []string{"evenfall.db", "evenfall.folder", "evenfall.lock"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("left in the folder (-want +got):\n%s", diff)
	}
}
