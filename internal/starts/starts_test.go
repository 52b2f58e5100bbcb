package starts_test

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/starts"
	"evenfall/internal/units"
)

func TestRowA26_EveryTypicalYardIsASoundPlan(t *testing.T) {
	laid := 0
	for _, y := range starts.All() {
		t.Run(y.ID, func(t *testing.T) {
			for _, show := range []units.System{units.US, units.Metric} {
				doc := y.Plan("A customer", show).Encode()
				p, err := plan.Decode(doc)
				if err != nil {
					t.Fatal(err)
				}
				if p.Name != "A customer" || p.Show != show || !strings.Contains(p.Notes["invented"].Text, "invented") {
					t.Errorf("got %q in %q with the note %q", p.Name, p.Show, p.Notes["invented"].Text)
				}
				if diff := cmp.Diff(string(doc), string(p.Encode())); diff != "" {
					t.Errorf("read and written again (-want +got):\n%s", diff)
				}
				d, err := design.Run(context.Background(), p)
				if err != nil {
					t.Fatal(err)
				}
				// A yard that is not laid out yet has notes only, too.
				for _, f := range d.Findings {
					if f.Rank == plan.Stop || f.Rank == plan.Mend {
						t.Errorf("%s: %s", f.Code, f.Sentence)
					}
				}
				if len(p.Heads) == 0 {
					return
				}
				laid++
				// Good is 0.75 or more for sprays (common practice); an example to
				// learn from is to be better.
				for _, a := range d.Coverage.Areas {
					if a.DU < 0.85 {
						t.Errorf("%s: distribution uniformity %.2f, want an even layout", a.ID, a.DU)
					}
				}
			}
		})
	}
	if laid < 2 {
		t.Errorf("%d yards are laid out with heads, want at least 2", laid)
	}
}
