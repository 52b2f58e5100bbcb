package packs

import (
	"context"
	"testing"
)

func BenchmarkLayoutPlanHundredHeads(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		made, err := newBuilder(context.Background(), in, Asked{Kind: Crew})
		if err != nil {
			b.Fatal(err)
		}
		made.tell = func(string, float64) {}
		if err := made.layoutPlan(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPipePlanHundredHeads(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		made, err := newBuilder(context.Background(), in, Asked{Kind: Crew})
		if err != nil {
			b.Fatal(err)
		}
		made.tell = func(string, float64) {}
		if err := made.pipePlan(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkChartOf(b *testing.B) {
	in := designed(b, hundredHeads())
	for b.Loop() {
		ChartOf(in)
	}
}

// What notes say stands beside the plan in full, however long, and none is lost.
func TestNotesAreSaidInFull(t *testing.T) {
	t.Parallel()
	p := smallYard()
	long := strings.Repeat("the gate sticks, lift it; ", 75)
	p.Notes["a"] = plan.Note{X: 4, Y: 4, Text: "Dog on Tuesdays"}
	p.Notes["b"] = plan.Note{X: 9, Y: 4, Text: strings.TrimSpace(long)}
	p.Notes["c"] = plan.Note{X: 9, Y: 9, Text: "gone", Status: plan.Remove}
	b, _ := sheetsAlone(t, designed(t, p), Asked{Kind: Crew}, "C3")
	words := strings.Join(slices.Concat(sheetWords(b, "C3")...), " ")
	for _, s := range []string{"note 1", "note 2", "Dog on Tuesdays"} {
		if !strings.Contains(words, s) {
			t.Errorf("the sheet does not say %q", s)
		}
	}
	if got := strings.Count(words, "sticks,"); got != 75 {
		t.Errorf("the long note is said in %d parts of 75", got)
	}
	if strings.Contains(words, "gone") || strings.Contains(words, "note 3") {
		t.Error("a note that goes is said")
	}
}
