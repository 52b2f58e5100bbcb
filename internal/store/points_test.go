package store_test

import (
	"context"
	"database/sql"
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

// spoil changes the data file behind the store's back, as a bad disk would.
func spoil(t *testing.T, s *store.Store, statement string, args ...any) {
	t.Helper()
	db, err := sql.Open("sqlite3", s.File())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	done, err := db.Exec(statement, args...)
	if err != nil {
		t.Fatal(err)
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		t.Fatalf("%s: changed %d rows, %v", statement, n, err)
	}
}

// moved commits n moves of head 1, each to another place.
func moved(t *testing.T, s *store.Store, p plan.Saved, n int) plan.Saved {
	t.Helper()
	for range n {
		p = commit(t, s, p, fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, 100+p.Rev), fmt.Sprintf("Move to %d", 100+p.Rev))
	}
	return p
}

func undone(t *testing.T, s *store.Store, p plan.Saved, n int) plan.Saved {
	t.Helper()
	for range n {
		var err error
		if p, _, err = s.Undo(context.Background(), p.ID, p.Rev); err != nil {
			t.Fatal(err)
		}
	}
	return p
}

// kept lists the points as "kind name number".
func kept(t *testing.T, s *store.Store, id string) []string {
	t.Helper()
	points, err := s.Points(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, p := range points {
		list = append(list, fmt.Sprintf("%s %s %d", p.Kind, p.Name, p.Number))
	}
	return list
}

func TestRowB21_ADatabaseOfVersion1LosesNothing(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	b, err := os.ReadFile("../../testdata/databases/version-1.db")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "evenfall.db"), b, 0o600); err != nil {
		t.Fatal(err)
	}
	before := readAll(t, filepath.Join(dir, "evenfall.db"))
	s := openIn(t, dir, newClock())
	after := readAll(t, s.File())
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("plans and steps (-before +after):\n%s", diff)
	}
	list, err := s.List(ctx)
	if err != nil || len(list) != 2 {
		t.Fatalf("got %d plans, %v; want 2", len(list), err)
	}
	for _, l := range list {
		if l.Damaged || !l.Archived.IsZero() || !l.Counted {
			t.Errorf("%s: got %+v, want it sound, in use and counted", l.Name, l)
		}
		steps, err := s.History(ctx, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range steps { // the very first included, by the way back
			doc, _, err := s.At(ctx, l.ID, st.Number)
			if err != nil {
				t.Errorf("%s step %d: %v", l.Name, st.Number, err)
			}
			if p, err := plan.Decode(doc); err != nil || p.Name == "" {
				t.Errorf("%s step %d: %v", l.Name, st.Number, err)
			}
		}
		if l.Contents.Heads > 0 && len(steps) < 7 {
			t.Errorf("%s: got %d steps, want its 6 renames with the two undone", l.Name, len(steps))
		}
	}
	backups := backupNames(t, dir)
	if len(backups) == 0 || !strings.Contains(strings.Join(backups, " "), "before-change") {
		t.Errorf("backups: got %q, want one from before the change", backups)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	// The document of a plan that came over is rebuilt if it rots.
	s = openIn(t, dir, newClock())
	for _, l := range list {
		want, err := s.Load(ctx, l.ID)
		if err != nil {
			t.Fatal(err)
		}
		spoil(t, s, "UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'a', 'b') AS BLOB) WHERE id = ?", l.ID)
		good, err := s.LastGood(ctx, l.ID)
		if err != nil || string(good.Doc) != string(want.Doc) || good.Steps != 0 {
			t.Errorf("%s: got %v with %d steps missing, want the whole document", l.Name, err, good.Steps)
		}
	}
}

// readAll reads what version 1 knows of every plan and step.
func readAll(t *testing.T, file string) []string {
	t.Helper()
	db, err := sql.Open("sqlite3", "file:"+file+"?mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var all []string
	for _, query := range []string{
		"SELECT id || rev || pos || name || CAST(doc AS TEXT) || sha256 || changed FROM plans ORDER BY id",
		"SELECT plan || pos || rev || CAST(patch AS TEXT) || CAST(inverse AS TEXT) || label || sha256 || at FROM steps ORDER BY plan, pos",
	} {
		rows, err := db.Query(query)
		if err != nil {
			t.Fatal(err)
		}
		for rows.Next() {
			var line string
			if err := rows.Scan(&line); err != nil {
				t.Fatal(err)
			}
			all = append(all, line)
		}
		if err := errors.Join(rows.Err(), rows.Close()); err != nil {
			t.Fatal(err)
		}
	}
	if len(all) < 8 {
		t.Fatalf("only %d rows were read", len(all))
	}
	return all
}

func TestRowA31_AnyStepCanBeLookedAt(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := create(t, s)
	docs := [][]byte{p.Doc}
	for range 450 { // past two frames
		p = moved(t, s, p, 1)
		docs = append(docs, p.Doc)
	}
	p = undone(t, s, p, 30)
	for number, want := range docs {
		got, st, err := s.At(ctx, p.ID, int64(number))
		if err != nil || string(got) != string(want) || st.Number != int64(number) {
			t.Fatalf("step %d: got %v and step %d, want its document", number, err, st.Number)
		}
	}
	if _, st, err := s.At(ctx, p.ID, 440); err != nil || !st.Undone {
		t.Errorf("an undone step: got %v, undone %v", err, st.Undone)
	}
	for _, number := range []int64{-1, 451} {
		if _, _, err := s.At(ctx, p.ID, number); !errors.Is(err, plan.ErrNoPoint) {
			t.Errorf("step %d: got %v, want ErrNoPoint", number, err)
		}
	}
	if _, _, err := s.At(ctx, "pnone", 0); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no plan: got %v, want ErrNotFound", err)
	}
}

func TestRowA31_GoingBackIsOneNewStep(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	made := create(t, s)
	three := moved(t, s, made, 3)
	five := moved(t, s, three, 2)
	back, err := s.GoBack(ctx, five.ID, five.Rev, 3)
	if err != nil {
		t.Fatal(err)
	}
	want := plan.Saved{ID: five.ID, Rev: five.Rev + 1, Doc: three.Doc, Undo: "Go back to “" + three.Undo + "”"}
	if diff := cmp.Diff(want, back); diff != "" {
		t.Errorf("after going back (-want +got):\n%s", diff)
	}
	checkHistory(t, s, five.ID, "Plan made", "Move to 101", "Move to 102", "Move to 103", "Move to 104", "Move to 105", want.Undo)
	if _, err := s.GoBack(ctx, five.ID, five.Rev, 1); !isStale(err, back.Rev) {
		t.Errorf("on an old revision: got %v, want stale", err)
	}
	if again, err := s.GoBack(ctx, five.ID, five.Rev, 3); err != nil || again.Rev != back.Rev {
		t.Errorf("sent again because the answer got lost: got revision %d, %v; want %d", again.Rev, err, back.Rev)
	}
	forth, _, err := s.Undo(ctx, five.ID, back.Rev)
	if err != nil || string(forth.Doc) != string(five.Doc) {
		t.Errorf("undo of going back: got %v, want the document before it", err)
	}
	if same, err := s.GoBack(ctx, five.ID, forth.Rev, 5); err != nil || same.Rev != forth.Rev {
		t.Errorf("to where it is: got revision %d, %v; want no step", same.Rev, err)
	}
	if got := kept(t, s, five.ID); !cmp.Equal(got, []string{"before Move to 105 5"}) {
		t.Errorf("points: got %q, want the state before going back", got)
	}
}

func TestRowA31_ANamedPointOutlivesItsSteps(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 4)
	agreed := p.Doc
	point, err := s.KeepPoint(ctx, p.ID, p.Rev, 4, "  As agreed \nwith Mrs. Example ")
	if err != nil || point.Name != "As agreed with Mrs. Example" {
		t.Fatalf("got %q, %v", point.Name, err)
	}
	earlier, err := s.KeepPoint(ctx, p.ID, p.Rev, 1, "First try")
	if err != nil {
		t.Fatal(err)
	}
	p = moved(t, s, undone(t, s, p, 4), 1) // drops the four steps
	doc, got, err := s.PointDoc(ctx, p.ID, point.ID)
	if err != nil || string(doc) != string(agreed) || got.Kind != plan.PointNamed {
		t.Errorf("the point: got %+v, %v; want its document", got, err)
	}
	p, err = s.GoBackTo(ctx, p.ID, p.Rev, point.ID)
	if err != nil || string(p.Doc) != string(agreed) || p.Undo != "Go back to “As agreed with Mrs. Example”" {
		t.Errorf("going back to it: got %q, %v", p.Undo, err)
	}
	for name, err := range map[string]error{
		"no name":      second(s.KeepPoint(ctx, p.ID, p.Rev, 0, " ")),
		"old revision": second(s.KeepPoint(ctx, p.ID, 1, 0, "x")),
		"no step":      second(s.KeepPoint(ctx, p.ID, p.Rev, 99, "x")),
		"no plan":      second(s.KeepPoint(ctx, "pnone", 1, 0, "x")),
		"no point":     second(s.GoBackTo(ctx, p.ID, p.Rev, 999)),
	} {
		if err == nil {
			t.Errorf("%s: got no error", name)
		}
	}
	if err := s.ForgetPoint(ctx, p.ID, p.Rev, earlier.ID); err != nil {
		t.Fatal(err)
	}
	if err := s.ForgetPoint(ctx, p.ID, p.Rev, earlier.ID); !errors.Is(err, plan.ErrNoPoint) {
		t.Errorf("forgetting again: got %v, want ErrNoPoint", err)
	}
	if err := s.ForgetPoint(ctx, p.ID, 1, point.ID); !isStale(err, p.Rev) {
		t.Errorf("forgetting on an old revision: got %v, want stale", err)
	}
	if got := kept(t, s, p.ID); len(got) != 2 || strings.Contains(fmt.Sprint(got), "First try") {
		t.Errorf("points: got %q", got)
	}
}

