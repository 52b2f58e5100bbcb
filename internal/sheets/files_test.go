package sheets

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// readCSV writes a list of the demo and reads it back, one map a line.
func readCSV(t *testing.T, name string, p *plan.Plan, d *design.Design) []map[string]string {
	t.Helper()
	var file bytes.Buffer
	if err := WriteFile(&file, name, p, d); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		line := map[string]string{}
		for i, v := range row {
			line[rows[0][i]] = v
		}
		out = append(out, line)
	}
	return out
}

func TestPartsListAddsUpAndTraces(t *testing.T) {
	p, d := load(t, "demo.json")
	zones, totals := map[string]float64{}, map[string]float64{}
	lines := readCSV(t, "parts.csv", p, d)
	note, lines := lines[len(lines)-1], lines[:len(lines)-1]
	if note["Zone"] != NoteName || note["Item"] != d.Parts.Scope || note["Count"] != "" {
		t.Errorf("the last line is %v, want the note of what is not counted", note)
	}
	for _, line := range lines {
		n, err := units.ParseNumber(line["Count"])
		if err != nil {
			t.Fatal(err)
		}
		if from := strings.Split(line["Counted from"], "; "); line["Counted from"] == "" {
			t.Errorf("%s: %v counted from nothing", line["Item"], n)
		} else if !slices.IsSortedFunc(from, func(a, b string) int { return strings.Compare(plan.NaturalKey(a), plan.NaturalKey(b)) }) {
			t.Errorf("%s is counted from %v, want them in the order of their tags", line["Item"], from)
		}
		if line["Zone"] == TotalName {
			totals[line["Item"]] += n
		} else {
			zones[line["Item"]] += n
		}
	}
	if diff := cmp.Diff(totals, zones); diff != "" || len(totals) == 0 {
		t.Errorf("zones do not add up to the total:\n%s", diff)
	}
}

func TestHeadsAreListedInTheOrderOfTheirTags(t *testing.T) {
	p, d := load(t, "demo.json")
	lines := readCSV(t, "heads.csv", p, d)
	var tags []string
	for _, line := range lines {
		tags = append(tags, line["Tag"])
	}
	var want []string
	for zone, n := range []int{7, 8, 9, 13, 3, 8} {
		for i := range n {
			want = append(want, fmt.Sprintf("%d-%d", zone+1, i+1)) // 4-9 before 4-10
		}
	}
	if diff := cmp.Diff(want, tags); diff != "" {
		t.Errorf("order differs (-want +got):\n%s", diff)
	}
	got := lines[slices.Index(tags, "6-1")]
	for column, want := range map[string]string{
		"Zone": "Flowers", "Station": "6", "Status": "new", "Nozzle": "Spray 10 ft, full", "East, ft": "22.40", "North, ft": "24.00",
		"Arc, °": "360.0", "Throw set, ft": "7.00", "Table throw, ft": "10.00", "Turn down, %": "30", "Pressure, psi": "30.0", "Flow, gpm": "1.16",
	} {
		if got[column] != want {
			t.Errorf("head 6-1: %s is %q, want %q", column, got[column], want)
		}
	}
	if strip := lines[slices.Index(tags, "5-1")]; strip["Arc, °"] != "strip" {
		t.Errorf("head 5-1: arc %q", strip["Arc, °"])
	}
}

func TestZoneTableIsInThePlansUnits(t *testing.T) {
	p, d := load(t, "demo.json")
	us := readCSV(t, "zones.csv", p, d)
	p.Show = units.Metric
	metric := readCSV(t, "zones.csv", p, d)
	if got := us[2]["Flow, gpm"]; got != "12.00" {
		t.Errorf("zone 3 takes %q gpm", got)
	}
	if got := metric[2]["Flow, L/min"]; got != "45.4" { // 12 · 3.785
		t.Errorf("zone 3 takes %q L/min", got)
	}
	if got := us[1]["Farthest from the rate, %"] + " at " + us[1]["At head"]; got != "281 at 2-3" {
		t.Errorf("zone 2 is %s", got)
	}
}

func TestFindingsListKeepsReasons(t *testing.T) {
	p, d := load(t, "demo.json")
	lines := readCSV(t, "findings.csv", p, d)
	if len(lines) != len(d.Findings) || lines[0]["Rank"] != "stop" || lines[0]["About"] != "2-3; 2-4; Front lawn, east" {
		t.Errorf("first of %d lines: %v", len(lines), lines[0])
	}
	last := lines[len(lines)-1]
	if last["Accepted because"] == "" || last["On"] != "2026-05-04" || last["Rank"] != "note" {
		t.Errorf("the accepted finding reads %v", last)
	}
}

