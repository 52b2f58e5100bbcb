package store_test

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// worked makes a folder with several plans, a history with steps taken back, a
// picture, and the last changes still in the write-ahead log.
func worked(t *testing.T, c *clock) *store.Store {
	t.Helper()
	s := openIn(t, filepath.Join(t.TempDir(), "data"), c)
	for n := range 4 {
		p := create(t, s)
		for i := range 12 {
			c.advance(time.Minute)
			p = commit(t, s, p, fmt.Sprintf(`{"name":"Yard %d","heads":{"h1":{"x_ft":%d}}}`, n, i+1), "Move head 1")
		}
		for range n {
			var err error
			if p, _, err = s.Undo(context.Background(), p.ID, p.Rev); err != nil {
				t.Fatal(err)
			}
		}
	}
	picture := []byte(strings.Repeat("not really a picture ", 2000))
	inFile(t, s.File(), "INSERT INTO blobs (sha256, type, bytes) VALUES (?, 'image/png', ?)", plan.Digest(picture), picture)
	return s
}

// inFile runs a statement on a data file from outside.
func inFile(t *testing.T, file, statement string, args ...any) {
	t.Helper()
	db, err := sql.Open("sqlite3", file+"?_busy_timeout=5000")
	if err != nil {
		t.Fatal(err)
	}
	_, err = db.Exec(statement, args...)
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

// rows is every row of a data file, as text.
func rows(t *testing.T, file string) []string {
	t.Helper()
	db, err := sql.Open("sqlite3", "file:"+file+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var all []string
	for _, query := range []string{
		"SELECT * FROM plans ORDER BY id", "SELECT * FROM steps ORDER BY plan, pos",
		"SELECT * FROM blobs ORDER BY sha256", "SELECT * FROM points ORDER BY id",
	} {
		found, err := db.Query(query)
		if err != nil {
			t.Fatal(err)
		}
		columns, err := found.Columns()
		if err != nil {
			t.Fatal(err)
		}
		values := make([]any, len(columns))
		for i := range values {
			values[i] = new(any)
		}
		for found.Next() {
			if err := found.Scan(values...); err != nil {
				t.Fatal(err)
			}
			var b strings.Builder
			for i, v := range values {
				fmt.Fprintf(&b, "%s=%q ", columns[i], fmt.Sprint(*v.(*any)))
			}
			all = append(all, b.String())
		}
		if err := errors.Join(found.Err(), found.Close()); err != nil {
			t.Fatal(err)
		}
	}
	return all
}

func rowDigest(t *testing.T, file string) string {
	t.Helper()
	sum, err := store.RowDigest(context.Background(), file)
	if err != nil {
		t.Fatal(err)
	}
	return sum
}

// TestRowB25_TheDrill backs up at work, goes on, loses the data file, and goes
// back: not a row is different.
func TestRowB25_TheDrill(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := worked(t, c)
	want, sum := rows(t, s.File()), rowDigest(t, s.File())
	b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	if b.Contents.Plans != 4 || b.Contents.Blobs != 1 || b.Contents.Steps < 4*13 || !b.Contents.Made.Equal(c.at) {
		t.Errorf("the backup holds %+v", b.Contents)
	}
	list, err := s.List(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range list { // work that comes after the backup
		p, err := s.Load(ctx, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		commit(t, s, p, `{"name":"Later"}`, "Rename")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.File(), []byte("a disk went bad"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = store.Open(ctx, s.Dir())
	var u *store.Unusable
	if !errors.As(err, &u) || u.Backup != b.File || !strings.Contains(err.Error(), "evenfall restore "+b.File+" --data "+s.Dir()) {
		t.Fatalf("opening says %v, want the backup and the command to restore it", err)
	}

	c.advance(time.Hour)
	done, err := store.Restore(ctx, s.Dir(), filepath.Base(b.File), store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	if done.Contents.Plans != 4 || !done.Made.Equal(b.Contents.Made) || done.Whole {
		t.Errorf("restored %+v", done)
	}
	if kept, err := os.ReadFile(done.Kept); err != nil || string(kept) != "a disk went bad" {
		t.Errorf("the data file of before was not kept: %q, %v", kept, err)
	}
	again := openIn(t, s.Dir(), c)
	if diff := cmp.Diff(want, rows(t, again.File())); diff != "" {
		t.Errorf("rows (-source +restored):\n%s", diff)
	}
	if got := rowDigest(t, again.File()); got != sum {
		t.Errorf("digest: got %s, want %s", got, sum)
	}
	for _, l := range list {
		walkBack(t, again, l.ID)
	}
	t.Logf("shown: %d plans, %d steps and %d picture restored, every row as it was", done.Contents.Plans, done.Contents.Steps, done.Contents.Blobs)
}

// walkBack takes back every step of a plan, each of which is checked on the way.
func walkBack(t *testing.T, s *store.Store, id string) {
	t.Helper()
	ctx := context.Background()
	p, err := s.Load(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	for p.Undo != "" {
		if p, _, err = s.Undo(ctx, id, p.Rev); err != nil {
			t.Fatalf("undo of %s at revision %d: %v", id, p.Rev, err)
		}
	}
}

// TestRowB25_ARestoreCutShortLeavesAWholeFolder ends a restore after each of its
// steps, with a data file of before that is whole, damaged or missing.
func TestRowB25_ARestoreCutShortLeavesAWholeFolder(t *testing.T) {
	ctx := context.Background()
	for _, before := range []string{"whole", "with a log", "damaged", "missing"} {
		for i, step := range store.RestoreSteps {
			t.Run(before+", after "+step, func(t *testing.T) {
				c := newClock()
				s := worked(t, c)
				b, err := store.BackUp(ctx, s.Dir(), filepath.Join(t.TempDir(), "kept.db"), store.WithClock(c.now))
				if err != nil {
					t.Fatal(err)
				}
				backedUp := rowDigest(t, s.File())
				commit(t, s, create(t, s), `{"name":"After the backup"}`, "Rename")
				now := rowDigest(t, s.File())
				log, err := os.ReadFile(s.File() + "-wal")
				if err != nil {
					t.Fatal(err)
				}
				main, err := os.ReadFile(s.File())
				if err != nil {
					t.Fatal(err)
				}
				if err := s.Close(); err != nil {
					t.Fatal(err)
				}
				switch before {
				case "with a log": // as after a power cut
					write(t, s.File(), main)
					write(t, s.File()+"-wal", log)
				case "damaged":
					clear(main[:50])
					write(t, s.File(), main)
					write(t, s.File()+"-wal", log)
				case "missing":
					if err := os.Remove(s.File()); err != nil {
						t.Fatal(err)
					}
				}
				_, err = store.Restore(ctx, s.Dir(), b.File, store.WithClock(c.now), store.CutAfter(step))
				if !errors.Is(err, store.ErrCut) {
					t.Fatalf("got %v, want it cut short", err)
				}
				done := i >= slices.Index(store.RestoreSteps, "swap")
				if !done && (before == "damaged" || before == "missing") {
					var u *store.Unusable
					if _, err := store.Open(ctx, s.Dir()); !errors.As(err, &u) {
						t.Errorf("opening says %v, want it refused as before", err)
					}
					if _, err := store.Restore(ctx, s.Dir(), b.File, store.WithClock(c.now)); err != nil {
						t.Fatalf("restoring again: %v", err)
					}
					done = true
				}
				again := openIn(t, s.Dir(), c)
				want := now
				if done {
					want = backedUp
				}
				if got := rowDigest(t, again.File()); got != want {
					t.Errorf("the folder holds neither the plans of before nor those of the backup")
				}
				if err := again.Close(); err != nil {
					t.Fatal(err)
				}
				if others := otherNames(t, s.Dir(), s.File()); len(others) > 0 {
					t.Errorf("the data file is also kept as %v, and would be written to there", others)
				}
				if before == "damaged" {
					kept, err := filepath.Glob(filepath.Join(s.Dir(), "evenfall-set-aside-*.db-wal"))
					if err != nil || len(kept) != 1 {
						t.Errorf("the log of the damaged file is not kept beside it: %v, %v", kept, err)
					}
				}
				if _, err := os.Stat(s.File() + ".restoring"); err == nil {
					t.Error("the copy brought in beside the data file was left behind")
				}
			})
		}
	}
	t.Logf("shown: cut short at %d points with 4 kinds of file before, each folder whole", len(store.RestoreSteps))
}

// otherNames returns the names in a data folder that are the same file as one.
func otherNames(t *testing.T, dir, file string) (others []string) {
	t.Helper()
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	err = filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		if err != nil || path == file {
			return err
		}
		other, err := os.Stat(path)
		if err == nil && os.SameFile(info, other) {
			others = append(others, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return others
}

func write(t *testing.T, path string, b []byte) {
	t.Helper()
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

// The plans of before are a backup themselves: restoring that brings them back.
func TestRowB25_WhatARestoreReplacesCanBeRestored(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := worked(t, c)
	b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	create(t, s)
	now := rowDigest(t, s.File())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	first, err := store.Restore(ctx, s.Dir(), b.File, store.WithClock(c.now))
	if err != nil || !first.Whole {
		t.Fatalf("got %+v, %v", first, err)
	}
	second, err := store.Restore(ctx, s.Dir(), first.Kept, store.WithClock(c.now))
	if err != nil || !second.Whole || second.Kept == first.Kept {
		t.Fatalf("got %+v, %v", second, err)
	}
	if got := rowDigest(t, openIn(t, s.Dir(), c).File()); got != now {
		t.Error("the plans of before did not come back")
	}
	for _, listed := range store.Backups(ctx, s.Dir()) {
		if listed.Trouble != nil {
			t.Errorf("%s: %v", listed.File, listed.Trouble)
		}
	}
}

func TestRowB25_WhatIsNoBackupIsNotRestored(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := worked(t, c)
	folder := t.TempDir()
	good := filepath.Join(folder, "good.db")
	if _, err := store.BackUp(ctx, s.Dir(), good, store.WithClock(c.now)); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	made := func(name string, change func(b []byte) []byte) string {
		path := filepath.Join(folder, name+".db")
		write(t, path, change(slices.Clone(b)))
		return path
	}
	in := bytesAt(t, b, "not really a picture")
	newer := made("newer", func(b []byte) []byte { copy(b[60:], "\x00\x00\x00\x63"); return b })
	foreign := made("foreign", func(b []byte) []byte { copy(b[68:], "XXXX"); return b })
	short := made("short", func(b []byte) []byte { return b[:len(b)/2/4096*4096] })
	picture := made("picture", func(b []byte) []byte { b[in] ^= 1; return b })
	label := made("label", func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("Move head 1"), []byte("move head 1")) })
	text := made("text", func([]byte) []byte { return []byte("this is a shopping list") })
	empty := made("empty", func([]byte) []byte { return nil })
	logged := made("logged", func(b []byte) []byte { return b })
	write(t, logged+"-wal", []byte("something"))
	live := s.File()

	if _, err := store.Restore(ctx, s.Dir(), good); !isInUse(err) {
		t.Errorf("while it is open: got %v, want it in use", err)
	}
	before := rowDigest(t, s.File())
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct{ name, file, has string }{
		{"newer", newer, "newer Evenfall (data version 99"},
		{"another program's", foreign, "another program"},
		{"cut short", short, "damaged"},
		{"a bit of a picture flipped", picture, "is no longer what was written"},
		{"a bit of a label flipped", label, "no longer those it was made with"},
		{"a text", text, "not a database"},
		{"empty", empty, "it is empty"},
		{"with a log beside it", logged, "evenfall backup"},
		{"the data file itself", live, "the data file in use"},
		{"a folder", folder, "is not a file"},
		{"nothing", filepath.Join(folder, "none.db"), "there is no file"},
		{"a name outside", "../evenfall.lock", "there is no file"},
	} {
		t.Run(r.name, func(t *testing.T) {
			_, err := store.Restore(ctx, s.Dir(), r.file, store.WithClock(c.now))
			if err == nil || !strings.Contains(err.Error(), r.has) {
				t.Fatalf("got %v, want it refused with %q", err, r.has)
			}
			entries, err := os.ReadDir(s.Dir())
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range entries {
				if !slices.Contains([]string{"evenfall.db", "evenfall.folder", "evenfall.lock", "backups"}, e.Name()) {
					t.Errorf("it left %s behind", e.Name())
				}
			}
		})
	}
	if _, err := store.Restore(ctx, s.Dir(), good, store.FreeSpace(1000)); err == nil || !strings.Contains(err.Error(), "too little space") {
		t.Errorf("on a full disk: got %v", err)
	}
	if got := rowDigest(t, s.File()); got != before {
		t.Error("a refused restore changed the plans")
	}
}

func isInUse(err error) bool {
	var busy *store.InUse
	return errors.As(err, &busy)
}

// bytesAt finds a text in a file.
func bytesAt(t *testing.T, b []byte, text string) int {
	t.Helper()
	at := strings.Index(string(b), text)
	if at < 0 {
		t.Fatalf("%q is not in the file", text)
	}
	return at
}

func TestRowB25_ABackupOverwritesNothingAndWantsRoom(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := worked(t, c)
	taken := filepath.Join(t.TempDir(), "taken.db")
	write(t, taken, []byte("mine"))
	if _, err := store.BackUp(ctx, s.Dir(), taken); err == nil || !strings.Contains(err.Error(), "it was left as it is") {
		t.Errorf("onto a file that is there: got %v", err)
	}
	if b, err := os.ReadFile(taken); err != nil || string(b) != "mine" {
		t.Errorf("the file that was there is now %q, %v", b, err)
	}
	tight := filepath.Join(t.TempDir(), "tight.db")
	_, err := store.BackUp(ctx, s.Dir(), tight, store.FreeSpace(100_000))
	if err == nil || !strings.Contains(err.Error(), "twice what they take") {
		t.Errorf("with too little room: got %v", err)
	}
	if _, err := store.BackUp(ctx, t.TempDir(), tight); err == nil || !strings.Contains(err.Error(), "there are no plans") {
		t.Errorf("of an empty folder: got %v", err)
	}
	if _, err := store.BackUp(ctx, s.Dir(), filepath.Join(t.TempDir(), "no", "such.db")); err == nil || !strings.Contains(err.Error(), "cannot be written") {
		t.Errorf("into a folder that is not there: got %v", err)
	}
	left, err := os.ReadDir(filepath.Dir(tight))
	if err != nil || len(left) != 0 {
		t.Errorf("refused backups left %v behind, %v", left, err)
	}
}

// One damaged plan does not cost the others their backup: it is made, what is
// damaged is named, and no older backup is dropped meanwhile.
func TestRowB17_ABackupOfDamagedPlansIsMadeAndSaysSo(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := worked(t, c)
	for range 9 {
		c.advance(24 * time.Hour)
		if err := s.BackUpDaily(ctx); err != nil {
			t.Fatal(err)
		}
	}
	before := backupNames(t, s.Dir())
	inFile(t, s.File(), "UPDATE points SET doc = CAST('other' AS BLOB) WHERE id = 1")
	c.advance(24 * time.Hour)
	if err := s.BackUpDaily(ctx); err == nil || !strings.Contains(err.Error(), "a kept state of the plan ") {
		t.Errorf("the day's backup says %v, want what is damaged", err)
	}
	if got := backupNames(t, s.Dir()); len(got) != len(before)+1 {
		t.Errorf("backups: got %v, want one more than %v", got, before)
	}
	inFile(t, s.File(), "UPDATE points SET doc = CAST('other' AS BLOB) WHERE id = 1") // it was mended after the backup
	file := filepath.Join(t.TempDir(), "kept.db")
	b, err := store.BackUp(ctx, s.Dir(), file)
	if err != nil || len(b.Contents.Damaged) != 1 {
		t.Fatalf("a backup by hand: %+v, %v; want it made and one thing damaged in it", b, err)
	}
	folder := filepath.Join(t.TempDir(), "back")
	done, err := store.Restore(ctx, folder, file)
	if err != nil || len(done.Contents.Damaged) != 1 || done.Contents.Plans != 4 {
		t.Errorf("restoring it: %+v, %v", done, err)
	}
	if diff := cmp.Diff(rows(t, s.File()), rows(t, filepath.Join(folder, "evenfall.db"))); diff != "" {
		t.Errorf("rows (-source +restored):\n%s", diff)
	}
}

// TestRowB25_BackupsAtWorkAreWhole makes backups while several clients store
// steps; each holds everything acknowledged before it was begun.
func TestRowB25_BackupsAtWorkAreWhole(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	stop := make(chan struct{})
	acked := make(chan map[string]int64)
	var plans []plan.Saved
	for range 3 {
		plans = append(plans, create(t, s))
	}
	revs := make([]chan int64, len(plans))
	for i, p := range plans {
		revs[i] = make(chan int64, 1)
		revs[i] <- p.Rev
		go func() {
			for {
				select {
				case <-stop:
					acked <- nil
					return
				default:
				}
				next, err := s.Commit(ctx, p.ID, p.Rev, plan.Patch(fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, p.Rev%20)), "Move")
				if err != nil {
					t.Errorf("commit: %v", err)
					continue
				}
				p = next
				<-revs[i]
				revs[i] <- p.Rev
			}
		}()
	}
	for n := range 6 {
		least := map[string]int64{}
		for i, p := range plans {
			rev := <-revs[i]
			least[p.ID] = rev
			revs[i] <- rev
		}
		b, err := store.BackUp(ctx, s.Dir(), filepath.Join(t.TempDir(), fmt.Sprintf("%d.db", n)))
		if err != nil {
			t.Fatal(err)
		}
		folder := filepath.Join(t.TempDir(), "back")
		if _, err := store.Restore(ctx, folder, b.File); err != nil {
			t.Fatal(err)
		}
		back := openIn(t, folder, newClock())
		for id, rev := range least {
			p, err := back.Load(ctx, id)
			if err != nil || p.Rev < rev {
				t.Errorf("backup %d: plan %s at revision %d, %v; want at least %d", n, id, p.Rev, err, rev)
			}
		}
		if err := back.Close(); err != nil {
			t.Fatal(err)
		}
	}
	close(stop)
	for range plans {
		<-acked
	}
	t.Log("shown: 6 backups while 3 clients store, 0 acknowledged steps missing")
}

// TestRowB25_APageOpenOverARestoreOverwritesNothing goes back to a backup while
// a page is open on a later revision, and works on until the restored plan might
// have that revision again: the page's step is refused.
func TestRowB25_APageOpenOverARestoreOverwritesNothing(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, filepath.Join(t.TempDir(), "plans"), c)
	p, err := s.Create(ctx, []byte(`{"format":"evenfall-plan/1","name":"Yard","show":"us"}`))
	if err != nil {
		t.Fatal(err)
	}
	b, err := store.BackUp(ctx, s.Dir(), "", store.WithClock(c.now))
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		p = commit(t, s, p, fmt.Sprintf(`{"name":"Yard %d"}`, p.Rev), "Rename")
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	c.advance(time.Hour)
	if _, err := store.Restore(ctx, s.Dir(), b.File, store.WithClock(c.now)); err != nil {
		t.Fatal(err)
	}
	s = openIn(t, s.Dir(), c)
	now, err := s.Load(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if now.Rev <= p.Rev {
		t.Errorf("restored at revision %d, want past the %d of before", now.Rev, p.Rev)
	}
	for range 3 {
		_, err := s.Commit(ctx, p.ID, p.Rev, []byte(`{"name":"From the page of before"}`), "Rename")
		var stale *plan.Stale
		if !errors.As(err, &stale) {
			t.Fatalf("the step of the page of before: %v, want it refused as stale", err)
		}
		now = commit(t, s, now, fmt.Sprintf(`{"name":"After %d"}`, now.Rev), "Rename")
	}
}
