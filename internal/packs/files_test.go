package packs

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/plan"
	"evenfall/internal/sheets"
	"evenfall/internal/units"
)

// Every file of the register is written, twice alike, and is what its name says.
func TestEveryFileOfAPlanIsWritten(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	starts := map[string]string{".pdf": "%PDF-", ".svg": "<", ".json": "{", ".geojson": "{", ".xlsx": "PK"}
	seen := map[string]bool{}
	for _, f := range Files() {
		if seen[f.Name] || seen[f.Title] || f.Holds == "" || f.Title == "" {
			t.Errorf("%s: a name or title twice, or no words", f.Name)
		}
		seen[f.Name], seen[f.Title] = true, true
		if found, ok := FileOf(f.Name); !ok || found.Title != f.Title {
			t.Errorf("%s is not found by its name", f.Name)
		}
		if !f.Of(in.Plan) {
			t.Errorf("the demo cannot be saved as %s", f.Name)
		}
		var one, two bytes.Buffer
		for _, b := range []*bytes.Buffer{&one, &two} {
			if err := f.Write(context.Background(), b, in, Asked{Date: "2026-05-01", Draws: 1}, nil); err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		}
		ext := f.Name[strings.LastIndex(f.Name, "."):]
		if !bytes.Equal(one.Bytes(), two.Bytes()) || one.Len() == 0 || !strings.HasPrefix(one.String(), starts[ext]) {
			t.Errorf("%s: %d and %d bytes, %.20q", f.Name, one.Len(), two.Len(), one.String())
		}
	}
	for _, name := range slices.Concat(sheets.Files, []string{"crew.pdf", "owner.pdf", "office.pdf", "plan.dxf", "layout.svg", "sleeves.svg", "plan.json", "outlines.geojson", "system.geojson", "program.csv", "program.ics"}) {
		if !seen[name] {
			t.Errorf("no file is named %s", name)
		}
	}
	if _, ok := FileOf("other.pdf"); ok {
		t.Error("a file is found that is none")
	}
}

// What needs a place on earth is not offered to a plan without one, and a file that
// cannot be made says why.
func TestFilesThatNeedMore(t *testing.T) {
	t.Parallel()
	in := designed(t, plan.Empty("Nowhere", units.US))
	for _, f := range Files() {
		if f.Of(in.Plan) == f.Place {
			t.Errorf("%s: offered %v", f.Name, f.Of(in.Plan))
		}
		if !f.Place {
			continue
		}
		var b bytes.Buffer
		if err := f.Write(context.Background(), &b, in, Asked{}, nil); err == nil || b.Len() > 0 {
			t.Errorf("%s of a plan without a place: %d bytes, %v", f.Name, b.Len(), err)
		}
	}
	crew, _ := FileOf("crew.pdf")
	for name, asked := range map[string]Asked{"foolscap": {Paper: "foolscap"}, "1 to 7": {Scale: 7}, "not a date": {Date: "soon"}} {
		var b bytes.Buffer
		if err := crew.Write(context.Background(), &b, in, asked, nil); err == nil || !strings.Contains(err.Error(), strings.Fields(name)[0]) && !strings.Contains(err.Error(), "soon") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The program is written where there is one; where there is none its files say why, and a
// calendar asks for its first day.
func TestFilesOfTheProgram(t *testing.T) {
	t.Parallel()
	in := demoInput(t)
	list, _ := FileOf("program.csv")
	calendar, _ := FileOf("program.ics")
	write := func(f File, in Input, asked Asked) (string, error) {
		var b bytes.Buffer
		err := f.Write(context.Background(), &b, in, asked, nil)
		return b.String(), err
	}
	if !list.Program || !calendar.Program {
		t.Error("its files do not say that they are written from the program")
	}
	none := in
	none.Program, none.NoProgram = nil, "The soil holds nothing."
	watered, err := in.Watered(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		f     File
		in    Input
		asked Asked
		says  string
	}{
		{list, watered, Asked{}, "Flowers"}, {list, none, Asked{}, "The soil holds nothing."}, {list, Input{Plan: in.Plan}, Asked{}, "No watering program was asked for."},
		{calendar, watered, Asked{Date: "2026-05-01"}, "DTSTART:20260501T"}, {calendar, watered, Asked{Date: "2026-05-01", Begins: "2026-06-01"}, "DTSTART:20260601T"},
		{calendar, none, Asked{Begins: "2026-05-01"}, "The soil holds nothing."},
	} {
		if text, err := write(c.f, c.in, c.asked); err != nil || !strings.Contains(text, c.says) {
			t.Errorf("%s of %+v: %v, it does not say %q:\n%.400s", c.f.Name, c.asked, err, c.says, text)
		}
	}
	if text, err := write(calendar, watered, Asked{}); err == nil || !strings.Contains(err.Error(), "begins on a day") || text != "" {
		t.Errorf("a calendar without a day: %v, %.40q", err, text)
	}
}