func TestWorkbookHoldsTheSameAsTheLists(t *testing.T) {
	p, d := load(t, "demo.json")
	var file bytes.Buffer
	if err := WriteFile(&file, "parts.xlsx", p, d); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(&file)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close() // only read from
	if diff := cmp.Diff([]string{"Parts in total", "Point of connection", "Main", "1 Front lawn, west", "2 Front lawn, east", "3 Side lawn", "4 Back lawn",
		"5 Drive strip", "6 Flowers", "Electrical", "Whole job", "Parts", "Zones", "Heads", "Findings"}, book.GetSheetList()); diff != "" {
		t.Errorf("sheets differ (-want +got):\n%s", diff)
	}
	for sheet, list := range map[string]Table{"Parts": Parts(p, d.Parts, nil), "Zones": Zones(p, d.Coverage, d.Pressure.Supply), "Heads": Heads(p, d.Coverage), "Findings": Findings(p, d.Findings)} {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != len(list.Rows)+1 {
			t.Errorf("%s has %d rows, the list %d", sheet, len(rows)-1, len(list.Rows))
			continue
		}
		for i, row := range list.Rows {
			for j, cell := range row {
				got := ""
				if j < len(rows[i+1]) { // empty cells at the end are not there
					got = rows[i+1][j]
				}
				if got != cell.String() {
					t.Errorf("%s row %d column %d is %q, in the list %q", sheet, i+2, j+1, got, cell)
				}
			}
		}
	}
}

// Every name in a plan may be hostile; no list runs any of them.
func TestHostileNamesAreHarmlessInEveryList(t *testing.T) {
	p, _ := load(t, "demo.json")
	i := 0
	next := func() string { i++; return strings.ToValidUTF8(hostile[i%len(hostile)], "?") }
	for _, id := range plan.SortedIDs(p.Heads) {
		h := p.Heads[id]
		h.Tag = next()
		p.Heads[id] = h
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		z := p.Zones[id]
		z.Name = next()
		p.Zones[id] = z
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		a.Name = next()
		p.Areas[id] = a
	}
	for _, id := range plan.SortedIDs(p.Nozzles) {
		n := p.Nozzles[id]
		n.Name = next()
		p.Nozzles[id] = n
	}
	for id, a := range p.Accepted {
		a.Reason, a.By = "=1+1", "@x"
		p.Accepted[id] = a
	}
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range Files {
		var file bytes.Buffer
		if err := WriteFile(&file, name, p, d); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !strings.HasSuffix(name, ".csv") && !strings.HasSuffix(name, ".xlsx") {
			if strings.ContainsAny(file.String(), "\x00\a\x1b") {
				t.Errorf("%s carries control characters to the terminal", name)
			}
			continue
		}
		if strings.HasSuffix(name, ".xlsx") {
			if _, err := excelize.OpenReader(&file); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		rows, err := csv.NewReader(&file).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, row := range rows {
			for _, v := range row {
				if _, err := units.ParseNumber(v); err != nil && startsFormula(v) {
					t.Errorf("%s: a cell begins a formula: %q", name, v)
				}
			}
		}
	}
	var text bytes.Buffer
	if err := Report(&text, p, d, design.Asked{}); err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(text.String(), "\x00\a\x1b") {
		t.Error("the text report carries control characters to the terminal")
	}
}

func TestUnknownListIsRefused(t *testing.T) {
	p, d := load(t, "demo.json")
	if err := WriteFile(&bytes.Buffer{}, "other.csv", p, d); err == nil {
		t.Error("no error")
	}
}

// A metric plan is asked for in metric at the counter: no size of a row, on any
// list, is in feet, inches of height, psi or gpm.
func TestMetricListsNameRowsInMetric(t *testing.T) {
	p, _ := load(t, "demo.json")
	p.Show = units.Metric
	d, err := design.Run(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	us := regexp.MustCompile(`[0-9] (ft|psi|gpm)\b|body [0-9]+ in\b`)
	seen := 0
	for _, file := range []string{"heads.csv", "parts.csv"} {
		for _, row := range readCSV(t, file, p, d) {
			for column, cell := range row {
				if us.MatchString(cell) {
					t.Errorf("%s: %s is %q", file, column, cell)
				}
				if strings.Contains(cell, "Stream 7.6 m, 90° to 210°") || strings.Contains(cell, "Pop-up body 10 cm") {
					seen++
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no list names a stream of 7.6 m or a body of 10 cm")
	}
}
