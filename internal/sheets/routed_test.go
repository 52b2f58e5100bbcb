package sheets

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/design"
	"evenfall/internal/parts"
	"evenfall/internal/pipesize"
	"evenfall/internal/plan"
	"evenfall/internal/trench"
)

// The demo goes the whole way: routed and wired, sized, its parts counted and priced
// with the invented prices. What is told of it is kept as it reads; that it holds
// together is looked at here. Regenerate with: go test ./internal/sheets -update
func TestTheDemoRoutedWiredSizedAndPriced(t *testing.T) {
	p, _ := pricedDemo(t)
	ctx := context.Background()
	found, err := trench.Propose(ctx, p, trench.Options{Wire: true, Seed: 1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	routed, err := plan.Preview(p.Encode(), found.Offers[0].Patch)
	if err != nil {
		t.Fatal(err)
	}
	sized, err := pipesize.Propose(ctx, routed, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := plan.Preview(routed.Encode(), sized.Patch)
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(ctx, whole)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := Routes(&text, p, found, 0); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"wires.txt", "trenches.csv", "sleeves.csv"} {
		fmt.Fprintf(&text, "\n%s\n", name)
		if err := WriteFile(&text, name, whole, d); err != nil {
			t.Fatal(err)
		}
	}
	cost := parts.Priced(d.Parts, whole.Prices, whole.Quote.Currency)
	fmt.Fprintf(&text, "\nParts in total\n")
	for _, l := range d.Parts.Total {
		fmt.Fprintf(&text, "%s: %d %s\n", l.Item, l.Count, l.Unit)
	}
	fmt.Fprintln(&text, cost.Says)

	// Nothing is wrong with it that was not before: the two mistakes of its heads, and notes.
	for _, f := range d.Findings {
		if f.Rank == plan.Mend || f.Rank == plan.Stop && f.Code != plan.DryPatch && f.Code != plan.SpacingWide && f.Code != plan.RatesMixed {
			t.Errorf("%s %s: %s", f.Rank, f.Code, f.Sentence)
		}
	}
	for _, r := range d.Wiring.Runs {
		if r.Missing != "" || r.Volts < 20 {
			t.Errorf("wire to %s: %s, %g V", r.To, r.Missing, r.Volts)
		}
	}
	g := DiggingOf(whole, d.Digs)
	dug, short := float64(g.Short.Dug), 0
	for i := range g.Stretches {
		if s := &g.Stretches[i]; s.IsDug() {
			dug += float64(s.Length)
			if s.Length < Spade {
				short++
			}
		}
	}
	if want := float64(d.Digs.Totals.Trench); math.Abs(dug-want) > 1e-6 || short > 0 {
		t.Errorf("stretches of %.2f ft, trench of %.2f; %d shorter than a spade", dug, want, short)
	}
	var lists parts.Cents
	for _, l := range cost.Lists {
		lists += l.Sum
	}
	if lists != cost.Sum || cost.Sum == 0 {
		t.Errorf("the lists come to %s, the total to %s", lists, cost.Sum)
	}
	const path = "../../testdata/golden/demo-routed.txt"
	if *update {
		if err := os.WriteFile(path, text.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(text.String(), "\n")); diff != "" {
		t.Errorf("%s differs (go test ./internal/sheets -update; -want +got):\n%s", path, diff)
	}
}