func TestRowA31_DroppedStepsAreKeptToComeBackTo(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 8)
	p = moved(t, s, undone(t, s, p, 4), 1)
	if got := kept(t, s, p.ID); len(got) != 0 {
		t.Errorf("four dropped: got %q, want nothing kept", got)
	}
	p = moved(t, s, p, 3)
	end := p.Doc
	label := p.Undo
	p = moved(t, s, undone(t, s, p, 8), 1)
	got := kept(t, s, p.ID)
	if diff := cmp.Diff([]string{"dropped " + label + " 8"}, got); diff != "" {
		t.Fatalf("eight dropped (-want +got):\n%s", diff)
	}
	points, err := s.Points(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = s.GoBackTo(ctx, p.ID, p.Rev, points[0].ID); err != nil || string(p.Doc) != string(end) {
		t.Errorf("going back to what was dropped: %v", err)
	}
}

func TestRowA31_AnHourOfWorkIsKeptAndNotForEver(t *testing.T) {
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := create(t, s)
	p = moved(t, s, p, 2)
	c.advance(59 * time.Minute)
	p = moved(t, s, p, 1) // 08:59
	first := p
	if got := kept(t, s, p.ID); len(got) != 0 {
		t.Errorf("within the hour: got %q, want nothing", got)
	}
	c.advance(18 * time.Hour) // the next day
	p = moved(t, s, p, 5)
	if diff := cmp.Diff([]string{"hour " + first.Undo + " 3"}, kept(t, s, p.ID)); diff != "" {
		t.Errorf("the next day (-want +got):\n%s", diff)
	}
	points, err := s.Points(context.Background(), p.ID)
	if err != nil || !points[0].At.Equal(time.Date(2026, 6, 1, 8, 59, 0, 0, time.UTC)) {
		t.Errorf("its time: got %v, %v; want when that state came to be", points[0].At, err)
	}
	c.advance(-30 * time.Hour) // a clock set back does no harm
	p = moved(t, s, p, 1)
	for range 40 {
		c.advance(time.Hour)
		p = moved(t, s, p, 1)
	}
	got := kept(t, s, p.ID)
	if len(got) != 24 || got[0] != fmt.Sprintf("hour Move to %d 48", 100+p.Rev-2) {
		t.Errorf("after forty hours: got %d, newest %q; want the newest 24", len(got), got[0])
	}
}

