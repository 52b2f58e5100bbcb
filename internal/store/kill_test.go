package store_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

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

func TestMain(m *testing.M) {
	if dir := os.Getenv(victimDir); dir != "" {
		if err := beVictim(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func beVictim(dir string) error {
	steps := -1 // until it is killed
	if n := os.Getenv(victimSteps); n != "" {
		if _, err := fmt.Sscan(n, &steps); err != nil {
			return err
		}
	}
	ctx := context.Background()
	s, err := store.Open(ctx, dir)
	if err != nil {
		return err
	}
	list, err := s.List(ctx)
	if err != nil {
		return err
	}
	var p plan.Saved
	if len(list) == 0 {
		p, err = s.Create(ctx, []byte(yard))
	} else {
		p, err = s.Load(ctx, list[0].ID)
	}
	for i := 0; err == nil; i++ {
		fmt.Println(p.Rev)
		if i == steps {
			return s.Close()
		}
		if i%5 == 4 {
			p, _, err = s.Undo(ctx, p.ID, p.Rev)
			continue
		}
		p, err = s.Commit(ctx, p.ID, p.Rev, plan.Patch(fmt.Sprintf(`{"heads":{"h1":{"x_ft":%d}}}`, p.Rev%1000+1)), "Move head 1")
	}
	return err
}

// TestRowB15_KilledUnderLoadLosesNothingAcknowledged kills a program five times
// in the middle of storing, each time after a number of acknowledged steps.
func TestRowB15_KilledUnderLoadLosesNothingAcknowledged(t *testing.T) {
	ctx := context.Background()
	dir := filepath.Join(t.TempDir(), "data")
	pick := rand.New(rand.NewPCG(15, 9))
	for kill := range 5 {
		acknowledged := killAfter(t, dir, 20+pick.IntN(60))
		s, err := store.Open(ctx, dir)
		if err != nil {
			t.Fatalf("kill %d: open again: %v", kill, err)
		}
		list, err := s.List(ctx)
		if err != nil || len(list) != 1 {
			t.Fatalf("kill %d: %d plans, %v", kill, len(list), err)
		}
		p, err := s.Load(ctx, list[0].ID)
		if err != nil || p.Rev < acknowledged {
			t.Errorf("kill %d: got revision %d, %v; want at least %d", kill, p.Rev, err, acknowledged)
		}
		for p.Undo != "" { // the history is whole: all of it can be walked
			if p, _, err = s.Undo(ctx, p.ID, p.Rev); err != nil {
				t.Fatalf("kill %d: undo: %v", kill, err)
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// killAfter lets a program store at least n steps, kills it, and returns the
// last revision it acknowledged.
func killAfter(t *testing.T, dir string, n int) int64 {
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
	var last int64
	lines := bufio.NewScanner(out)
	for seen := 0; lines.Scan(); seen++ {
		if _, err := fmt.Sscan(lines.Text(), &last); err != nil {
			t.Fatalf("the victim said %q", lines.Text())
		}
		if seen == n {
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
		} // and read on what it said before it died
	}
	if err := cmd.Wait(); err == nil {
		t.Fatal("the victim ended by itself")
	}
	if last == 0 || said.Len() > 0 {
		t.Fatalf("the victim got to revision %d and said %q", last, said.String())
	}
	return last
}
