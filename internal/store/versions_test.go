package store_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/store"
)

// shipped are the data files of every version of the schema before this one.
func shipped(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/databases/version-*.db")
	if err != nil || len(files) == 0 {
		t.Fatalf("found no data file of an older version: %v", err)
	}
	return files
}

// TestRowB21_EveryShippedVersionIsBroughtUpToDate opens a data file of each
// version that was ever in use: it is copied first, nothing in it is lost, and
// its history can still be walked.
func TestRowB21_EveryShippedVersionIsBroughtUpToDate(t *testing.T) {
	ctx := context.Background()
	newest, err := store.NewestVersion()
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range shipped(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			write(t, filepath.Join(dir, "evenfall.db"), b)
			old := filepath.Join(t.TempDir(), "old.db") // reading the kept one would leave a log beside it
			write(t, old, b)
			before, sum := known(t, old), rowDigest(t, old)
			c := newClock()
			s := openIn(t, dir, c)
			if diff := cmp.Diff(before, known(t, s.File())); diff != "" {
				t.Errorf("plans and steps (-before +after):\n%s", diff)
			}
			contents, err := store.Verify(ctx, s.File())
			if err != nil || contents.Version != newest {
				t.Errorf("after it the file is of version %d, %v; want %d", contents.Version, err, newest)
			}
			copies, err := filepath.Glob(filepath.Join(dir, "backups", "evenfall-before-change-*.db"))
			if err != nil {
				t.Fatal(err)
			}
			if contents.Version == versionOf(t, old) {
				if len(copies) != 0 {
					t.Errorf("a file of this version was copied to %v", copies)
				}
			} else if len(copies) != 1 || rowDigest(t, copies[0]) != sum {
				t.Errorf("the copies made before are %v, want one with every row of the file", copies)
			}
			list, err := s.List(ctx)
			if err != nil || len(list) == 0 {
				t.Fatalf("%d plans, %v", len(list), err)
			}
			for _, l := range list {
				walkBack(t, s, l.ID)
			}
		})
	}
	t.Logf("shown: %d older versions brought to version %d, every row kept", len(shipped(t)), newest)
}

// known is what every version has of a plan and its steps.
func known(t *testing.T, file string) []string {
	t.Helper()
	db, err := sql.Open("sqlite3", "file:"+file+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	found, err := db.Query(`SELECT 'plan', id, rev, pos, name, hex(doc), sha256, changed FROM plans
		UNION ALL SELECT plan, pos, rev, hex(patch), hex(inverse), label, sha256, at FROM steps ORDER BY 1, 2`)
	if err != nil {
		t.Fatal(err)
	}
	defer found.Close()
	var all []string
	for found.Next() {
		var c [8]string
		if err := found.Scan(&c[0], &c[1], &c[2], &c[3], &c[4], &c[5], &c[6], &c[7]); err != nil {
			t.Fatal(err)
		}
		all = append(all, strings.Join(c[:], " "))
	}
	if err := found.Err(); err != nil || len(all) == 0 {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	return all
}

func versionOf(t *testing.T, file string) int64 {
	t.Helper()
	db, err := sql.Open("sqlite3", "file:"+file+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var v int64
	if err := db.QueryRow("PRAGMA user_version").Scan(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

// A data file of an older version that cannot be brought up to date is as it was:
// the whole change is one transaction, and the copy made before stays.
func TestRowB21_AChangeThatFailsLeavesTheFileAsItWas(t *testing.T) {
	ctx := context.Background()
	b, err := os.ReadFile(filepath.Join("../../testdata/databases", "version-1.db"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "evenfall.db")
	write(t, file, b)
	inFile(t, file, "CREATE TABLE points (id INTEGER PRIMARY KEY) STRICT") // in the way of version 2
	before := known(t, file)
	_, err = store.Open(ctx, dir)
	if err == nil || !strings.Contains(err.Error(), "could not be brought up to date") {
		t.Fatalf("got %v, want it said that the file could not be brought up to date", err)
	}
	if diff := cmp.Diff(before, known(t, file)); diff != "" || versionOf(t, file) != 1 {
		t.Errorf("the file is of version %d and (-before +after):\n%s", versionOf(t, file), diff)
	}
	inFile(t, file, "DROP TABLE points")
	if _, err := openIn(t, dir, newClock()).List(ctx); err != nil {
		t.Errorf("once nothing is in the way: %v", err)
	}
}

// An older backup is taken and brought up to date by the next start.
func TestRowB21_ABackupOfAnOlderVersionIsRestored(t *testing.T) {
	ctx := context.Background()
	for _, file := range shipped(t) {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		old := filepath.Join(t.TempDir(), "old.db")
		write(t, old, b)
		dir := filepath.Join(t.TempDir(), "new folder")
		if _, err := store.Restore(ctx, dir, old); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		s := openIn(t, dir, newClock())
		write(t, old, b)
		if diff := cmp.Diff(known(t, old), known(t, s.File())); diff != "" {
			t.Errorf("%s (-backup +restored):\n%s", file, diff)
		}
	}
}

// A newer file is left as it is to the last byte, whatever is asked of it.
func TestRowB21_ANewerFileIsLeftToTheLastByte(t *testing.T) {
	ctx := context.Background()
	dir, file := used(t)
	inFile(t, file, "PRAGMA user_version = 7")
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for what, do := range map[string]func() error{
		"opening": func() error { _, err := store.Open(ctx, dir); return err },
		"backup":  func() error { _, err := store.BackUp(ctx, dir, ""); return err },
	} {
		if err := do(); err == nil || !strings.Contains(err.Error(), "newer Evenfall (data version 7") {
			t.Errorf("%s: got %v", what, err)
		}
	}
	after, err := os.ReadFile(file)
	if err != nil || fmt.Sprintf("%x", after) != fmt.Sprintf("%x", before) {
		t.Errorf("the newer file was changed (%v)", err)
	}
	t.Logf("shown: 0 of %d bytes changed", len(after))
}
