package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"evenfall/internal/store"
)

// thorough, when set in the environment, makes tests that repeat themselves do
// so more often.
const thorough = "EVENFALL_THOROUGH"

// TestRowB15_TheProgramKilledUnderLoadLosesNothing kills the real program 20
// times, with EVENFALL_THOROUGH=1 200 times, at a random moment while four clients
// store steps over HTTP, two of them in one plan. Each time it starts again by
// itself and has every step that was answered.
func TestRowB15_TheProgramKilledUnderLoadLosesNothing(t *testing.T) {
	kills := 20
	switch {
	case os.Getenv(thorough) != "":
		kills = 200
	case testing.Short(): // the race detector is slow, and sees as much in a few
		kills = 4
	}
	data := filepath.Join(t.TempDir(), "data")
	pick := rand.New(rand.NewPCG(15, 20))
	acked := map[string]int64{}
	steps := 0
	var slowest time.Duration
	for kill := range kills {
		began := time.Now()
		cmd, _, url := programIn(t, data, os.Stderr)
		c := &client{url: url}
		c.must(t, http.StatusOK, "GET", "/", "")
		slowest = max(slowest, time.Since(began))
		for len(acked) < 3 {
			acked[c.make(t, fmt.Sprint("Yard ", len(acked)))] = 1
		}
		var ids []string
		for id, rev := range acked {
			ids = append(ids, id)
			if got := c.rev(t, id); got < rev {
				t.Fatalf("after kill %d plan %s is at revision %d; %d was acknowledged", kill, id, got, rev)
			}
		}
		n := load(c, ids, acked, func() {
			time.Sleep(time.Duration(20+pick.IntN(120)) * time.Millisecond)
			if err := cmd.Process.Kill(); err != nil {
				t.Error(err)
			}
		})
		steps += n
		if err := cmd.Wait(); err == nil {
			t.Fatal("the program ended by itself")
		}
		c.http.CloseIdleConnections()
	}
	s, err := store.Open(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	for id, rev := range acked {
		p, err := s.Load(context.Background(), id)
		if err != nil || p.Rev < rev {
			t.Errorf("plan %s is at revision %d, %v; %d was acknowledged", id, p.Rev, err, rev)
		}
		for p.Undo != "" {
			if p, _, err = s.Undo(context.Background(), id, p.Rev); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	b, err := store.BackUp(context.Background(), data, "") // reads everything through
	if err != nil || len(b.Contents.Damaged) > 0 {
		t.Errorf("the file after it: %v, %v", b.Contents.Damaged, err)
	}
	if steps < 3*kills {
		t.Errorf("%d steps in %d kills: there was no load", steps, kills)
	}
	t.Logf("shown: %d kills, %d steps acknowledged, none lost; from start to first page %v at the most", kills, steps, slowest)
}

// load stores steps by four clients until the program is gone, and notes the last
// revision of each plan that was answered. It returns how many were.
func load(c *client, ids []string, acked map[string]int64, kill func()) int {
	var mu sync.Mutex
	var clients sync.WaitGroup
	steps := 0
	for n := range 4 {
		id := ids[n%len(ids)]
		clients.Go(func() {
			mu.Lock()
			rev := acked[id]
			mu.Unlock()
			for {
				next, a := c.step(id, rev, note(rev, fmt.Sprint("step at ", rev)))
				switch {
				case a.status == 0:
					return
				case a.status == http.StatusOK:
					rev = next
					mu.Lock()
					acked[id] = max(acked[id], rev)
					steps++
					mu.Unlock()
				default: // the other client of this plan, or a step that was stored as the program died
					rev++
				}
			}
		})
	}
	kill()
	clients.Wait()
	return steps
}
