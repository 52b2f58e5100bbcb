package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/store"
)

// fullDir, when set in the environment, makes this test binary a program that
// meets a limit on the size of files in that folder and gets over it.
const fullDir = "EVENFALL_TEST_FULL"

func init() { asProgram[fullDir] = beFull }

// TestRowB19_AFileAtItsLimitIsAFullDisk has the system limit the size of files,
// which needs no rights, and lift the limit again while the store stays open.
func TestRowB19_AFileAtItsLimitIsAFullDisk(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), fullDir+"="+filepath.Join(t.TempDir(), "data"))
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), "acknowledged ") {
		t.Fatalf("%v: %s", err, out)
	}
	t.Logf("shown: %s", out)
}

// beFull is that program. It says what went wrong by its error.
func beFull(dir string) error {
	signal.Ignore(syscall.SIGXFSZ) // as the program does
	acked, err := fillAndRecover(dir, func(full bool) error {
		var limit syscall.Rlimit
		if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			return err
		}
		limit.Cur = limit.Max
		if full {
			limit.Cur = 600 << 10
		}
		return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit)
	})
	if err == nil {
		_, err = fmt.Printf("acknowledged %d steps before the disk was full; none lost\n", acked)
	}
	return err
}

// TestRowB19_AFullDiskLosesNothing fills a small disk of its own, which needs the
// rights of root, and makes room again while the store stays open.
func TestRowB19_AFullDiskLosesNothing(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("a small disk can only be made by root; the test with a limit on the size of files has run")
	}
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=8m"); err != nil {
		t.Skipf("this machine lets no disk be made: %v", err)
	}
	defer func() {
		if err := syscall.Unmount(disk, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	}()
	filler := filepath.Join(disk, "holiday film")
	acked, err := fillAndRecover(filepath.Join(disk, "data"), func(full bool) error {
		if !full {
			return os.Remove(filler)
		}
		f, err := os.Create(filler)
		if err != nil {
			return err
		}
		defer f.Close()
		for chunk := make([]byte, 64<<10); ; {
			if _, err := f.Write(chunk); errors.Is(err, syscall.ENOSPC) {
				return f.Truncate(6 << 20) // leaves a little: saving fills the rest itself
			} else if err != nil {
				return err
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("shown: acknowledged %d steps before the disk was full; none lost", acked)
}

// fillAndRecover stores steps until the disk is full, sees that everything
// acknowledged can be read, makes room, and goes on. It returns how many steps were
// acknowledged before the disk was full.
func fillAndRecover(dir string, setFull func(full bool) error) (acked int64, err error) {
	ctx := context.Background()
	s, err := store.Open(ctx, dir)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	p, err := s.Create(ctx, []byte(yard))
	if err != nil {
		return 0, err
	}
	if err := setFull(true); err != nil {
		return 0, err
	}
	note := func(rev int64) plan.Patch {
		return plan.Patch(fmt.Sprintf(`{"notes":{"k%d":{"text":"%s","x_ft":1,"y_ft":1}}}`, rev%50, strings.Repeat("wet ", 480)))
	}
	var last error
	for last == nil && p.Rev < 5000 {
		next, err := s.Commit(ctx, p.ID, p.Rev, note(p.Rev), "Note")
		if err != nil {
			last = err
			break
		}
		p = next
	}
	if !errors.Is(last, plan.ErrNoRoom) {
		return 0, fmt.Errorf("with a full disk the store says %v", last)
	}
	for range 3 { // it says the same again, and loses nothing by it
		if _, err := s.Commit(ctx, p.ID, p.Rev, note(p.Rev), "Note"); !errors.Is(err, plan.ErrNoRoom) {
			return 0, fmt.Errorf("trying again gives %v", err)
		}
		got, err := s.Load(ctx, p.ID)
		if err != nil || got.Rev != p.Rev || string(got.Doc) != string(p.Doc) {
			return 0, fmt.Errorf("reading with a full disk: revision %d of %d, %v", got.Rev, p.Rev, err)
		}
		steps, err := s.History(ctx, p.ID)
		if err != nil || int64(len(steps)) != p.Rev {
			return 0, fmt.Errorf("the history with a full disk: %d steps, %v", len(steps), err)
		}
	}
	if _, err := store.BackUp(ctx, dir, "", store.FreeSpace(1)); err == nil || !strings.Contains(err.Error(), "too little space") {
		return 0, fmt.Errorf("a backup onto a full disk: %v", err)
	}
	acked = p.Rev - 1
	if err := setFull(false); err != nil {
		return 0, err
	}
	for range 5 {
		if p, err = s.Commit(ctx, p.ID, p.Rev, note(p.Rev), "Note"); err != nil {
			return 0, fmt.Errorf("with room again: %w", err)
		}
	}
	if _, err := store.Verify(ctx, s.File()); err != nil {
		return 0, err
	}
	return acked, nil
}
