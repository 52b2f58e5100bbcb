package zones

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenfall/internal/plan"
)

// Whatever is wrong with a plan, its heads are grouped so that what a grouping can
// cure is cured, or it is said why they cannot be.
func TestEveryMistakenPlanIsGrouped(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/plans/mistakes/*.json")
	if err != nil || len(files) < 50 {
		t.Fatalf("%d plans, %v", len(files), err)
	}
	refused := 0
	for _, file := range files {
		name := filepath.Base(file)
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Decode(b)
		if err != nil {
			continue // others test the reading
		}
		o, err := propose(context.Background(), p, Options{}, nil, unestimated)
		var no *Refusal
		if errors.As(err, &no) {
			refused++
			if len(p.Heads) > 0 && !strings.Contains(no.Sentence, "supply") {
				t.Errorf("%s: %s", name, no.Sentence)
			}
			continue
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		hold(t, name, p, o)
	}
	if refused*4 > len(files) {
		t.Errorf("%d of %d plans are refused", refused, len(files))
	}
}

// What grouping is for: heads of different rates, plantings, sun, and more of them than
// the supply feeds, each on one valve, get a second one. The findings are asked by hold.
func TestRow01_13_14_15_GroupingMendsThem(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"01-rates-mixed", "13-beds-and-lawn", "14-sun-and-shade", "15-over-design-flow"} {
		p := load(t, "mistakes/"+name+".json")
		o := proposed(t, p, Options{})
		next := hold(t, name, p, o)
		if len(p.Zones) != 1 || len(next.Zones) != 2 || !o.Bound.Proved {
			t.Errorf("%s: %d zones became %d; proved: %v", name, len(p.Zones), len(next.Zones), o.Bound.Proved)
		}
	}
}
