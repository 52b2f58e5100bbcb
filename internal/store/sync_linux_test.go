package store_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// synced is a call of strace's log that puts a file on the disk and succeeded.
// Another thread may cut a call in two; its end tells.
var synced = regexp.MustCompile(`(?m)\b(fsync|fdatasync)(\(| resumed).*= 0$`)

// TestRowB14_EveryAcknowledgedStepIsOnTheDisk counts, under strace, how often a
// program that stores steps has the system put a file on the disk: at least once
// for each step it was told is saved.
func TestRowB14_EveryAcknowledgedStepIsOnTheDisk(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		if os.Getenv("EVENFALL_ALL") != "" {
			t.Fatal("strace is not installed, and every check was asked for")
		}
		t.Skip("strace is not installed; go run ./cmd/dev test brings it")
	}
	few, many := syncsOf(t, strace, "5"), syncsOf(t, strace, "45")
	if many-few < 40 {
		t.Errorf("got %d syncs for 5 steps and %d for 45: 40 steps more want 40 syncs more", few, many)
	}
	if few < 5 {
		t.Errorf("got %d syncs for 5 steps, want one each at least", few)
	}
	t.Logf("shown: %d syncs for 5 steps, %d for 45", few, many)
}

// syncsOf runs a program that stores so many steps and counts its syncs.
func syncsOf(t *testing.T, strace, steps string) int {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	log := filepath.Join(dir, "calls")
	cmd := exec.Command(strace, "-f", "-qq", "-e", "trace=fsync,fdatasync", "-o", log, self)
	cmd.Env = append(os.Environ(), victimDir+"="+filepath.Join(dir, "data"), victimSteps+"="+steps)
	out, err := cmd.CombinedOutput()
	if err != nil && strings.Contains(string(out), "PTRACE") {
		t.Skipf("this machine lets no program be traced: %s", out)
	}
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	calls, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	return len(synced.FindAll(calls, -1))
}
