package packs

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"evenfall/internal/drawing"
)

// TestLook writes every pack of the demo and of the crowded plans as PDF and as a
// picture of each page into the folder EVENFALL_SHOTS, to be looked at:
//
//	EVENFALL_SHOTS=/tmp/x go test ./internal/packs -run Look
//
// Without it there is nothing to do: TestNoWordsLieOnOthers makes the same packs.
func TestLook(t *testing.T) {
	t.Parallel()
	dir := os.Getenv("EVENFALL_SHOTS")
	if dir == "" {
		t.Skip("EVENFALL_SHOTS names no folder for pictures")
	}
	plans := append([]namedPlan{{"demo", demoInput(t)}}, crowdedPlans(t)...)
	for _, n := range plans {
		for _, kind := range []Kind{Crew, Owner, Office} {
			t.Run(n.name+"-"+string(kind), func(t *testing.T) {
				t.Parallel()
				look(t, dir, n, kind)
			})
		}
	}
}

func look(t *testing.T, dir string, n namedPlan, kind Kind) {
	paper := Letter
	if n.in.Plan.Show == "metric" {
		paper = A4
	}
	made, err := Make(context.Background(), n.in, Asked{Kind: kind, Paper: paper, Date: "2026-05-01", Revision: "3"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := drawing.WritePDF(&b, made.Document, "2026-05-01"); err != nil {
		t.Fatal(err)
	}
	base := filepath.Join(dir, n.name+"-"+string(kind))
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(base+".pdf", b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "80", "-png", base+".pdf", base).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	t.Logf("%s.pdf: %d pages, %d labels in lists alone", base, len(made.Document.Pages), made.Unplaced)
}
