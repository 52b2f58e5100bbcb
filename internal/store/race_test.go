package store_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

func TestRowB22_OfManyStepsOnOneRevisionOneIsTaken(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	made := create(t, s)
	const racers = 50
	errs := make([]error, racers)
	var wg sync.WaitGroup
	start := make(chan struct{})
	for i := range racers {
		wg.Go(func() {
			<-start
			_, errs[i] = s.Commit(ctx, made.ID, made.Rev, plan.Patch(fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, i+1)), "Move")
		})
	}
	close(start)
	wg.Wait()
	taken, stale := 0, 0
	for _, err := range errs {
		switch {
		case err == nil:
			taken++
		case isStale(err, made.Rev+1):
			stale++
		default:
			t.Errorf("unexpected: %v", err)
		}
	}
	if taken != 1 || stale != racers-1 {
		t.Errorf("got %d taken and %d stale, want 1 and %d", taken, stale, racers-1)
	}
	checkHistory(t, s, made.ID, "Plan made", "Move")
}

func TestRowB23_TheSecondProgramIsToldWhereTheFirstIs(t *testing.T) {
	ctx := context.Background()
	s := open(t)
	inUse := func(want string) {
		t.Helper()
		_, err := store.Open(ctx, s.Dir())
		var busy *store.InUse
		if !errors.As(err, &busy) || busy.Address != want {
			t.Errorf("second open: got %v, want it in use at %q", err, want)
		}
	}
	inUse("")
	if err := s.Announce("http://127.0.0.1:8740"); err != nil {
		t.Fatal(err)
	}
	inUse("http://127.0.0.1:8740")
	create(t, s) // the first is not disturbed
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	again := openIn(t, s.Dir(), newClock())
	if list, err := again.List(ctx); err != nil || len(list) != 1 {
		t.Errorf("after the first has closed: got %d plans, %v; want 1", len(list), err)
	}
}
