package packs

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
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
	routed.Lock()
	defer routed.Unlock()
	if in, ok := routed.by[name]; ok {
		return in
	}
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
	in := designed(t, p)
	routed.by[name] = in
	return in
}

// routed keeps what is routed, which takes a while. It is not to be changed.
var routed = struct {
	sync.Mutex
	by map[string]Input
}{by: map[string]Input{}}

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
		{"park", designed(t, park(20, 20))}, {"retrofit", retrofit(t)},
	}, crowdedPlans(t)...)
	papers := []PaperID{Letter, Tabloid, ArchD, A4}
	plans = append(plans, namedPlan{"tiled", plans[1].in})
	for _, n := range plans {
		for _, paper := range papers {
			t.Run(n.name+"-"+string(paper), func(t *testing.T) {
				t.Parallel()
				scale := map[bool]int{true: 120}[n.name == "tiled"]
				_, made := sheetsAlone(t, n.in, Asked{Kind: Crew, Paper: paper, Scale: scale, Date: "2026-05-01", Revision: "3"}, "C3", "C4")
				_, owner := sheetsAlone(t, n.in, Asked{Kind: Owner, Paper: paper, Scale: scale, Date: "2026-05-01", Revision: "3"}, "O1")
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

// park is a lawn of so many heads each way, 12 ft apart, 40 to a zone.
func park(across, up int) *plan.Plan {
	p := drawnYard("Park", units.US, 12*float64(across), 12*float64(up))
	for z := 0; z*40 < across*up; z++ {
		addZone(p, z+1, fmt.Sprintf("Part %d", z+1), 4+2*float64(z), 1)
	}
	for i := range across * up {
		setHead(p, plan.ID(fmt.Sprintf("z%02d", i/40+1)), i%40+1, "spray-12-f", 6+12*float64(i%across), 6+12*float64(i/across), 0, 360)
	}
	pipeUp(p, plan.Spot{X: 0.5, Y: 1}, plan.Spot{X: 1.5, Y: 1.5})
	return p
}

// retrofit is the demo, half of it there already, some of it to go.
func retrofit(t testing.TB) Input {
	t.Helper()
	p, err := plan.Decode(demoRouted(t, "demo-mended").Plan.Encode())
	if err != nil {
		t.Fatal(err)
	}
	for i, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		if h.Status = plan.Existing; i%5 == 0 {
			h.Status = plan.Remove
		} else if i%3 == 0 {
			h.Status = plan.New
		}
		p.Heads[id] = h
	}
	for i, id := range plan.SortedIDs(p.Pipes) {
		if v := p.Pipes[id]; i%4 != 0 {
			v.Status = plan.Existing
			p.Pipes[id] = v
		}
	}
	for _, id := range []plan.ID{"z3", "z4"} {
		z := p.Zones[id]
		z.Status = plan.Existing
		p.Zones[id] = z
	}
	for _, id := range plan.SortedIDs(p.Trees)[:1] {
		tr := p.Trees[id]
		tr.Status = plan.Remove
		p.Trees[id] = tr
	}
	return designed(t, p)
}
