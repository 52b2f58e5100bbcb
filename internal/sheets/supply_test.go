package sheets

import (
	"bytes"
	"context"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Every list and sheet of a plan with an assumed supply ends with a line that says
// so; of a measured one none does (trade.md section 3, row 3: every print says
// "assumed" until measured).
func TestEveryListSaysThatTheSupplyIsAssumed(t *testing.T) {
	p, measured := load(t, "demo.json")
	const word = "The water supply is ASSUMED, not measured: 10.0 gpm to plan on."
	for _, name := range Files {
		if bytes.Contains(written(t, name, p, measured), []byte("supply is ASSUMED")) {
			t.Errorf("%s calls the demo's measured supply assumed", name)
		}
	}
	p.Supply = plan.Empty("", units.US).Supply
	assumed, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range Files {
		text := written(t, name, p, assumed)
		if name == "parts.xlsx" {
			everySheetSays(t, text, word)
			continue
		}
		rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		last := rows[len(rows)-1]
		if last[0] != NoteName || !strings.Contains(strings.Join(last, "|"), word) {
			t.Errorf("%s ends with %q", name, last)
		}
	}
}

func everySheetSays(t *testing.T, file []byte, word string) {
	t.Helper()
	book, err := excelize.OpenReader(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if last := strings.Join(rows[len(rows)-1], "|"); !strings.Contains(last, word) {
			t.Errorf("the sheet %s ends with %q", sheet, last)
		}
	}
}

func written(t *testing.T, name string, p *plan.Plan, d *design.Design) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := WriteFile(&out, name, p, d); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A container alone is rough, and the flow planned on is assumed: both are said.
func TestARoughSupplyIsCalledRough(t *testing.T) {
	p, _ := load(t, "demo.json")
	p.Supply = plan.Supply{Measured: true, StaticPSI: 60, TimedGal: 5, TimedS: 25}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	if note := SupplyNote(p, &d.Pressure.Supply); !strings.Contains(note, "ROUGH") || !strings.Contains(note, "ASSUMED") {
		t.Errorf("the note says %q", note)
	}
}
