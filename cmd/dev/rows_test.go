package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Every row promised has a test, every test of a row belongs to one promised,
// and the page lists exactly the tests there are.
func TestRowsAndTheirTests(t *testing.T) {
	root := filepath.Join("..", "..")
	found, err := rowTests(root)
	if err != nil {
		t.Fatal(err)
	}
	has := map[string]bool{}
	for _, f := range found {
		has[f.row] = true
	}
	for _, r := range promised {
		if !has[r.number] {
			t.Errorf("row %s has no test: %s", r.number, r.asks)
		}
		delete(has, r.number)
	}
	for number := range has {
		t.Errorf("row %s has tests, and is not in the list of rows", number)
	}
	page, err := os.ReadFile(filepath.Join(root, rowsPage))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, line := range strings.Split(string(page), "\n") {
		if cells := strings.Split(line, " | "); len(cells) == 4 {
			listed[strings.TrimPrefix(cells[1], "| ")] = true
		}
		if strings.Contains(line, "**fail**") || strings.Contains(line, "**skip**") || strings.Contains(line, "**not run**") {
			t.Errorf("the page says: %s", line)
		}
	}
	for _, f := range found {
		if !listed[cell(f.name)] {
			t.Errorf("%s does not list %s: go run ./cmd/dev rows", rowsPage, f.name)
		}
		delete(listed, cell(f.name))
	}
	for name := range listed {
		if strings.HasPrefix(name, "TestRow") || strings.HasPrefix(name, "row ") {
			t.Errorf("%s lists %s, which is gone: go run ./cmd/dev rows", rowsPage, name)
		}
	}
}

func TestRowsTextNamesWhatIsMissing(t *testing.T) {
	page, missing := rowsText([]rowTest{
		{row: "A6", name: "TestRowA6_Good", file: "a_test.go"},
		{row: "A6", name: "TestRowA6_Bad", file: "a_test.go"},
		{row: "Z9", name: "TestRowZ9_Stray", file: "a_test.go"},
	}, map[string]string{"TestRowA6_Good": "7 of 7"}, time.Unix(0, 0))
	got := strings.Join(missing, " ")
	if !strings.Contains(got, "TestRowA6_Bad") || !strings.Contains(got, "Z9") || !strings.Contains(got, "B15") {
		t.Errorf("missing: %s", got)
	}
	if strings.Contains(got, "TestRowA6_Good") || !strings.Contains(string(page), "| TestRowA6_Good | a_test.go | 7 of 7 |") {
		t.Errorf("the passing test is not told:\n%s", page)
	}
}
