package arrange

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"evenfall/internal/plan"
)

// plans is where the plans of the tests are.
const plans = "../../testdata/plans"

func loadPlan(t testing.TB, name string) *plan.Plan {
	t.Helper()
	doc, err := os.ReadFile(filepath.Join(plans, name))
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Decode(doc)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

func improved(t testing.TB, p *plan.Plan, o Options) *Improvement {
	t.Helper()
	got, err := Improve(context.Background(), p, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestImproveShow(t *testing.T) {
	name := os.Getenv("SHOW")
	if name == "" {
		t.Skip()
	}
	files, _ := filepath.Glob(filepath.Join(plans, name))
	for _, f := range files {
		rel, _ := filepath.Rel(plans, f)
		got := improved(t, loadPlan(t, rel), Usual())
		t.Logf("== %s: %s (%d evaluations)", rel, got.Says, got.Evaluations)
		for _, m := range got.Mends {
			t.Logf("  %s | %s | %s\n  %+v\n  %+v %s", m.Label, m.Says, m.Why, m.Before, m.After, m.Patch)
		}
		for _, l := range got.Left {
			t.Logf("  left: %s", l)
		}
	}
}
