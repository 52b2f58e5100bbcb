//go:build browser

package walk

import (
	"bytes"
	"encoding/csv"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// checkFiles reads the exported lists back and holds them against the plan.
func checkFiles(p *tab, heads, zones int) {
	p.t.Helper()
	base := eval[string](p, "location.pathname") + "/files/"
	checkParts(p.t, p.fetch(base+"parts.csv"), heads, zones)
	if rows := p.unnoted(base, "zones.csv"); len(rows) != zones {
		p.t.Errorf("zones.csv has %d zones, want %d", len(rows), zones)
	}
	if rows := p.unnoted(base, "heads.csv"); len(rows) != heads {
		p.t.Errorf("heads.csv has %d heads, want %d", len(rows), heads)
	}
	checkWorkbook(p.t, p.fetchBytes(base+"parts.xlsx"), heads)
}

// unnoted reads a list without its last line, where that says what is to be
// said of the supply; it must say just that wherever the board has it to say.
func (p *tab) unnoted(base, name string) []map[string]string {
	p.t.Helper()
	rows := readCSV(p.t, p.fetch(base+name))
	note := eval[string](p, `evenfall.state.design.supply.print ?? ""`)
	if note == "" {
		return rows
	}
	last := len(rows) - 1
	if last < 0 || !slices.Contains(slices.Collect(maps.Values(rows[last])), note) {
		p.t.Errorf("the last line of %s does not say %q", name, note)
		return rows
	}
	return rows[:last]
}

// checkParts adds up the totals of a parts list.
func checkParts(t *testing.T, text string, heads, zones int) {
	t.Helper()
	sums := map[string]int{}
	for _, r := range readCSV(t, text) {
		if r["Zone"] == "Total" {
			n, err := strconv.Atoi(r["Count"])
			if err != nil {
				t.Fatalf("parts.csv counts %q: %v", r["Count"], err)
			}
			sums[r["Part"]] += n
		}
	}
	// One flag in ten more than heads, begun tens counted whole: the plan's default of spares.
	flags := heads + (heads+9)/10
	for part, want := range map[string]int{"Body": heads, "Nozzle": heads, "Swing joint": heads, "Flag": flags, "Valve": zones} {
		if sums[part] != want {
			t.Errorf("parts.csv totals %d of %s, want %d", sums[part], part, want)
		}
	}
}

// checkWorkbook opens the workbook and adds up the bodies of its totals.
func checkWorkbook(t *testing.T, raw []byte, heads int) {
	t.Helper()
	book, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	bodies := 0
	for _, sheet := range book.GetSheetList() {
		rows, err := book.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		bodies += bodiesInTotal(t, rows)
	}
	if bodies != heads {
		t.Errorf("parts.xlsx totals %d bodies, want %d", bodies, heads)
	}
}

// bodiesInTotal adds up the rows "Total … Body … n" of one sheet.
func bodiesInTotal(t *testing.T, rows [][]string) int {
	t.Helper()
	sum := 0
	for _, r := range rows {
		if !slices.Contains(r, "Total") || !slices.Contains(r, "Body") {
			continue
		}
		for _, cell := range r {
			if n, err := strconv.Atoi(cell); err == nil {
				sum += n
				break
			}
		}
	}
	return sum
}

// readCSV reads a list with a header into one map a row.
func readCSV(t *testing.T, text string) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Fatal("the list is empty")
	}
	var rows []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, cell := range record {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}
