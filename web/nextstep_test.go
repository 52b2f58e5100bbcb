package web

import (
	"context"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/units"
)

// makerOf reckons a plan and readies it to be put into words.
func makerOf(t *testing.T, doc string) *maker {
	t.Helper()
	p, err := plan.Decode([]byte(doc))
	if err != nil {
		t.Fatal(err)
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	return &maker{p: p, d: d, r: d.Coverage, sys: p.Show}
}

// Before there is water the readings say what is next, by what is drawn.
func TestRowA28_ReadingsWithoutWaterSayWhatIsNext(t *testing.T) {
	start := `{"format":"evenfall-plan/1","name":"Yard","show":"us","areas":{`
	lawn := `"a1":{"name":"Front lawn","kind":"planting","outline":[[0,0],[15,0],[15,15],[0,15]]}`
	for _, row := range []struct{ name, areas, want string }{
		{"nothing", ``, "Draw a planting area, then set heads on it"},
		{"paving", strings.Replace(lawn, "planting", "paving", 1), "Draw a planting area, then set heads on it"},
		{"a lawn", lawn, "Set heads on Front lawn"},
		{"a bed watered by hand", strings.Replace(lawn, `"kind"`, `"watering":"by_hand","kind"`, 1), "No planting area is watered overhead"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := makerOf(t, start+row.areas+`}}`).readings().Evenness; got.Label != row.want || got.Text != "" {
				t.Errorf("got %+v, want the label %q", got, row.want)
			}
		})
	}
	away := strings.NewReplacer(`"x_ft":0,`, `"x_ft":200,`, `"x_ft":15,`, `"x_ft":200,`).Replace(yard)
	if got := makerOf(t, away).readings().Evenness.Label; got != "No water reaches Front lawn: set heads there" {
		t.Errorf("heads far off: %q", got)
	}
}

// The flow to plan on may be less than was measured, and is not called that; one
// that was chosen is not called measured.
func TestRowA28_SupplyIsSaidToBePlannedOn(t *testing.T) {
	m := makerOf(t, yard)
	for _, row := range []struct {
		supply plan.Supply
		want   string
	}{
		{plan.Supply{Measured: true, FlowGPM: 13.3, DesignFlowGPM: 12.8}, " of 12.8 gpm to plan on (chosen)"},
		{plan.Supply{Measured: true, StaticPSI: 62, FlowGPM: 13.3, ResidualPSI: 55}, " gpm to plan on (measured)"},
		{plan.Supply{}, " assumed"},
		{plan.Supply{Measured: true, StaticPSI: 20, FlowGPM: 13.3, ResidualPSI: 15}, "3.70 gpm, and the supply lacks the pressure wanted"},
	} {
		m.p.Supply = row.supply
		m.d.Pressure = &pressure.Result{Supply: pressure.SupplyOf(m.p)}
		if got := m.flow().Text; !strings.HasSuffix(got, row.want) {
			t.Errorf("got %q, want %q", got, row.want)
		}
	}
}

// Nothing comes out under 0 %.
func TestRowA28_FieldSaysNothingOfUnderNothing(t *testing.T) {
	m := &maker{sys: units.US}
	if got := m.fieldSays(40, &coverage.Estimate{P10: 0}); strings.Contains(got, "1 in 10") || !strings.HasSuffix(got, "of 40 installations.") {
		t.Errorf("got %q", got)
	}
	if got := m.fieldSays(40, &coverage.Estimate{P10: 0.55}); !strings.HasSuffix(got, ", 1 in 10 comes out under 55 %.") {
		t.Errorf("got %q", got)
	}
}

// The readings and the finding of one dry patch have the same words for it, and
// of several patches count patches.
func TestRowA28_ADryPatchHasOneAddress(t *testing.T) {
	lawn := `{"format":"evenfall-plan/1","name":"Yard","show":"us","areas":{"a1":{"name":"Lawn","kind":"planting","outline":[[0,0],[60,0],[60,15],[0,15]]}},` +
		yard[strings.Index(yard, `"heads":`):]
	m := makerOf(t, lawn)
	driest := m.readings().Driest
	if len(m.r.Gaps) == 0 {
		t.Fatal("no dry patch")
	}
	place := m.p.Whereabouts(m.r.Gaps[0].At)
	if !strings.Contains(driest.Text, place) {
		t.Errorf("the readings say %q, without %q", driest.Text, place)
	}
	said := false
	for _, f := range m.d.Findings {
		said = said || strings.Contains(f.Sentence, "less than half the mean") && strings.Contains(f.Sentence, place)
	}
	if !said {
		t.Errorf("no finding says %q: %+v", place, m.d.Findings)
	}
}
