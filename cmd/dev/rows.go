package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// rowsPage lists rows, tests and results for readers.
const rowsPage = "testdata/rows.md"

var (
	goRow   = regexp.MustCompile(`(?m)^func (TestRow([AB]\d+)_\w+)\(`)
	nodeRow = regexp.MustCompile("(?m)\\b(?:test|it)\\(\\s*[\"'`](row ([AB]\\d+): .+?)[\"'`],")
)

// rowTest is one test that shows a row.
type rowTest struct {
	row, name, file string
}

// rowTests finds the tests named for rows in the source, sorted by row, file and
// name.
func rowTests(root string) ([]rowTest, error) {
	var found []rowTest
	for _, place := range []string{"cmd", "internal", "web"} {
		err := filepath.WalkDir(filepath.Join(root, place), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && d.Name() == "node_modules" { // a link to one is no folder: leaving it out so would leave out what follows
				return filepath.SkipDir
			}
			pattern := goRow
			switch {
			case strings.HasSuffix(path, "_test.go"):
			case strings.HasSuffix(path, ".test.ts"):
				pattern = nodeRow
			default:
				return nil
			}
			b, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			file, err := filepath.Rel(root, path)
			for _, m := range pattern.FindAllSubmatch(b, -1) {
				found = append(found, rowTest{row: string(m[2]), name: string(m[1]), file: filepath.ToSlash(file)})
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	slices.SortFunc(found, func(a, b rowTest) int {
		return cmp.Or(cmp.Compare(rowOrder(a.row), rowOrder(b.row)), strings.Compare(a.file, b.file), strings.Compare(a.name, b.name))
	})
	return found, nil
}

// rowOrder sorts A before B, and numbers as numbers.
func rowOrder(number string) int {
	n, err := strconv.Atoi(number[1:])
	if err != nil {
		panic(fmt.Sprintf("row %q has no number", number)) // the patterns only find numbered rows
	}
	if number[0] == 'B' {
		n += 1000
	}
	return n
}

// rows runs every test named for a row and writes the page of rows, tests and
// results.
func rows(ctx context.Context, root string) error {
	found, err := rowTests(root)
	if err != nil {
		return err
	}
	results := map[string]string{}
	if err := goResults(ctx, root, results, "-run", "^TestRow", "-timeout", "20m", "./..."); err != nil {
		return err
	}
	if err := thoroughResults(ctx, root, results); err != nil {
		return err
	}
	if err := goResults(ctx, root, results, "-run", "^TestRow", "-tags", "browser", "-p", "1", "-timeout", "20m", "./web/walk"); err != nil {
		return err
	}
	if err := nodeResults(ctx, root, results); err != nil {
		return err
	}
	page, missing := rowsText(found, results, time.Now())
	if err := os.WriteFile(filepath.Join(root, rowsPage), page, 0o644); err != nil {
		return err
	}
	if len(missing) > 0 {
		return fmt.Errorf("rows or tests without a passing result: %s", strings.Join(missing, ", "))
	}
	return nil
}

// event is one line of go test -json.
type event struct {
	Action, Test, Output string
}

// shown is how a test gives the figure it saw: t.Logf("shown: …").
var shown = regexp.MustCompile(`\bshown: (.+)`)

// goResults runs Go tests and notes how each ended. That tests fail is a
// result; that they cannot be run is an error.
func goResults(ctx context.Context, root string, results map[string]string, args ...string) error {
	c := command(ctx, root, "go", append([]string{"test", "-json", "-count=1"}, args...)...)
	c.Env = append(os.Environ(), "EVENFALL_ALL=1")
	var out bytes.Buffer
	c.Stdout = &out
	failed := c.Run()
	figures := map[string]string{}
	lines := bufio.NewScanner(&out)
	lines.Buffer(nil, 16<<20)
	seen := 0
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil || !strings.HasPrefix(e.Test, "TestRow") || strings.Contains(e.Test, "/") {
			continue
		}
		switch e.Action {
		case "output":
			if m := shown.FindStringSubmatch(e.Output); m != nil {
				figures[e.Test] = strings.TrimSpace(m[1])
			}
		case "pass":
			seen++
			results[e.Test] = cmp.Or(figures[e.Test], "passed")
		case "fail", "skip":
			seen++
			results[e.Test] = "**" + e.Action + "**"
		}
	}
	if err := lines.Err(); err != nil {
		return err
	}
	if seen == 0 {
		return fmt.Errorf("go test ran no test of a row: %w", failed)
	}
	return nil
}

// thoroughResults runs the tests that were left out for the time they take.
func thoroughResults(ctx context.Context, root string, results map[string]string) error {
	var skipped []string
	for name, result := range results {
		if result == "**skip**" {
			skipped = append(skipped, name)
		}
	}
	if len(skipped) == 0 {
		return nil
	}
	slices.Sort(skipped)
	if err := os.Setenv("EVENFALL_THOROUGH", "1"); err != nil {
		return err
	}
	defer os.Unsetenv("EVENFALL_THOROUGH")
	return goResults(ctx, root, results, "-run", "^("+strings.Join(skipped, "|")+")$", "-timeout", "20m", "./...")
}

var nodeOutcome = regexp.MustCompile(`(?m)^\s*(ok|not ok) \d+ - (row [AB]\d+: .+?)\s*(?:#.*)?$`)

// nodeResults runs the board's own tests and notes how each ended.
func nodeResults(ctx context.Context, root string, results map[string]string) error {
	var out bytes.Buffer
	failed := nodeTests(ctx, root, &out, "--test-reporter=tap")
	found := nodeOutcome.FindAllStringSubmatch(out.String(), -1)
	for _, m := range found {
		results[m[2]] = map[string]string{"ok": "passed", "not ok": "**fail**"}[m[1]]
	}
	if len(found) == 0 && failed != nil {
		return failed
	}
	return nil
}

// rowsText writes the page, and says which rows have no test and which tests no
// pass.
func rowsText(found []rowTest, results map[string]string, at time.Time) (page []byte, missing []string) {
	var b bytes.Buffer
	fmt.Fprintf(&b, `# What is promised, and which test shows it

Rows A are what people expect of a plan editor, rows B the dangers to their plans. Written by
`+"`go run ./cmd/dev rows`"+` on %s (UTC), which runs every test below; do not edit it by hand. Where a test
gives a figure it stands in the last column.

`, at.UTC().Format(time.DateOnly))
	fmt.Fprintf(&b, "| row | test | in | result |\n|---|---|---|---|\n")
	by := map[string][]rowTest{}
	for _, t := range found {
		by[t.row] = append(by[t.row], t)
	}
	for _, r := range promised {
		fmt.Fprintf(&b, "| **%s** | **%s** | | |\n", r.number, r.asks)
		if len(by[r.number]) == 0 {
			missing = append(missing, r.number)
		}
		for _, t := range by[r.number] {
			result, ran := results[t.name]
			if !ran {
				result = "**not run**"
			}
			if strings.HasPrefix(result, "**") {
				missing = append(missing, t.name)
			}
			fmt.Fprintf(&b, "| | %s | %s | %s |\n", cell(t.name), t.file, cell(result))
		}
		delete(by, r.number)
	}
	missing = append(missing, slices.Sorted(maps.Keys(by))...)
	return b.Bytes(), missing
}

func cell(text string) string { return strings.ReplaceAll(text, "|", `\|`) }
