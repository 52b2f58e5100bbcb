package store_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/store"
)

// fill makes a folder with a file in it, which stands in the way of a file of
// that name and cannot be deleted like one.
func fill(t *testing.T, folder string) {
	t.Helper()
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(folder, "mine"), []byte("mine"))
}

// says fails the test unless an error has all the words.
func says(t *testing.T, what string, err error, words ...string) {
	t.Helper()
	for _, w := range words {
		if err == nil || !strings.Contains(err.Error(), w) {
			t.Errorf("%s: got %v, want %q in it", what, err, w)
		}
	}
}

// TestRowB20_WhatIsInTheWayIsNamedAndLeft puts things of the user's where a file
// of ours belongs. The start is refused with the way out, what was there is there
// still, and once it is out of the way the plans open.
func TestRowB20_WhatIsInTheWayIsNamedAndLeft(t *testing.T) {
	ctx := context.Background()
	for _, c := range []struct {
		name string // of the folder in the way
		says string
	}{
		{"evenfall.lock", "choose another with --data"},
		{"evenfall.db-wal", "choose another with --data"},
		{"evenfall.probe", "choose another with --data"},
		{"evenfall.probed", "choose another with --data"},
		{"evenfall.address", "choose another with --data"},
		{"evenfall.db.restoring", "evenfall.db.restoring"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t)
			create(t, s)
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			way := filepath.Join(s.Dir(), c.name)
			if err := os.Rename(way, way+".mine"); err != nil && !errors.Is(err, fs.ErrNotExist) {
				t.Fatal(err)
			}
			fill(t, way)
			_, err := store.Open(ctx, s.Dir())
			says(t, "opened", err, c.says, way)
			if _, err := os.Stat(filepath.Join(way, "mine")); err != nil {
				t.Errorf("what was in the way: %v", err)
			}
			if err := os.RemoveAll(way); err != nil {
				t.Fatal(err)
			}
			if list, err := openIn(t, s.Dir(), newClock()).List(ctx); err != nil || len(list) != 1 {
				t.Errorf("once nothing is in the way: %v, %v; want the plan", list, err)
			}
		})
	}
}

// TestRowB20_ALinkToADiskThatIsNotThereIsNoFirstStart has the data file, or the
// folder's mark, be a link to a place that is not mounted.
func TestRowB20_ALinkToADiskThatIsNotThereIsNoFirstStart(t *testing.T) {
	ctx := context.Background()
	for name, words := range map[string]string{
		"evenfall.db":     "the data file cannot be made",
		"evenfall.folder": "the data folder cannot be marked",
	} {
		dir := t.TempDir()
		if err := os.Symlink(filepath.Join(dir, "not mounted", name), filepath.Join(dir, name)); err != nil {
			t.Skipf("this machine makes no links: %v", err)
		}
		_, err := store.Open(ctx, dir)
		says(t, name, err, words)
		if err := os.Mkdir(filepath.Join(dir, "not mounted"), 0o700); err != nil {
			t.Fatal(err)
		}
		create(t, openIn(t, dir, newClock())) // the folder was let go of, and opens once the place is there
	}
	file := filepath.Join(t.TempDir(), "file")
	write(t, file, []byte("mine"))
	_, err := store.Open(ctx, filepath.Join(file, "data"))
	says(t, "a folder in a file", err, "choose another with --data")
}

func TestRowB20_WhoMayWriteIsSaidOfWhatIsNearest(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("files have no such owners there")
	}
	denied := &fs.PathError{Op: "open", Path: "elsewhere", Err: syscall.EACCES}
	dir := t.TempDir()
	file := filepath.Join(dir, "a file")
	write(t, file, nil)
	err := store.CannotWrite(file, denied)
	says(t, "a file", err, "nothing can be written to "+file+" (permission denied): it belongs to ", "Give yourself the right with: chmod u+rw '"+file+"'")
	if !errors.Is(err, fs.ErrPermission) || strings.Contains(err.Error(), "elsewhere") {
		t.Errorf("got %v, want what the system said, with the path once", err)
	}
	says(t, "a folder", store.CannotWrite(dir, denied), "chmod u+rwx "+dir)
	says(t, "what is not there", store.CannotWrite(filepath.Join(dir, "no", "such"), syscall.EPERM), "the folder above it, "+dir+", belongs to", "chmod u+rwx "+dir)
	says(t, "a disk for reading", store.CannotWrite(file, syscall.EROFS), "Make the disk writable")
	says(t, "a full disk", store.CannotWrite(file, syscall.ENOSPC), "the disk is full", "in "+dir)
	says(t, "something else", store.CannotWrite(file, syscall.EIO), "input/output error", "choose another with --data")
	if err := store.CannotWrite(file, nil); err != nil {
		t.Errorf("nothing wrong: got %v", err)
	}
	if os.Geteuid() != 0 {
		says(t, "somebody else's", store.CannotWrite("/etc", denied), "it belongs to root (user 0)", "Start Evenfall as its owner", "chown")
		return
	}
	const none = 54321 // no user of this machine
	if err := os.Chown(file, none, -1); err != nil {
		t.Fatal(err)
	}
	says(t, "a stranger's", store.CannotWrite(file, denied), "it belongs to user 54321,", "Evenfall runs as root (user 0)", "Start Evenfall as its owner", "chown 0 ")
}