func TestRowA31_TheStateBeforeABulkStepIsKept(t *testing.T) {
	s := open(t)
	p := moved(t, s, create(t, s), 1)
	notes := make([]string, 60)
	for i := range notes {
		notes[i] = fmt.Sprintf(`"k%d":{"text":"x","x_ft":%d,"y_ft":0}`, i, i)
	}
	p = commit(t, s, p, `{"notes":{`+strings.Join(notes, ",")+`}}`, "Bring in 60 notes")
	if diff := cmp.Diff([]string{"before Move to 101 1"}, kept(t, s, p.ID)); diff != "" {
		t.Errorf("points (-want +got):\n%s", diff)
	}
}

func TestRowA31_ArchivedPlansAreListedAsSuch(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := create(t, s)
	if err := s.Archive(ctx, p.ID, 7, true); !isStale(err, 1) {
		t.Errorf("another revision: got %v, want stale", err)
	}
	if err := s.Archive(ctx, "pnone", 1, true); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no plan: got %v", err)
	}
	for _, away := range []bool{true, false} {
		if err := s.Archive(ctx, p.ID, 1, away); err != nil {
			t.Fatal(err)
		}
		list, err := s.List(ctx)
		if err != nil || list[0].Archived.IsZero() == away || list[0].Rev != 1 {
			t.Errorf("away %v: got %+v, %v", away, list, err)
		}
	}
}

func TestRowA31_ACopyIsAPlanOfItsOwn(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 3)
	copied, err := s.Copy(ctx, p.ID, "Next door")
	if err != nil || copied.ID == p.ID || copied.Rev != 1 {
		t.Fatalf("got %+v, %v", copied, err)
	}
	if string(copied.Doc) != strings.Replace(string(p.Doc), `"Yard"`, `"Next door"`, 1) {
		t.Errorf("the copy differs in more than its name: %s", copied.Doc)
	}
	checkHistory(t, s, copied.ID, "Plan made")
	if _, err := s.Copy(ctx, "pnone", "x"); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no plan: got %v", err)
	}
}

func TestRowA31_ALongHistoryIsReadInPages(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 25)
	p = undone(t, s, p, 2)
	steps, older, err := s.HistoryPage(ctx, p.ID, 1<<40, 10)
	if err != nil || !older || len(steps) != 10 || steps[0].Number != 16 || steps[9].Number != 25 || !steps[8].Undone || steps[7].Undone {
		t.Errorf("newest: got %d steps, older %v, %v", len(steps), older, err)
	}
	steps, older, err = s.HistoryPage(ctx, p.ID, 6, 10)
	if err != nil || older || len(steps) != 6 || steps[0].Label != "Plan made" {
		t.Errorf("oldest: got %d steps, older %v, %v", len(steps), older, err)
	}
	if _, _, err := s.HistoryPage(ctx, "pnone", 6, 10); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no plan: got %v", err)
	}
}
