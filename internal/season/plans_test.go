package season_test

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/watering"
)

// Whatever is drawn, what is asked for is sound and the same when asked again.
func TestEveryPlanCanBeAskedAbout(t *testing.T) {
	t.Parallel()
	paths, err := filepath.Glob("../../testdata/plans/mistakes/*.json")
	if err != nil || len(paths) < 50 {
		t.Fatalf("%d plans, %v", len(paths), err)
	}
	areas := 0
	for i, path := range paths {
		doc, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		p, err := plan.Decode(doc)
		if err != nil {
			continue // a list beside the plans
		}
		q := ask(t, p)
		areas += len(q.Needs)
		sound(t, path, p, q)
		if i%10 > 0 {
			continue
		}
		again, err := season.Ask(context.Background(), p, even(p, 0.65), nil)
		if err != nil || !reflect.DeepEqual(q, again) {
			t.Errorf("%s: asked again it is another (%v)", path, err)
		}
	}
	if areas < 50 {
		t.Errorf("%d areas were asked about", areas)
	}
}

// sound holds a question to what watering asks of its input.
func sound(t *testing.T, path string, p *plan.Plan, q *season.Question) {
	t.Helper()
	if len(q.Needs) != len(q.Input.Areas) || len(q.Needs)+len(q.Unwet) != len(q.Ground.Areas) {
		t.Errorf("%s: %d needs, %d areas, %d unwet of %d", path, len(q.Needs), len(q.Input.Areas), len(q.Unwet), len(q.Ground.Areas))
	}
	for _, a := range q.Input.Areas {
		if a.Name != p.Areas[plan.ID(a.ID)].Name || !(a.Size > 0 && a.Holds > 0 && a.Depleted > 0 && a.Intake > 0 && a.Surface > 0) {
			t.Errorf("%s: %s of %g sqft holds %g, %g of it, takes in %g and %g stands", path, a.ID, a.Size, a.Holds, a.Depleted, a.Intake, a.Surface)
		}
		for m, n := range a.Need {
			if !(n > 0 && n < 1) {
				t.Errorf("%s: %s needs %g in month %d", path, a.ID, n, m+1)
			}
		}
		cells := 0
		if len(a.Rates) != len(q.Input.Zones) {
			t.Errorf("%s: %s has rates of %d zones of %d", path, a.ID, len(a.Rates), len(q.Input.Zones))
		}
		for _, rates := range a.Rates {
			if cells = max(cells, len(rates)); rates != nil && len(rates) != cells {
				t.Errorf("%s: %s has %d cells of one zone, %d of another", path, a.ID, len(rates), cells)
			}
		}
		if cells == 0 {
			t.Errorf("%s: %s has no cells", path, a.ID)
		}
	}
	for _, z := range q.Input.Zones {
		if !(z.Flow > 0) || z.Name != p.Zones[plan.ID(z.ID)].Name {
			t.Errorf("%s: zone %s %q of %g gpm", path, z.ID, z.Name, z.Flow)
		}
	}
}

// What the findings on the program say of a plan holds of the program that is solved: the
// mended twin fits, and the other breaks the limit that is named.
func TestRow41_FindingsAgreeWithTheSolvedProgram(t *testing.T) {
	t.Parallel()
	for lot, limit := range map[string]string{"40-starts-few": watering.Starts, "41-two-short-nights": watering.Hours} {
		work := func(file string) *watering.Month {
			doc, err := os.ReadFile("../../testdata/plans/mistakes/" + file + ".json")
			if err != nil {
				t.Fatal(err)
			}
			p, err := plan.Decode(doc)
			if err != nil {
				t.Fatal(err)
			}
			prog, err := season.Work(context.Background(), p, nil, nil)
			if err != nil {
				t.Fatal(err)
			}
			return prog.Year.Months[prog.Year.Peak]
		}
		if m := work(lot); !slices.ContainsFunc(m.Binds, func(b watering.Bind) bool { return b.Limit == limit }) {
			t.Errorf("%s breaks %+v, want %s", lot, m.Binds, limit)
		}
		if m := work(lot + "-mended"); !m.Fits {
			t.Errorf("%s, mended, breaks %+v", lot, m.Binds)
		}
	}
}
