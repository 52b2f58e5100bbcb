package store_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// daily lives through days and returns what the backups of each day said.
func daily(s *store.Store, c *clock, days int) (said []string) {
	for range days {
		c.advance(24 * time.Hour)
		if err := s.BackUpDaily(context.Background()); err != nil {
			said = append(said, err.Error())
		}
	}
	return said
}

func TestRowB25_DamageNobodyMendsDoesNotFillTheDisk(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := under(t, s, create(t, s), putPicture(t, s, "the yard from above"))
	if said := daily(s, c, 20); len(said) > 0 {
		t.Fatal(said)
	}
	whole := backupNames(t, s.Dir())
	spoil(t, s, "UPDATE blobs SET bytes = CAST('other' AS BLOB)")
	said := daily(s, c, 40)
	if len(said) != 40 || !strings.Contains(said[39], "the picture ") || !strings.Contains(said[39], "choosing it again") {
		t.Errorf("said %d times, last %q; want the picture named each day", len(said), said[len(said)-1])
	}
	all := backupNames(t, s.Dir())
	there := strings.Join(all, " ")
	for _, name := range whole {
		if !strings.Contains(there, name) {
			t.Errorf("the whole backup %s went, and none after it is whole", name)
		}
	}
	if most := len(whole) + 7 + 4; len(all) > most {
		t.Errorf("%d backups, want at most %d", len(all), most)
	}
	putPicture(t, s, "the yard from above")
	if said := daily(s, c, 1); len(said) > 0 {
		t.Errorf("mended: %q", said)
	}
	if all := backupNames(t, s.Dir()); len(all) > 7+4 {
		t.Errorf("mended: %d backups, want the older ones gone", len(all))
	}
	if _, err := s.Load(ctx, p.ID); err != nil {
		t.Error(err)
	}
	t.Logf("shown: %d backups after 40 days of damage", len(all))
}

