package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// layoutsPage lists what the search for layouts comes to, for readers.
const layoutsPage = "testdata/layouts.md"

// layoutsMark begins a line of results in the output of a test: then the table and
// the cells, tabs between. The first line of a table is its head.
const layoutsMark = "layout-result\t"

// layouts runs the tests that search layouts in full and writes down what they
// found.
func layouts(ctx context.Context, root string) error {
	var out bytes.Buffer
	c := command(ctx, root, "go", "test", "-count=1", "-timeout", "60m", "-v", "-run", "^TestLayouts_", "./internal/arrange")
	c.Env = append(os.Environ(), "EVENFALL_THOROUGH=1")
	c.Stdout = io.MultiWriter(&out, os.Stdout)
	failed := c.Run()
	tables := gatherLayouts(&out)
	if len(tables) == 0 {
		return fmt.Errorf("the tests of layouts printed no results: %w", failed)
	}
	page := layoutsDocument(tables, runtime.NumCPU(), failed != nil)
	if err := os.WriteFile(filepath.Join(root, filepath.FromSlash(layoutsPage)), page, 0o644); err != nil {
		return err
	}
	fmt.Println("wrote", layoutsPage)
	if failed != nil {
		return fmt.Errorf("some layouts are not as promised: %w", failed)
	}
	return nil
}

// layoutTable is one table of results.
type layoutTable struct {
	title string
	rows  [][]string // the first is the head
}

// gatherLayouts reads the results out of what tests print.
func gatherLayouts(r io.Reader) []layoutTable {
	var tables []layoutTable
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		_, line, marked := strings.Cut(lines.Text(), layoutsMark)
		if !marked {
			continue
		}
		cells := strings.Split(line, "\t")
		i := slices.IndexFunc(tables, func(t layoutTable) bool { return t.title == cells[0] })
		if i < 0 {
			i = len(tables)
			tables = append(tables, layoutTable{title: cells[0]})
		}
		tables[i].rows = append(tables[i].rows, cells[1:])
	}
	return tables
}

// layoutsDocument is the page.
func layoutsDocument(tables []layoutTable, cores int, failed bool) []byte {
	var b bytes.Buffer
	b.WriteString("# What the search for layouts finds\n\n")
	b.WriteString("Written by `go run ./cmd/dev layouts`, which searches in full; do not edit. Figures are read on cells that no head lines up with.\n")
	b.WriteString("*Drawn* is layout uniformity (distribution uniformity of the low quarter), calm air, ideal nozzles; *field* the mean of the field estimate and *1 in 10* its tenth percentile;\n")
	b.WriteString("*past the edge* a share of the flow. Layouts and their figures are the same on any machine; times are not")
	fmt.Fprintf(&b, " (these: %s/%s, %d cores).\n", runtime.GOOS, runtime.GOARCH, cores)
	if failed {
		b.WriteString("\n**Some test failed in this run: not all of this is as promised.**\n")
	}
	for _, t := range tables {
		fmt.Fprintf(&b, "\n## %s\n", t.title)
		for i, row := range t.rows {
			for j := range row {
				row[j] = strings.ReplaceAll(row[j], "|", "\\|")
			}
			b.WriteString("| " + strings.Join(row, " | ") + " |\n")
			if i == 0 {
				b.WriteString("|" + strings.Repeat("---|", len(row)) + "\n")
			}
		}
	}
	return b.Bytes()
}
