package store_test

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// used makes a folder that has held plans, with a backup, and closes it.
func used(t *testing.T) (dir, file string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "data")
	c := newClock()
	s := openIn(t, dir, c)
	p := create(t, s)
	for range 40 { // some pages to damage
		p = commit(t, s, p, `{"notes":{"k1":{"text":"`+strings.Repeat("wet ", 400)+time.Duration(p.Rev).String()+`","x_ft":1,"y_ft":1}}}`, "Note")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	c.advance(24 * time.Hour)
	s = openIn(t, dir, c) // makes the day's backup
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return dir, s.File()
}

func TestRowB18_FilesThatAreNotWholeAreLeftUntouched(t *testing.T) {
	kinds := 0
	for _, c := range []struct {
		name   string
		damage func(t *testing.T, b []byte) []byte
		want   string
	}{
		{"empty", func(_ *testing.T, b []byte) []byte { return b[:0] }, "missing or empty"},
		{"one byte", func(_ *testing.T, b []byte) []byte { return b[:1] }, "not a database"},
		{"a text", func(*testing.T, []byte) []byte { return []byte(strings.Repeat("hello there, ", 400)) }, "not a database"},
		{"beginning flipped", func(_ *testing.T, b []byte) []byte { b[3] ^= 0x10; return b }, "not a database"},
		{"zeros", func(_ *testing.T, b []byte) []byte { clear(b); return b }, "not a database"},
		{"cut to the first page", func(_ *testing.T, b []byte) []byte { return b[:4096] }, "damaged"},
		{"cut in the middle", func(_ *testing.T, b []byte) []byte { return b[:len(b)/2/4096*4096] }, "damaged"},
		{"page of the schema blanked", func(_ *testing.T, b []byte) []byte { clear(b[100:4096]); return b }, "damaged"},
		{"pages in the middle blanked", func(_ *testing.T, b []byte) []byte { clear(b[len(b)/4 : len(b)*3/4]); return b }, "damaged"},
		{"other application", func(_ *testing.T, b []byte) []byte { copy(b[68:], "XXXX"); return b }, "another program"},
		{"no application", func(_ *testing.T, b []byte) []byte { copy(b[68:], "\x00\x00\x00\x00"); return b }, "another program"},
		{"newer version", func(_ *testing.T, b []byte) []byte { copy(b[60:], "\x00\x00\x00\x63"); return b }, "newer Evenfall"},
	} {
		t.Run(c.name, func(t *testing.T) {
			kinds++
			dir, file := used(t)
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			b = c.damage(t, b)
			if err := os.WriteFile(file, b, 0o600); err != nil {
				t.Fatal(err)
			}
			_, err = store.Open(context.Background(), dir)
			var u *store.Unusable
			if !errors.As(err, &u) || !strings.Contains(u.Reason, c.want) {
				t.Fatalf("got %v, want it refused as %q", err, c.want)
			}
			if u.Backup == "" || !strings.Contains(err.Error(), "evenfall restore "+u.Backup) || !strings.Contains(err.Error(), file) {
				t.Errorf("the message does not name the file, the backup and how to restore it: %v", err)
			}
			after, err := os.ReadFile(file)
			if err != nil || string(after) != string(b) {
				t.Errorf("the file was changed (%d bytes to %d, %v)", len(b), len(after), err)
			}
		})
	}
	t.Logf("shown: %d kinds of damage refused, 0 bytes changed", kinds)
}

func TestRowB18_AMissingFileIsNotTakenForAFirstStart(t *testing.T) {
	dir, file := used(t)
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	var u *store.Unusable
	if _, err := store.Open(context.Background(), dir); !errors.As(err, &u) {
		t.Errorf("got %v, want it refused", err)
	}
	if _, err := os.Stat(file); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the data file was made anew (%v)", err)
	}
	// The way back that the message names works.
	if _, err := store.Restore(context.Background(), dir, u.Backup); err != nil {
		t.Fatal(err)
	}
	s := openIn(t, dir, newClock())
	list, err := s.List(context.Background())
	if err != nil || len(list) != 1 || list[0].Rev != 41 {
		t.Errorf("after copying the backup back: got %v, %v; want the plan at revision 41", list, err)
	}
	t.Log("shown: restored to revision 41 of 41")
}

func TestRowB21_ANewerFileIsRefusedAndSaysWhichVersion(t *testing.T) {
	dir, file := used(t)
	db, err := sql.Open("sqlite3", file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("PRAGMA user_version = 7"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = store.Open(context.Background(), dir)
	if err == nil || !strings.Contains(err.Error(), "data version 7, this one knows up to 2") {
		t.Errorf("got %v, want the versions named", err)
	}
}

func TestRowB17_ChangedBytesAreNoticedOnLoading(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := create(t, s)
	db, err := sql.Open("sqlite3", s.File())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec("UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'lawn', 'lown') AS BLOB)"); err != nil {
		t.Fatal(err)
	}
	var damaged *plan.Damaged
	if _, err := s.Load(ctx, p.ID); !errors.As(err, &damaged) {
		t.Errorf("load: got %v, want damaged", err)
	}
	if _, err := s.Commit(ctx, p.ID, p.Rev, plan.Patch(`{"name":"x"}`), "Rename"); !errors.As(err, &damaged) {
		t.Errorf("commit: got %v, want damaged", err)
	}
}

// TestRowB4_OnlyTheOwnerCanReadTheFiles looks at everything a data folder comes to
// hold, at work and after a backup and a restore, under the most open umask.
func TestRowB4_OnlyTheOwnerCanReadTheFiles(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // rights are the folder's there, which is the user's own
	}
	ctx := context.Background()
	defer openUmask()()
	c := newClock()
	s := worked(t, c)
	if err := s.Announce("http://127.0.0.1:1"); err != nil {
		t.Fatal(err)
	}
	elsewhere := t.TempDir()
	chosen := filepath.Join(elsewhere, "chosen.db")
	for _, to := range []string{"", chosen} {
		if _, err := store.BackUp(ctx, s.Dir(), to, store.WithClock(c.now)); err != nil {
			t.Fatal(err)
		}
	}
	seen := private(t, s.Dir())
	for _, name := range []string{"evenfall.db", "evenfall.db-wal", "evenfall.db-shm", "evenfall.lock", "evenfall.address", "evenfall.folder", "backups"} {
		if !slices.Contains(seen, name) {
			t.Errorf("at work there is no %s to look at, only %v", name, seen)
		}
	}
	private(t, chosen)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Restore(ctx, s.Dir(), chosen, store.WithClock(c.now)); err != nil {
		t.Fatal(err)
	}
	private(t, s.Dir())
	openIn(t, s.Dir(), c)
	private(t, s.Dir())
}

// private looks for anything within a path that others than the owner can get at.
func private(t *testing.T, path string) (seen []string) {
	t.Helper()
	err := filepath.WalkDir(path, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		seen = append(seen, d.Name())
		if mode := info.Mode().Perm(); mode&0o077 != 0 {
			t.Errorf("%s: got mode %o, want none for others", path, mode)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return seen
}

func TestAFolderWithOtherThingsKeepsItsRights(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "photo.jpg"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	openIn(t, dir, newClock())
	info, err := os.Stat(dir)
	if err != nil || info.Mode().Perm() != 0o755 {
		t.Errorf("folder: got mode %v, %v; want it as it was", info.Mode().Perm(), err)
	}
}
