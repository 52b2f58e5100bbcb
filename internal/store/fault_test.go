package store_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// faulty is a request that is tried with each of its statements failing in turn.
type faulty struct {
	name string
	do   func() error
}

// TestRowB15_AnyStatementThatFailsLeavesEverythingAsItWas has the database refuse
// the first statement of a request, then only the second, and so on until the
// request goes through. Each refusal is told, never as a plan that is missing,
// damaged or moved on; not a row is different after it; and the same request
// then goes through.
func TestRowB15_AnyStatementThatFailsLeavesEverythingAsItWas(t *testing.T) {
	ctx := context.Background()
	c := newClock()
	s := openIn(t, t.TempDir(), c)
	p := moved(t, s, create(t, s), 3)
	var bulk []string
	for n := range 60 {
		bulk = append(bulk, fmt.Sprintf(`"k%d":{"text":"wet","x_ft":1,"y_ft":1}`, n))
	}
	saved := func(do func() (plan.Saved, error)) func() error {
		return func() error {
			next, err := do()
			if err == nil {
				p = next
			}
			return err
		}
	}
	step := func(patch string) func() error {
		return saved(func() (plan.Saved, error) { return s.Commit(ctx, p.ID, p.Rev, plan.Patch(patch), "Step") })
	}
	var point plan.Point
	try := func(name string, do func() error) { everyStatement(t, s, faulty{name, do}) }

	try("create", func() error { return second(s.Create(ctx, []byte(yard))) })
	try("copy", func() error { return second(s.Copy(ctx, p.ID, "Other")) })
	try("archive", func() error { return s.Archive(ctx, p.ID, p.Rev, true) })
	try("commit", step(`{"name":"A"}`))
	try("commit sent again", func() error {
		return second(s.Commit(ctx, p.ID, p.Rev-1, plan.Patch(`{"name":"A"}`), "Step"))
	})
	try("commit of much", step(`{"notes":{`+strings.Join(bulk, ",")+`}}`))
	try("undo", saved(func() (plan.Saved, error) { p, _, err := s.Undo(ctx, p.ID, p.Rev); return p, err }))
	try("redo", saved(func() (plan.Saved, error) { p, _, err := s.Redo(ctx, p.ID, p.Rev); return p, err }))
	c.advance(2 * time.Hour)
	try("commit in another hour", step(`{"name":"B"}`))
	p = undone(t, s, moved(t, s, p, 6), 6)
	try("commit that drops steps", step(`{"name":"C"}`))
	try("keep a point", func() (err error) {
		point, err = s.KeepPoint(ctx, p.ID, p.Rev, 2, "Agreed")
		return err
	})
	try("go back", saved(func() (plan.Saved, error) { return s.GoBack(ctx, p.ID, p.Rev, 1) }))
	try("go back to a point", saved(func() (plan.Saved, error) { return s.GoBackTo(ctx, p.ID, p.Rev, point.ID) }))
	picture := putPicture(t, s, "first")
	try("keep a picture", func() error { return second(s.PutBlob(ctx, "image/png", []byte("picture"))) })
	p = moved(t, s, p, int(199-len(history(t, s, p.ID))+1))
	try("commit with a frame", step(`{"name":"D"}`))

	try("load", func() error { return second(s.Load(ctx, p.ID)) })
	try("history", func() error { return second(s.History(ctx, p.ID)) })
	try("page of history", func() error { _, _, err := s.HistoryPage(ctx, p.ID, 9, 3); return err })
	try("points", func() error { return second(s.Points(ctx, p.ID)) })
	try("point", func() error { _, _, err := s.PointDoc(ctx, p.ID, point.ID); return err })
	try("step", func() error { _, _, err := s.At(ctx, p.ID, 60); return err })
	try("picture", func() error { _, _, err := s.Blob(ctx, picture); return err })
	try("held by", func() error { _, _, err := s.HeldBy(ctx, p.ID); return err })
	try("forget a point", func() error { return s.ForgetPoint(ctx, p.ID, p.Rev, point.ID) })

	spoil(t, s, "UPDATE plans SET doc = CAST('rot' AS BLOB) WHERE id = ?", p.ID)
	try("list", func() error { return second(s.List(ctx)) })
	try("last good state", func() error { return second(s.LastGood(ctx, p.ID)) })
	try("recover", func() error { return second(s.Recover(ctx, p.ID)) })
	spoil(t, s, "UPDATE points SET doc = CAST('rot' AS BLOB) WHERE plan = ? AND pos > 150", p.ID)
	try("last good state by an older frame", func() error { return second(s.LastGood(ctx, p.ID)) })
	spoil(t, s, "UPDATE steps SET sha256 = 'rot' WHERE plan = ?", p.ID)
	try("last resort", func() error { return second(s.LastGood(ctx, p.ID)) })
	try("delete", func() error { return s.Delete(ctx, p.ID, p.Rev) })
}

func history(t *testing.T, s *store.Store, id string) []plan.Step {
	t.Helper()
	steps, err := s.History(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	return steps
}

// everyStatement tries a request with each of its statements failing in turn.
func everyStatement(t *testing.T, s *store.Store, f faulty) {
	t.Helper()
	ctx := context.Background()
	before := rows(t, s.File())
	for n := int64(1); n < 200; n++ {
		came, err := store.FailStatement(ctx, s, n)
		if err != nil {
			t.Fatal(err)
		}
		err = f.do()
		if !came() {
			if _, err := store.FailStatement(ctx, s, 0); err != nil {
				t.Fatal(err)
			}
			if err != nil {
				t.Errorf("%s: once nothing fails: %v", f.name, err)
			}
			if n == 1 {
				t.Errorf("%s: no statement was seen", f.name)
			}
			return
		}
		var (
			stale   *plan.Stale
			damaged *plan.Damaged
		)
		switch {
		case err == nil:
			t.Errorf("%s: statement %d failed and nothing was said", f.name, n)
			return
		case errors.As(err, &stale), errors.As(err, &damaged), errors.Is(err, plan.ErrNotFound), errors.Is(err, plan.ErrNothing),
			errors.Is(err, plan.ErrNoPoint), errors.Is(err, plan.ErrNoPicture), errors.Is(err, plan.ErrPictureDamaged):
			t.Errorf("%s: statement %d failed and is told as %q", f.name, n, err)
		}
		if diff := cmp.Diff(before, rows(t, s.File())); diff != "" {
			t.Fatalf("%s: statement %d failed and left (-before +after):\n%s", f.name, n, diff)
		}
	}
	t.Errorf("%s never went through", f.name)
}

// TestRowB15_AClosedStoreAnswersWithAnError asks what a request on its way asks
// when the program stops.
func TestRowB15_AClosedStoreAnswersWithAnError(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := create(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Commit(ctx, p.ID, p.Rev, plan.Patch(`{"name":"Late"}`), "Late"); err == nil {
		t.Error("a step was acknowledged by a closed store")
	}
	if _, err := s.Load(ctx, p.ID); err == nil {
		t.Error("a closed store read a plan")
	}
	if err := s.Close(); err != nil {
		t.Errorf("closing again: %v", err)
	}
	if list, err := openIn(t, s.Dir(), newClock()).List(ctx); err != nil || len(list) != 1 || list[0].Name != "Yard" {
		t.Errorf("opened again: %v, %v; want the yard as it was", list, err)
	}
}
