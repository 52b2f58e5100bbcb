package store_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// torn is a folder as a power cut leaves it: a data file that holds the plan up
// to revision merged, and a log with every revision up to last.
type torn struct {
	id           string
	main, log    []byte
	merged, last int64
	names        map[int64]string // of the plan at each revision
}

func newTorn(t *testing.T) torn {
	t.Helper()
	s := open(t)
	p := create(t, s)
	names := map[int64]string{p.Rev: "Yard"}
	step := func() {
		name := fmt.Sprintf("Yard at step %d", p.Rev)
		p = commit(t, s, p, fmt.Sprintf(`{"name":%q}`, name), "Rename")
		names[p.Rev] = name
	}
	for range 5 {
		step()
	}
	if err := s.Close(); err != nil { // merges what there is
		t.Fatal(err)
	}
	c := newClock()
	merged := p.Rev
	s = openIn(t, s.Dir(), c)
	for range 12 {
		step()
	}
	log, err := os.ReadFile(s.File() + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	main, err := os.ReadFile(s.File())
	if err != nil {
		t.Fatal(err)
	}
	return torn{p.ID, main, log, merged, p.Rev, names}
}

// check opens the folder with a log that is not what was written. The plan is at
// one of its revisions, none before the merged one, with every step up to it; or
// the file is refused and stays as it is.
func (w torn) check(t *testing.T, what string, log []byte) (rev int64) {
	t.Helper()
	ctx := context.Background()
	dir := t.TempDir()
	file := filepath.Join(dir, "evenfall.db")
	write(t, file, w.main)
	write(t, file+"-wal", log)
	s, err := store.Open(ctx, dir, store.FreeSpace(0)) // no day's backup: it would take most of the time
	var u *store.Unusable
	if errors.As(err, &u) {
		if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, w.main) {
			t.Errorf("%s: it was refused and yet changed (%v)", what, err)
		}
		return 0
	}
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Errorf("%s: close: %v", what, err)
		}
	}()
	p, err := s.Load(ctx, w.id)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	doc, err := plan.Decode(p.Doc)
	if err != nil || p.Rev < w.merged || p.Rev > w.last || doc.Name != w.names[p.Rev] {
		t.Errorf("%s: revision %d is %q, %v; want one from %d to %d as it was", what, p.Rev, doc.Name, err, w.merged, w.last)
	}
	steps, err := s.History(ctx, w.id)
	if err != nil || int64(len(steps)) != p.Rev {
		t.Errorf("%s: at revision %d there are %d steps, %v", what, p.Rev, len(steps), err)
	}
	if _, err := store.Verify(ctx, s.File()); err != nil {
		t.Errorf("%s: %v", what, err)
	}
	return p.Rev
}

// TestRowB16_ATornLogOpensToAPrefix cuts the log of a data file short at random
// places, and flips random bits of it, 200 times each.
func TestRowB16_ATornLogOpensToAPrefix(t *testing.T) {
	w := newTorn(t)
	pick := rand.New(rand.NewPCG(16, 200))
	if rev := w.check(t, "the whole log", w.log); rev != w.last {
		t.Errorf("the whole log opens to revision %d, want %d", rev, w.last)
	}
	n := times(200, 200)
	found := map[int64]int{}
	for range n {
		at := pick.IntN(len(w.log))
		found[w.check(t, fmt.Sprintf("cut at %d", at), w.log[:at])]++
		bent := bytes.Clone(w.log)
		bit := pick.IntN(8 * len(bent))
		bent[bit/8] ^= 1 << (bit % 8)
		found[w.check(t, fmt.Sprintf("bit %d flipped", bit), bent)]++
	}
	if len(found) < 10 && !testing.Short() {
		t.Errorf("%d logs opened to only %d different revisions: the damage does not reach what it should", 2*n, len(found))
	}
	t.Logf("shown: %d cuts and %d flips opened to %d different revisions", n, n, len(found))
}

// TestRowB17_RottenBytesAreNoticed changes single random bytes of documents,
// pictures and restore points in the pages of a data file, 200 of each. SQLite's own checks
// pass over them; ours do not, on loading and in backups.
func TestRowB17_RottenBytesAreNoticed(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	long := strings.Repeat("wet ", 450)
	var notes []string
	for i := range 120 {
		notes = append(notes, fmt.Sprintf(`"k%d":{"text":"%s","x_ft":%d,"y_ft":1}`, i, long, i))
	}
	p := commit(t, s, create(t, s), `{"notes":{`+strings.Join(notes, ",")+`}}`, "Notes")
	picture := bytes.Repeat([]byte("grey pixels "), 9000)
	inFile(t, s.File(), "INSERT INTO blobs (sha256, type, bytes) VALUES (?, 'image/png', ?)", plan.Digest(picture), picture)
	inFile(t, s.File(), "DELETE FROM points")
	inFile(t, s.File(), "INSERT INTO points (plan, pos, rev, kind, name, doc, sha256, at) VALUES (?, 1, 2, 'named', 'x', ?, ?, '2026-06-01T08:00:00Z')",
		p.ID, bytes.ReplaceAll(p.Doc, []byte("wet "), []byte("dry ")), plan.Digest(bytes.ReplaceAll(p.Doc, []byte("wet "), []byte("dry "))))
	inFile(t, s.File(), "DELETE FROM steps WHERE pos > 0") // its patch has the same words
	inFile(t, s.File(), "UPDATE plans SET pos = 0")
	inFile(t, s.File(), "VACUUM")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(s.File())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.Verify(ctx, s.File()); err != nil {
		t.Fatal(err)
	}
	pick := rand.New(rand.NewPCG(17, 200))
	n := times(200, 200)
	for _, c := range []struct {
		what, words string
		load        bool
	}{{"document", "wet wet wet ", true}, {"picture", "grey pixels grey pixels ", false}, {"restore point", "dry dry dry ", false}} {
		places := all(whole, c.words)
		if len(places) < 100 {
			t.Fatalf("%s: only %d places to change", c.what, len(places))
		}
		for range n {
			at := places[pick.IntN(len(places))] + pick.IntN(len(c.words))
			bent := bytes.Clone(whole)
			bent[at] ^= byte(1 + pick.IntN(255))
			write(t, s.File(), bent)
			if _, err := store.Verify(ctx, s.File()); err == nil {
				t.Errorf("%s, byte %d: a backup of it would be taken for good", c.what, at)
			}
			if c.load {
				noticedOnLoading(t, s.Dir(), p.ID, at)
			}
		}
	}
	t.Logf("shown: %d bytes changed one at a time, all noticed", 3*n)
}

func noticedOnLoading(t *testing.T, dir, id string, at int) {
	t.Helper()
	s, err := store.Open(context.Background(), dir, store.FreeSpace(0))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	got, err := s.Load(context.Background(), id)
	var damaged *plan.Damaged
	if !errors.As(err, &damaged) {
		t.Errorf("byte %d: loading gives revision %d, %v; want it told as damaged", at, got.Rev, err)
	}
}

// all finds every place of a text in a file.
func all(b []byte, text string) []int {
	var found []int
	for from := 0; ; {
		at := bytes.Index(b[from:], []byte(text))
		if at < 0 {
			return found
		}
		found = append(found, from+at)
		from += at + len(text)
	}
}
