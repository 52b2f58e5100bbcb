package packs

import (
	"strings"
	"testing"

	"evenfall/internal/design"
	"evenfall/internal/drawing"
	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
	"evenfall/internal/wire"
)

// saidBy is all that one sheet of a pack says, its words a space apart.
func saidBy(t *testing.T, in Input, make func(b *builder) error) string {
	t.Helper()
	b, err := newBuilder(t.Context(), in, Asked{Kind: Crew})
	if err != nil {
		t.Fatal(err)
	}
	b.now, b.tell = sheet{code: "X", title: "Sheet"}, func(string, float64) {}
	if err := make(b); err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, q := range b.pages {
		for _, i := range q.Items {
			if v, ok := i.(*drawing.Text); ok {
				words = append(words, strings.Fields(v.S)...)
			}
		}
	}
	return strings.Join(words, " ")
}

// The wire list has every valve with its conductor and a blank for what was found, and
// says what is common, spare and for sensors.
func TestWireSheetHasEveryConductor(t *testing.T) {
	t.Parallel()
	in := demoRouted(t, "demo")
	b, err := newBuilder(t.Context(), in, Asked{Kind: Crew})
	if err != nil {
		t.Fatal(err)
	}
	g, w := b.wireGrid(), in.Design.Wiring
	if len(g.Rows) != len(w.Runs)+len(w.Sensors) || g.Head[len(g.Head)-1] != "Found on site" {
		t.Fatalf("%d rows of %d and %d, %v", len(g.Rows), len(w.Runs), len(w.Sensors), g.Head)
	}
	for i, r := range w.Runs {
		row := g.Rows[i]
		if row[0] != itoa(r.Station) || row[1] != plan.Capital(wire.Named(in.Plan, r.To)) || row[3] != wire.Length(units.US, r.Length) || row[4] != strings.Join(r.Colours, ", then ") || row[5] != wire.GaugeName(units.US, r.Hot) || row[len(row)-1] != "" || len(row) != len(g.Head) {
			t.Errorf("%v of %+v", row, r)
		}
	}
	said := saidBy(t, in, (*builder).valvesAndWire)
	for _, want := range []string{"Common: white", "1 spare conductor of a colour of its own", "The rain sensor: a lead of its own", "licensed electrician", "waterproof connectors", "Box of valve 5"} {
		if !strings.Contains(said, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
}

// The office's lists say what the parts come to and what has no price, and the quote
// what is not in it.
func TestOfficeListsSayWhatIsMissing(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	if said := saidBy(t, in, (*builder).partsSheet); !strings.Contains(said, "The plan has no prices yet") || strings.Contains(said, "Cost") {
		t.Error("without prices it does not say so, or has a column of costs")
	}
	if said := saidBy(t, in, (*builder).quoteSheet); !strings.Contains(said, "No price and no rate is set yet") || !strings.Contains(said, "Permits, fees and the test of the backflow device.") {
		t.Error("the quote without rates does not say so")
	}
	in = priced(t, in)
	cost := sheets.CostOf(in.Plan, in.Design)
	said := saidBy(t, in, (*builder).partsSheet)
	for _, want := range append([]string{cost.Sum.String(), "Without a price: “"}, cost.Missing[0].Item) {
		if !strings.Contains(said, want) {
			t.Errorf("the priced list does not say %q", want)
		}
	}
	q := sheets.QuoteOf(in.Plan, in.Design)
	if said := saidBy(t, in, (*builder).quoteSheet); !strings.Contains(said, q.Total.String()) {
		t.Errorf("the quote does not say %s", q.Total)
	}
}

// Plans that lack things have their lists all the same, and these say what lacks.
func TestListsOfEmptyPlans(t *testing.T) {
	t.Parallel()
	in := designed(t, plan.Empty("", units.Metric))
	for want, make := range map[string]func(b *builder) error{
		"No pipe and no wire run is drawn yet": (*builder).trenchesAndSleeves, "no sleeve is drawn": (*builder).trenchesAndSleeves,
		"No valve and no wired sensor is drawn yet": (*builder).valvesAndWire, "No zone is drawn yet": (*builder).zoneCards, "nothing drawn is new": (*builder).partsSheet,
	} {
		if said := saidBy(t, in, make); !strings.Contains(said, want) {
			t.Errorf("an empty plan does not say %q: %s", want, said)
		}
	}
	old := demoInput(t).Plan
	for id, v := range old.Pipes {
		v.Status = plan.Existing
		old.Pipes[id] = v
	}
	old.Wires = nil
	d, err := design.Run(t.Context(), old)
	if err != nil {
		t.Fatal(err)
	}
	if said := saidBy(t, Input{Plan: old, Design: d}, (*builder).trenchesAndSleeves); !strings.Contains(said, "is there already") {
		t.Errorf("a plan of old pipe says %.300s", said)
	}
}