func TestRowB17_DamagedPointsAreMendedOrGo(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := moved(t, s, create(t, s), 210) // frames at 0 and 200
	p = moved(t, s, undone(t, s, p, 6), 1)
	if _, err := s.KeepPoint(ctx, p.ID, p.Rev, 3, "Agreed"); err != nil {
		t.Fatal(err)
	}
	before := kept(t, s, p.ID)
	spoil(t, s, "UPDATE points SET doc = CAST('other' AS BLOB)")
	if said := daily(s, c, 1); len(said) != 1 || !strings.Contains(said[0], "a kept state of the plan "+p.ID) {
		t.Fatalf("said %q, want the points", said)
	}
	if said := daily(s, c, 1); len(said) > 0 {
		t.Errorf("the day after: %q, want them mended", said)
	}
	after := kept(t, s, p.ID)
	if len(before) != 2 || len(after) != 1 || after[0] != "named Agreed 3" {
		t.Errorf("kept %q, was %q; want the named one, and the dropped state gone, to which no step leads", after, before)
	}
	points, err := s.Points(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	want, _, err := s.At(ctx, p.ID, 3)
	if err != nil {
		t.Fatal(err)
	}
	if got, _, err := s.PointDoc(ctx, p.ID, points[0].ID); err != nil || string(got) != string(want) {
		t.Errorf("the named point: %v", err)
	}
	spoil(t, s, rot)
	if good, err := s.LastGood(ctx, p.ID); err != nil || good.Steps != 0 {
		t.Errorf("from the mended frames: %d missing, %v", good.Steps, err)
	}
}

func TestRowB17_ADateThatRottedHidesNoOtherPlan(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	bad, other := create(t, s), create(t, s)
	spoil(t, s, "UPDATE plans SET changed = '2026-0x', archived = 'y' WHERE id = ?", bad.ID)
	list, err := s.List(ctx)
	if err != nil || len(list) != 2 {
		t.Fatalf("%d listed, %v", len(list), err)
	}
	for _, l := range list {
		if l.Damaged != (l.ID == bad.ID) {
			t.Errorf("%s listed as damaged: %v", l.ID, l.Damaged)
		}
	}
	var damaged *plan.Damaged
	if _, err := s.Load(ctx, bad.ID); !errors.As(err, &damaged) {
		t.Errorf("loading it: %v", err)
	}
	if again, err := s.Recover(ctx, bad.ID); err != nil || !strings.Contains(string(again.Doc), "(recovered)") {
		t.Errorf("recovering it: %v", err)
	}
	if _, err := s.Load(ctx, other.ID); err != nil {
		t.Error(err)
	}
}

func TestRowB17_APlanWithALongNameIsRecovered(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := commit(t, s, create(t, s), `{"name":"`+strings.Repeat("é", plan.MaxText)+`"}`, "Rename")
	spoil(t, s, rot)
	saved, err := s.Recover(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := plan.Decode(saved.Doc); err != nil || !strings.HasSuffix(got.Name, "é (recovered)") {
		t.Errorf("recovered as %q, %v", got.Name, err)
	}
}

// TestRowA31_ADroppedStateStaysThoughItWasAnHoursLast drops a state that is kept
// as the last of an hour, of which fewer are kept.
func TestRowA31_ADroppedStateStaysThoughItWasAnHoursLast(t *testing.T) {
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := commit(t, s, moved(t, s, create(t, s), 8), `{"heads":{"h1":{"x_ft":5}}}`, "Move to 5")
	c.advance(2 * time.Hour)
	p = commit(t, s, moved(t, s, p, 1), `{"heads":{"h1":{"x_ft":5}}}`, "Move to 5 again")
	p = moved(t, s, undone(t, s, p, 6), 1)
	for range 30 {
		c.advance(time.Hour)
		p = moved(t, s, p, 1)
	}
	if got := fmt.Sprint(kept(t, s, p.ID)); !strings.Contains(got, "dropped ") {
		t.Errorf("kept %s; the dropped state went with the hours", got)
	}
}

func TestRowB28_OfVeryLargePlansFewerStatesAreKept(t *testing.T) {
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := create(t, s)
	hours := func(n int) {
		for range n {
			c.advance(time.Hour)
			p = moved(t, s, p, 1)
		}
	}
	hours(9)
	if got := kept(t, s, p.ID); len(got) != 8 {
		t.Fatalf("of a small plan: got %q, want eight", got)
	}
	spoil(t, s, "UPDATE points SET doc = zeroblob(12 << 20) WHERE kind = 'hour'")
	hours(1)
	if got := kept(t, s, p.ID); len(got) != 3 {
		t.Errorf("of a large plan: got %q, want three", got)
	}
	t.Log("shown: 8 states of a small plan kept, 3 of one of 12 MiB")
}

// TestRowB8_ChecksumsAreFoundWhereverTheyStand compares with a pattern.
func TestRowB8_ChecksumsAreFoundWhereverTheyStand(t *testing.T) {
	sum := plan.Digest([]byte("yard"))
	pattern := regexp.MustCompile(`[0-9a-f]+`)
	for before := range 200 {
		for _, text := range []string{
			strings.Repeat("x", before) + sum,
			strings.Repeat("{\"x_ft\":1", before) + `"` + sum + `"` + strings.Repeat("12.5,", before),
			strings.Repeat("x", before) + "a" + sum,                 // one digit more is none
			strings.Repeat("f", before) + "," + sum[1:] + "," + sum, // and one less
			sum + "," + strings.Repeat("0", before) + "," + plan.Digest([]byte(sum)),
		} {
			want := map[string]bool{}
			for _, run := range pattern.FindAllString(text, -1) {
				if len(run) == 64 {
					want[run] = true
				}
			}
			if got := store.Sums(text); fmt.Sprint(got) != fmt.Sprint(want) {
				t.Fatalf("in %q: got %v, want %v", text, got, want)
			}
		}
	}
}

func TestRowB25_FoldersAndFilesMayBeNamedFromWhereTheUserIs(t *testing.T) {
	ctx := context.Background()
	t.Chdir(t.TempDir())
	s := openIn(t, "plans", newClock())
	create(t, s)
	for _, to := range []string{"", "kept.db", filepath.Join("plans", "kept.db")} {
		if _, err := store.BackUp(ctx, "plans", to); err != nil {
			t.Errorf("to %q: %v", to, err)
		}
	}
	if all := store.Backups(ctx, "plans"); len(all) != 1 || all[0].Trouble != nil || all[0].Contents.Plans != 1 {
		t.Errorf("listed: %+v", all)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if r, err := store.Restore(ctx, "plans", "kept.db"); err != nil || r.Contents.Plans != 1 {
		t.Errorf("restored: %+v, %v", r, err)
	}
}
