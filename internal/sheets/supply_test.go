package sheets

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"path"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"evenfall/internal/design"
	"evenfall/internal/pipesize"
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
		if path.Ext(name) != ".csv" {
			if !strings.Contains(strings.Join(strings.Fields(string(text)), " "), word) {
				t.Errorf("%s does not say so:\n%s", name, text)
			}
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

// What is to be said of the supply stands in every text and list: that it is
// assumed, that its flow was chosen with the reason kept, that its water is
// reclaimed, that something is put into it. Of a measured supply of drinking water nothing is.
func TestEveryPrintSaysWhatTheSupplyIs(t *testing.T) {
	for word, change := range map[string]func(*plan.Supply){
		"ASSUMED": func(s *plan.Supply) { s.Measured = false },
		"CHOSEN, because: the well driller's word.": func(s *plan.Supply) {
			s.DesignFlowGPM, s.DesignFlowReason = 12.5, "the well driller's word."
		},
		"CHOSEN, with no reason kept": func(s *plan.Supply) { s.DesignFlowGPM = 12.5 },
		"RECLAIMED":                   func(s *plan.Supply) { s.Kind = plan.Reclaimed },
		"INJECTED":                    func(s *plan.Supply) { s.Injection = true },
	} {
		for name, text := range everyPrint(t, func(*plan.Supply) {}) {
			if strings.Contains(text, word) {
				t.Errorf("%s says %q of the demo as it is", name, word)
			}
		}
		for name, text := range everyPrint(t, change) {
			if !strings.Contains(text, word) {
				t.Errorf("%s does not say %q:\n%s", name, word, text)
			}
		}
	}
}

// everyPrint is all that is written of the demo with another supply, each run of
// blanks one.
func everyPrint(t *testing.T, change func(*plan.Supply)) map[string]string {
	t.Helper()
	p, _ := load(t, "demo.json")
	change(&p.Supply)
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	offer, err := pipesize.Propose(context.Background(), p, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	var report, pressures, sizes bytes.Buffer
	if err := errors.Join(Report(&report, p, d, design.Asked{}), Pressures(&pressures, p, d.Pressure), Sizes(&sizes, p, offer)); err != nil {
		t.Fatal(err)
	}
	prints := map[string]string{"report": report.String(), "pressures": pressures.String(), "sizes": sizes.String()}
	for _, name := range Files {
		if !strings.HasSuffix(name, ".xlsx") { // every sheet of it is made of these lists
			prints[name] = string(written(t, name, p, d))
		}
	}
	for name, text := range prints {
		prints[name] = strings.Join(strings.Fields(text), " ")
	}
	return prints
}

// A row of a pressure budget by a default of no citable figure says so.
func TestPressuresMarkDefaults(t *testing.T) {
	p, d := load(t, "demo.json")
	var out bytes.Buffer
	if err := Pressures(&out, p, d.Pressure); err != nil {
		t.Fatal(err)
	}
	for row := range strings.Lines(out.String()) {
		row = strings.TrimSpace(row)
		marked := strings.HasSuffix(row, "by a default to replace")
		if strings.HasPrefix(row, "Zone valve") && !marked || strings.HasPrefix(row, "Main") && marked {
			t.Errorf("the row says %q", row)
		}
	}
	if !strings.Contains(out.String(), "by a default to replace") {
		t.Error("no row is marked")
	}
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

// A supply that has not the pressure wanted even at rest is not told as 0 gpm to
// plan on.
func TestASupplyWithoutThePressureWantedSaysSo(t *testing.T) {
	p, _ := load(t, "mistakes/20-heads-starved.json")
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := Report(&out, p, d, design.Asked{}); err != nil {
		t.Fatal(err)
	}
	if text := out.String(); d.Pressure.Supply.DesignGPM != 0 || !strings.Contains(text, "the supply lacks the pressure wanted") || strings.Contains(text, " of 0.00 gpm") {
		t.Errorf("at %g gpm the report says\n%.600s", float64(d.Pressure.Supply.DesignGPM), text)
	}
}
