package store_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// victimDir, when set in the environment, makes this test binary a program that
// stores steps in that folder until it is killed, printing each revision once
// it is acknowledged. With victimSteps it stops by itself after so many.
const (
	victimDir   = "EVENFALL_TEST_VICTIM"
	victimSteps = "EVENFALL_TEST_VICTIM_STEPS"
)

// asProgram are the programs this test binary can be, by the variable in the
// environment that asks for them and holds their folder.
var asProgram = map[string]func(dir string) error{victimDir: beVictim}

func TestMain(m *testing.M) {
	for name, be := range asProgram {
		if dir := os.Getenv(name); dir != "" {
			if err := be(dir); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			os.Exit(0)
		}
	}
	os.Exit(m.Run())
}

func beVictim(dir string) error {
	ctx := context.Background()
	s, err := store.Open(ctx, dir)
	if err != nil {
		return err
	}
	if n := os.Getenv(victimSteps); n != "" {
		steps := 0
		if _, err := fmt.Sscan(n, &steps); err != nil {
			return err
		}
		return errors.Join(victimWorks(ctx, s, "", steps), s.Close())
	}
	list, err := s.List(ctx)
	if err != nil {
		return err
	}
	for len(list) < 3 {
		p, err := s.Create(ctx, []byte(yard))
		if err != nil {
			return err
		}
		list = append(list, plan.Listed{ID: p.ID})
	}
	ended := make(chan error)
	for client := range 4 { // two of them on one plan
		go func() { ended <- victimWorks(ctx, s, list[client%3].ID, -1) }()
	}
	return <-ended
}

// victimWorks stores steps in a plan, a new one if it has no id, and prints each
// revision when it is acknowledged; below zero steps are without end.
func victimWorks(ctx context.Context, s *store.Store, id string, steps int) (err error) {
	var p plan.Saved
	if id == "" {
		p, err = s.Create(ctx, []byte(yard))
	} else {
		p, err = s.Load(ctx, id)
	}
	for i := 0; err == nil; i++ {
		fmt.Printf("%s %d\n", p.ID, p.Rev) // one write, so that lines of several clients stay whole
		if i == steps {
			return nil
		}
		if i%5 == 4 {
			p, _, err = s.Undo(ctx, p.ID, p.Rev)
		} else {
			p, err = s.Commit(ctx, p.ID, p.Rev, plan.Patch(fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, p.Rev%1000+1)), "Move head 1")
		}
		var stale *plan.Stale
		if id != "" && (errors.As(err, &stale) || errors.Is(err, plan.ErrNothing)) {
			p, err = s.Load(ctx, id) // another client was first
		}
	}
	return err
}

// thorough, when set in the environment, makes tests that repeat themselves do
// so more often.
const thorough = "EVENFALL_THOROUGH"

// times is how often something is done: more when every check is asked for, less
// under the race detector, which runs -short.
func times(usual, asked int) int {
	switch {
	case os.Getenv(thorough) != "":
		return asked
	case testing.Short():
		return usual / 5
	}
	return usual
}

// TestRowB15_KilledUnderLoadLosesNothingAcknowledged kills a program 20 times,
// with EVENFALL_THOROUGH=1 200 times, while four clients store steps in it, at a
// random moment after a random number of acknowledged steps. Each time the file
// passes its checks and every plan is at the revision last acknowledged or later.
func TestRowB15_KilledUnderLoadLosesNothingAcknowledged(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "data")
	pick := rand.New(rand.NewPCG(15, 9))
	kills, steps := times(20, 200), 0
	for kill := range kills {
		acked, n := killAfter(t, dir, 10+pick.IntN(60), time.Duration(pick.IntN(3000))*time.Microsecond)
		steps += n
		s, err := store.Open(ctx, dir)
		if err != nil {
			t.Fatalf("kill %d: open again: %v", kill, err)
		}
		if _, err := store.Verify(ctx, s.File()); err != nil {
			t.Errorf("kill %d: %v", kill, err)
		}
		for id, rev := range acked {
			p, err := s.Load(ctx, id)
			if err != nil || p.Rev < rev {
				t.Errorf("kill %d: plan %s is at revision %d, %v; want at least %d", kill, id, p.Rev, err, rev)
			}
		}
		if kill == kills-1 {
			for id := range acked {
				walkBack(t, s, id)
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("shown: %d kills, %d steps acknowledged, none lost", kills, steps)
}

// killAfter lets a program store at least n steps, kills it a moment later, and
// returns the last revision it acknowledged of each plan and how many steps.
func killAfter(t *testing.T, dir string, n int, moment time.Duration) (acked map[string]int64, steps int) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), victimDir+"="+dir)
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	acked = map[string]int64{}
	lines := bufio.NewScanner(out)
	for ; lines.Scan(); steps++ {
		var id string
		var rev int64
		if _, err := fmt.Sscan(lines.Text(), &id, &rev); err != nil {
			t.Fatalf("the victim said %q", lines.Text())
		}
		acked[id] = max(acked[id], rev)
		if steps == n {
			time.AfterFunc(moment, func() { cmd.Process.Kill() })
		} // and read on what it said before it died
	}
	if err := cmd.Wait(); err == nil {
		t.Fatal("the victim ended by itself")
	}
	if len(acked) == 0 || said.Len() > 0 {
		t.Fatalf("the victim acknowledged %d plans and said %q", len(acked), said.String())
	}
	return acked, steps
}