// TestRowB23_TheSecondStartIsToldBeforeAndAfterTheFirstServes opens one folder twice.
func TestRowB23_TheSecondStartIsToldBeforeAndAfterTheFirstServes(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	_, err := store.Open(ctx, s.Dir())
	says(t, "before it serves", err, "is just starting", s.Dir(), "--data")
	if err := s.Announce("http://127.0.0.1:8377"); err != nil {
		t.Fatal(err)
	}
	_, err = store.Restore(ctx, s.Dir(), "any.db")
	says(t, "while it serves", err, "open http://127.0.0.1:8377", "--data")
	address := filepath.Join(s.Dir(), "evenfall.address")
	if err := os.Remove(address); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(address, 0o700); err != nil {
		t.Fatal(err)
	}
	says(t, "with something in the way", s.Announce("http://127.0.0.1:8378"), "the address cannot be written down")
}

// TestRowB25_ABackupThatCannotBeMadeLeavesNothingHalf makes backups where they cannot be
// made. The plans and the backups of before are as they were, and no draft is left.
func TestRowB25_ABackupThatCannotBeMadeLeavesNothingHalf(t *testing.T) {
	ctx := context.Background()
	ended, end := context.WithCancel(ctx)
	end()
	for _, c := range []struct {
		name  string
		ctx   context.Context
		spoil func(t *testing.T, dir string)
		to    string // within the folder
		says  string
	}{
		{"the request has ended", ended, func(*testing.T, string) {}, "", "context canceled"},
		{"a file instead of the folder", ctx, func(t *testing.T, dir string) {
			if err := os.RemoveAll(filepath.Join(dir, "backups")); err != nil {
				t.Fatal(err)
			}
			write(t, filepath.Join(dir, "backups"), []byte("mine"))
		}, "", "the folder for backups cannot be made"},
		{"a folder instead of the draft", ctx, func(t *testing.T, dir string) { fill(t, filepath.Join(dir, "kept.db.unfinished")) }, "kept.db", "kept.db.unfinished"},
		{"a table is gone", ctx, func(t *testing.T, dir string) { alter(t, dir, "DROP TABLE meta") }, "", "its table meta is missing"},
		{"a folder instead of the data file", ctx, func(t *testing.T, dir string) {
			if err := os.Rename(filepath.Join(dir, "evenfall.db"), filepath.Join(dir, "moved.db")); err != nil {
				t.Fatal(err)
			}
			fill(t, filepath.Join(dir, "evenfall.db"))
		}, "", "the data file cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t)
			create(t, s)
			if err := s.BackUpDaily(ctx); err != nil {
				t.Fatal(err)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			c.spoil(t, s.Dir())
			before := everyFile(t, s.Dir())
			to := ""
			if c.to != "" {
				to = filepath.Join(s.Dir(), c.to)
			}
			_, err := store.BackUp(c.ctx, s.Dir(), to)
			says(t, "backup", err, c.says)
			if diff := cmp.Diff(before, everyFile(t, s.Dir())); diff != "" {
				t.Errorf("files (-before +after):\n%s", diff)
			}
		})
	}
}

// everyFile is the content of every file in a folder, but the empty ones SQLite
// makes to read.
func everyFile(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasSuffix(path, "-shm") || strings.HasSuffix(path, "-wal") {
			return err
		}
		b, err := os.ReadFile(path)
		all[path] = string(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestRowB25_WhatCannotBeClearedAwayIsToldAndTheBackupIsMade leaves a folder where an old
// draft would be deleted.
func TestRowB25_WhatCannotBeClearedAwayIsToldAndTheBackupIsMade(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, filepath.Join(t.TempDir(), "data"), c)
	create(t, s)
	draft := filepath.Join(s.Dir(), "backups", "evenfall-day-2026-05-01.db.unfinished")
	fill(t, draft)
	if err := os.Chtimes(draft, c.at, c.at.Add(-48*time.Hour)); err != nil {
		t.Fatal(err)
	}
	says(t, "daily backup", s.BackUpDaily(ctx), "today's backup was made, but not everything old could be cleared away", draft)
	if all := store.Backups(ctx, s.Dir()); len(all) != 1 || all[0].Trouble != nil || all[0].Contents.Plans != 1 {
		t.Errorf("backups: %+v, want today's", all)
	}
	if all := store.Backups(cancelled(), s.Dir()); len(all) != 1 || all[0].Trouble == nil {
		t.Errorf("a check that was cut short passed: %+v", all)
	}
}

func cancelled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// TestRowB25_TwoBackupsOfOneSecondHaveTwoNames has the clock stand still.
func TestRowB25_TwoBackupsOfOneSecondHaveTwoNames(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	create(t, s)
	var names []string
	for range 3 {
		b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(newClock().now))
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, filepath.Base(b.File))
	}
	want := []string{"evenfall-backup-2026-06-01-080000.db", "evenfall-backup-2026-06-01-080000-2.db", "evenfall-backup-2026-06-01-080000-3.db"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("names (-want +got):\n%s", diff)
	}
}

// TestRowB20_AFolderNamedFromOneThatIsGoneIsToldSo deletes the folder the program is in.
func TestRowB20_AFolderNamedFromOneThatIsGoneIsToldSo(t *testing.T) {
	ctx := context.Background()
	gone := filepath.Join(t.TempDir(), "gone")
	if err := os.Mkdir(gone, 0o700); err != nil {
		t.Fatal(err)
	}
	t.Chdir(gone)
	if err := os.Remove(gone); err != nil {
		t.Skipf("this machine keeps a folder a program is in: %v", err)
	}
	if _, err := os.Getwd(); err == nil {
		t.Skip("this machine still names a folder that was deleted")
	}
	words := []string{"the data folder plans is named from a folder that is gone", "--data"}
	says(t, "open", second(store.Open(ctx, "plans")), words...)
	says(t, "backup", second(store.BackUp(ctx, "plans", "")), words...)
	says(t, "restore", second(store.Restore(ctx, "plans", "kept.db")), words...)
}
