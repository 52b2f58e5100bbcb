package arrange

import (
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

func TestFiguresStandInTheirColumns(t *testing.T) {
	t.Parallel()
	p := plan.Empty("Figures", "us")
	m := Measures{
		Heads: 7, DU: 0.91, FieldMean: 0.82, FieldP10: 0.79, Driest2: 0.6, PastEdge: 0.051, Flow: 8.25, Settings: 3, Minutes: 37.2,
		Past: []Past{{Surface: "a2", Kind: plan.Paving, Share: 0.004}, {Surface: coverage.Outside, Share: 0.03}, {Surface: "a3", Kind: plan.Planting, Share: 0.017}},
	}
	want := map[string]string{
		"heads": "7", "evenness": "91 %", "field": "82 %", "field_low": "79 %", "driest": "60 %", "past": "5.1 %", "hard": "0.4 %",
		"flow": "8.25 gpm", "settings": "3", "minutes": "38 min",
	}
	figures := m.Figures(p)
	if len(figures) != len(Columns()) {
		t.Fatalf("%d figures in %d columns", len(figures), len(Columns()))
	}
	for i, c := range Columns() {
		if figures[i].Text != want[c.ID] {
			t.Errorf("%s: %q, want %q", c.ID, figures[i].Text, want[c.ID])
		}
	}
	m.Past = append(m.Past, Past{Surface: "a4", Kind: plan.Planting, Share: 0.0004})
	if told := m.PastTold(); len(told) != 3 {
		t.Errorf("told %+v", told)
	}
	// With a property line what falls past it is off the lot.
	p.Site.Lot = geom.Outline{{X: 0}, {X: 40}, {X: 40, Y: 30}}
	if got := m.HardShare(p); got < 0.0339 || got > 0.0341 {
		t.Errorf("on what must stay dry %g", float64(got))
	}
	h := Placed{Nozzle: "spray-12-adj", Sweep: 90, Throw: 11, Turned: true}
	if got := h.Says(p); got != "Spray 12 ft, adjustable: 90° at 11' 0\", turned down" {
		t.Errorf("%q", got)
	}
}
