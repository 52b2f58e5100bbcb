package packs

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"evenfall/internal/drawing"
	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
	"evenfall/internal/units"
)

// demoRouted is the demo with the routes and sizes that are proposed for it, so that
// sheets have sleeves, wire and sizes to show.
func demoRouted(t testing.TB, name string) Input {
	t.Helper()
	doc, err := os.ReadFile("../../testdata/plans/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	found, err := trench.Propose(context.Background(), p, trench.Options{Wire: true, Effort: 2000}, nil)
	if err != nil {
		t.Fatal(err)
	}
	doc, _, err = plan.Apply(doc, found.Offers[0].Patch)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = plan.Decode(doc); err != nil {
		t.Fatal(err)
	}
	sizes, err := pipesize.Propose(context.Background(), p, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	if doc, _, err = plan.Apply(doc, sizes.Patch); err != nil {
		t.Fatal(err)
	}
	if p, err = plan.Decode(doc); err != nil {
		t.Fatal(err)
	}
	return designed(t, p)
}

// sheetsAlone makes some sheets of a pack by themselves.
func sheetsAlone(t testing.TB, in Input, asked Asked, codes ...string) (*builder, *Made) {
	t.Helper()
	b, err := newBuilder(context.Background(), in, asked)
	if err != nil {
		t.Fatal(err)
	}
	b.tell = func(string, float64) {}
	for _, s := range sheetsOf(asked.Kind) {
		for _, code := range codes {
			if s.code == code {
				if err := b.make(s); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	return b, b.finish()
}

// TestLookPlans writes the plans of the packs for every paper into the folder
// EVENFALL_SHOTS, in colour and in grey, to be looked at.
func TestLookPlans(t *testing.T) {
	dir := os.Getenv("EVENFALL_SHOTS")
	if dir == "" {
		t.Skip("EVENFALL_SHOTS names no folder")
	}
	plans := append([]namedPlan{
		{"demo", demoInput(t)}, {"routed", demoRouted(t, "demo")}, {"mended", demoRouted(t, "demo-mended")},
		{"empty", designed(t, plan.Empty("Nothing yet", units.US))}, {"hundred", designed(t, hundredHeads())},
	}, crowdedPlans(t)...)
	papers := []PaperID{Letter, Tabloid, ArchD, A4}
	for _, n := range plans {
		for _, paper := range papers {
			t.Run(n.name+"-"+string(paper), func(t *testing.T) {
				t.Parallel()
				_, made := sheetsAlone(t, n.in, Asked{Kind: Crew, Paper: paper, Date: "2026-05-01", Revision: "3"}, "C3", "C4")
				_, owner := sheetsAlone(t, n.in, Asked{Kind: Owner, Paper: paper, Date: "2026-05-01", Revision: "3"}, "O1")
				made.Document.Pages = append(made.Document.Pages, owner.Document.Pages...)
				var out bytes.Buffer
				if err := drawing.WritePDF(&out, made.Document, ""); err != nil {
					t.Fatal(err)
				}
				base := filepath.Join(dir, n.name+"-"+string(paper))
				if err := os.WriteFile(base+".pdf", out.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				dpi := "110"
				if paper == ArchD {
					dpi = "60"
				}
				if say, err := exec.Command("pdftoppm", "-r", dpi, "-png", base+".pdf", base).CombinedOutput(); err != nil {
					t.Fatalf("pdftoppm: %v: %s", err, say)
				}
				t.Logf("%s: %d pages, %d labels found no room", base, len(made.Document.Pages), made.Unplaced)
			})
		}
	}
}
