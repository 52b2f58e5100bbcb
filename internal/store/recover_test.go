package store_test

import (
	"context"
	"errors"
	"testing"

	"evenfall/internal/plan"
)

const rot = "UPDATE plans SET doc = CAST(replace(CAST(doc AS TEXT), 'lawn', 'lown') AS BLOB)"

func TestRowB17_ADamagedDocumentIsRebuiltFromItsSteps(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 250)
	spoil(t, s, rot)
	if list, err := s.List(ctx); err != nil || !list[0].Damaged {
		t.Errorf("the list: got %+v, %v; want it marked as damaged", list, err)
	}
	good, err := s.LastGood(ctx, p.ID)
	if err != nil || good.Steps != 0 || good.Step.Number != 250 || string(good.Doc) != string(p.Doc) {
		t.Fatalf("got step %d, %d missing, %v; want the last", good.Step.Number, good.Steps, err)
	}
	saved, err := s.Recover(ctx, p.ID)
	if err != nil || saved.ID == p.ID {
		t.Fatal(saved.ID, err)
	}
	got, err := plan.Decode(saved.Doc)
	if err != nil || got.Name != "Yard (recovered)" || got.Heads["h1"].X != 350 {
		t.Errorf("recovered: got %q with head 1 at %v, %v", got.Name, got.Heads["h1"].X, err)
	}
	var damaged *plan.Damaged
	if _, err := s.Load(ctx, p.ID); !errors.As(err, &damaged) {
		t.Errorf("the damaged plan: got %v, want it untouched", err)
	}
	t.Logf("shown: rebuilt to step %d of 250", good.Step.Number)
}

func TestRowB17_AsFarAsTheStepsHold(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 120)
	spoil(t, s, rot)
	spoil(t, s, "UPDATE steps SET patch = CAST('{\"heads\":{\"h2\":{\"x_ft\":7}}}' AS BLOB) WHERE pos = 81")
	good, err := s.LastGood(ctx, p.ID)
	if err != nil || good.Step.Number != 80 || good.Steps != 40 {
		t.Fatalf("a patch changed: got step %d, %d missing, %v; want 80 and 40", good.Step.Number, good.Steps, err)
	}
	if d, err := plan.Decode(good.Doc); err != nil || d.Heads["h1"].X != 180 {
		t.Errorf("got head 1 at %v, %v; want 180", d.Heads["h1"].X, err)
	}
	spoil(t, s, "UPDATE points SET doc = CAST('{}' AS BLOB) WHERE kind = 'frame'")
	var damaged *plan.Damaged
	if _, err := s.LastGood(ctx, p.ID); !errors.As(err, &damaged) {
		t.Errorf("everything damaged: got %v, want that said", err)
	}
	if _, err := s.Recover(ctx, p.ID); !errors.As(err, &damaged) {
		t.Errorf("everything damaged: got %v, want that said", err)
	}
	if _, err := s.LastGood(ctx, "pnone"); !errors.Is(err, plan.ErrNotFound) {
		t.Errorf("no plan: got %v", err)
	}
	t.Log("shown: 80 of 120 steps back, 40 said to be missing")
}

func TestRowB17_AKeptPointIsTheLastResort(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 10)
	if _, err := s.KeepPoint(ctx, p.ID, p.Rev, 6, "Agreed"); err != nil {
		t.Fatal(err)
	}
	spoil(t, s, rot)
	spoil(t, s, "UPDATE steps SET sha256 = 'x'")
	good, err := s.LastGood(ctx, p.ID)
	if err != nil || good.Step.Number != 6 || good.Step.Label != "Agreed" || good.Steps != 4 {
		t.Errorf("got %+v, %v; want the named point", good.Step, err)
	}
}

func TestRowB17_ABadFrameIsGoneRound(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	p := moved(t, s, create(t, s), 205)
	spoil(t, s, "UPDATE points SET doc = CAST('{}' AS BLOB) WHERE pos = 200")
	for _, number := range []int64{0, 150, 200, 205} {
		if _, _, err := s.At(ctx, p.ID, number); err != nil {
			t.Errorf("step %d: %v", number, err)
		}
	}
	spoil(t, s, "UPDATE steps SET patch = CAST('{\"heads\":3}' AS BLOB), inverse = CAST('nonsense' AS BLOB) WHERE pos = 100")
	for _, number := range []int64{0, 99, 100, 205} { // from before it and from after it
		if _, _, err := s.At(ctx, p.ID, number); err != nil {
			t.Errorf("step %d beside the damaged one: %v", number, err)
		}
	}
}
