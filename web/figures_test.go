package web

import (
	"net/http"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Every figure of the table stands in one group, in the plan's own units, with its
// source; what the plan has of its own is said to be.
func TestFiguresAreTold(t *testing.T) {
	f := newFixture(t)
	var v struct{ Groups []FigureGroup }
	if code := f.asks("/figures", &v); code != http.StatusOK {
		t.Fatal(code)
	}
	n := 0
	for _, g := range v.Groups {
		if g.Name == "" || len(g.Rows) == 0 {
			t.Errorf("group %q is empty", g.ID)
		}
		n += len(g.Rows)
		for _, r := range g.Rows {
			if r.Words == "" || r.Usual == "" || r.Source == "" || r.Value != r.Usual || r.Edited {
				t.Errorf("%+v", r)
			}
		}
	}
	if n != len(plan.FigureRows()) {
		t.Errorf("%d of %d figures are told", n, len(plan.FigureRows()))
	}
	p := &plan.Plan{Show: units.Metric}
	p.Options.Figures = map[plan.ID]plan.Figure{plan.DepthMain: {Value: 20}, plan.PipeWaste: {Value: 0.125}}
	want := map[plan.ID][3]string{
		plan.DepthMain: {"50.8 cm", "40.64 cm", "cm"}, plan.PipeWaste: {"12.5 %", "5 %", "%"}, plan.BoreLongest: {"6.096 m", "6.096 m", "m"}, plan.DigLawn: {"1", "1", ""},
	}
	for _, g := range figureGroups(p) {
		for _, r := range g.Rows {
			w, ok := want[r.ID]
			if !ok {
				continue
			}
			delete(want, r.ID)
			if got := [3]string{r.Value, r.Usual, r.In}; got != w {
				t.Errorf("%s: %q, want %q", r.ID, got, w)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not told: %v", want)
	}
}
