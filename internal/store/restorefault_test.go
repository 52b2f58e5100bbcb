package store_test

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenfall/internal/store"
)

// TestRowB25_ARestoreThatFailsLeavesThePlansOfBefore has a restore fail at each
// of its steps. Before the swap the folder has the plans of before, to the last row;
// after it, those of the backup, and those of before under another name. Nothing
// half brought in is left.
func TestRowB25_ARestoreThatFailsLeavesThePlansOfBefore(t *testing.T) {
	ctx := context.Background()
	letGo := func() error { return nil } // of what another program holds
	inSide := func(statement string) func(*testing.T, string) error {
		return func(t *testing.T, file string) error { inFile(t, file+".restoring", statement); return nil }
	}
	for _, c := range []struct {
		name  string
		after string // step after which it happens
		do    func(t *testing.T, file string) error
		says  string
	}{
		{"the disk fails after the copy", "copy", failed, "input/output error"},
		{"the disk fails after the check", "check", failed, "input/output error"},
		{"the disk fails after the log is folded", "fold", failed, "input/output error"},
		{"the disk fails after the revisions are passed", "pass", failed, "input/output error"},
		{"the disk fails after the plans of before are kept", "keep", failed, "input/output error"},
		{"the copy is damaged on its way", "copy", func(t *testing.T, file string) error {
			return os.Truncate(file+".restoring", 4096)
		}, "cannot be restored"},
		{"another program has the data file open", "check", func(t *testing.T, file string) error {
			db, err := sql.Open("sqlite3", file)
			if err != nil {
				return err
			}
			db.SetMaxOpenConns(1)
			_, err = db.Exec("BEGIN; SELECT count(*) FROM plans")
			letGo = db.Close
			return err
		}, "another program has the data file"},
		{"the copy has no plans any more", "fold", inSide("DROP TABLE plans"), "no such table: plans"},
		{"the copy takes no change", "fold", inSide("CREATE TRIGGER no BEFORE UPDATE ON plans BEGIN SELECT raise(ABORT, 'no change'); END"), "no change"},
		{"the copy has no notes any more", "fold", inSide("DROP TABLE meta"), "no such table: meta"},
		{"the data file has no plans any more", "fold", func(t *testing.T, file string) error {
			inFile(t, file, "ALTER TABLE plans RENAME TO gone")
			return nil
		}, "no such table: plans"},
		{"a file is where backups go", "pass", func(t *testing.T, file string) error {
			backups := filepath.Join(filepath.Dir(file), "backups")
			if err := os.Rename(backups, backups+".mine"); err != nil {
				return err
			}
			return os.WriteFile(backups, []byte("mine"), 0o600)
		}, "the folder for backups cannot be made"},
		{"the log's name is taken before the swap", "keep", func(t *testing.T, file string) error {
			fill(t, file+"-journal")
			return nil
		}, "evenfall.db-journal"},
		{"the copy is gone before the swap", "keep", func(t *testing.T, file string) error {
			return os.Remove(file + ".restoring")
		}, "evenfall.db.restoring"},
	} {
		t.Run(c.name, func(t *testing.T) {
			clk := newClock()
			s := openIn(t, filepath.Join(t.TempDir(), "data"), clk)
			p := moved(t, s, create(t, s), 3)
			b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(clk.now))
			if err != nil {
				t.Fatal(err)
			}
			moved(t, s, p, 2)
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			before := rows(t, s.File())
			clk.advance(time.Minute)
			_, err = store.Restore(ctx, s.Dir(), b.File, store.WithClock(clk.now), store.DuringRestore(func(step string) error {
				if step != c.after {
					return nil
				}
				return c.do(t, s.File())
			}))
			says(t, "restore", err, c.says)
			for _, left := range []string{".restoring", ".restoring-wal", ".restoring-journal"} {
				if _, err := os.Stat(s.File() + left); err == nil {
					t.Errorf("evenfall.db%s was left behind", left)
				}
			}
			// What the test itself put there is taken away again.
			if strings.HasPrefix(c.name, "the data file has no plans") {
				inFile(t, s.File(), "ALTER TABLE gone RENAME TO plans")
			}
			backups := filepath.Join(s.Dir(), "backups")
			if _, err := os.Stat(backups + ".mine"); err == nil {
				if err := errors.Join(os.Remove(backups), os.Rename(backups+".mine", backups)); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.RemoveAll(s.File() + "-journal"); err != nil {
				t.Fatal(err)
			}
			if err := letGo(); err != nil {
				t.Fatal(err)
			}
			if got := rows(t, s.File()); strings.Join(got, "\n") != strings.Join(before, "\n") {
				t.Error("the plans are not those of before")
			}
			again := openIn(t, s.Dir(), clk)
			if list, err := again.List(ctx); err != nil || len(list) != 1 || list[0].Damaged || list[0].Rev != 6 {
				t.Errorf("opened again: %+v, %v; want the plan at revision 6", list, err)
			}
			if names := otherNames(t, s.Dir(), s.File()); len(names) > 0 {
				t.Errorf("the data file is also kept as %v, and would be written to there", names)
			}
		})
	}
}

func failed(*testing.T, string) error { return syscall.EIO }
