package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestSoakShort soaks the program for a few seconds, so that the soak itself
// stays true.
func TestSoakShort(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	root, err := checkout(ctx)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	binary := filepath.Join(dir, "evenfall")
	if err := command(ctx, root, "go", "build", "-o", binary, "./cmd/evenfall").Run(); err != nil {
		t.Fatal(err)
	}
	demo, err := os.ReadFile(filepath.Join(root, "testdata", "plans", "demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	s := newSoaking(soakOptions{length: 5 * time.Second, users: 3, seed: 5}, binary, dir, demo)
	if err := s.run(ctx); err != nil {
		t.Fatal(err)
	}
	var report bytes.Buffer
	s.report(&report)
	t.Log(report.String())
	if len(s.faults) > 0 {
		t.Errorf("%d faults", len(s.faults))
	}
	for _, what := range []string{"heads moved", "steps undone", "plans loaded and compared", "plans compared in the restored backup"} {
		if s.counts[what] == 0 {
			t.Errorf("no %s: the soak did nothing", what)
		}
	}
	if s.counts["program killed"]+s.counts["program stopped"] == 0 {
		t.Error("the program was never ended")
	}
}
