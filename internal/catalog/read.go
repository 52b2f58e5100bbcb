package catalog

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// The limits of a table.
const (
	MaxTableBytes = 1 << 20
	MaxTableRows  = 5_000
	maxRowErrors  = 50 // told at once
)

// ImportOf is what came of reading a user's table. Either Rows holds every row
// of it or Errors says why none is taken: nothing is imported by half.
type ImportOf[T any] struct {
	Rows   []T        `json:"rows"` // in the order of the table
	Errors []RowError `json:"errors"`
}

// Import is what came of reading a user's nozzles.
type Import = ImportOf[Entry]

// RowError is one thing wrong with a table.
type RowError struct {
	Line     int    `json:"line"`   // from 1, the header; 0: the whole file
	Column   string `json:"column"` // name of the column; empty: the whole line
	Sentence string `json:"sentence"`
}

// Error returns line, column and sentence in words.
func (e RowError) Error() string {
	switch {
	case e.Line == 0:
		return e.Sentence
	case e.Column == "":
		return fmt.Sprintf("Line %d: %s", e.Line, e.Sentence)
	}
	return fmt.Sprintf("Line %d, column %s: %s", e.Line, e.Column, e.Sentence)
}

// ReadNozzles reads a user's nozzle table: text in UTF-8, columns separated by
// commas, a header line that names them (columns), one line a nozzle
// and pressure. Fields may be quoted; lines may end either way; a byte order
// mark is skipped; empty lines and lines that begin with # are passed over.
func ReadNozzles(r io.Reader) *Import { return readTable(r, &nozzleForm, (*table).entry) }

// readTable reads a table of one form, each group of lines by build.
func readTable[T any](r io.Reader, f *form, build func(*table, *group) (id string, row T, ok bool)) *ImportOf[T] {
	lines, err := f.readLines(r)
	if err == nil {
		var header map[string]column
		if header, err = f.readHeader(lines[0]); err == nil {
			t := table{form: f, header: header, groups: map[string]*group{}}
			t.read(lines[1:])
			return result(&t, build)
		}
	}
	var row *RowError
	if !errors.As(err, &row) {
		row = &RowError{Sentence: err.Error()}
	}
	return &ImportOf[T]{Errors: []RowError{*row}}
}

// form is one kind of table: what its columns are and what its lines add up to.
type form struct {
	columns []string // in the order they are written
	needed  []string
	perLine []string // told anew on each line; the rest need stand only on the first
	metric  map[string]metricColumn
	one     string // what a group of lines is: "nozzle"
	many    string
	prefix  string                           // of ids made from names
	take    func(t *table, l line, g *group) // reads what a line adds; nil: nothing
	members []memberColumn                   // where a member at fault stands
}

// Error makes *RowError an error, too.
var _ error = (*RowError)(nil)

// line is one line of the table with its number in the file.
type line struct {
	number int
	fields []string
}

func whole(format string, args ...any) *RowError {
	return &RowError{Sentence: fmt.Sprintf(format, args...)}
}

// readLines splits the file into fields, within the limits.
func (f *form) readLines(r io.Reader) ([]line, error) {
	all, err := TableLines(r, TableForm{Comment: '#'})
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, whole("The file is empty. Its first line names the columns: %s.", strings.Join(f.needed, ", "))
	}
	lines := make([]line, len(all))
	for i, l := range all {
		lines[i] = line{l.Number, l.Fields}
	}
	return lines, nil
}

// column is where a column stands and what to multiply its numbers by.
type column struct {
	index  int
	title  string // as the user's header has it
	factor float64
}

// readHeader finds the columns by name.
func (f *form) readHeader(l line) (map[string]column, error) {
	if err := separatorError(l); err != nil {
		return nil, err
	}
	header := map[string]column{}
	for i, text := range l.fields {
		title := strings.ToLower(strings.TrimSpace(text))
		if title == "" {
			continue
		}
		name, factor := title, 1.0
		if m, ok := f.metric[title]; ok {
			name, factor = m.column, m.factor
		}
		if !slices.Contains(f.columns, name) {
			return nil, &RowError{l.number, title, fmt.Sprintf("No column is named %q. The columns are %s.", title, strings.Join(f.columns, ", "))}
		}
		if was, ok := header[name]; ok {
			return nil, &RowError{l.number, title, fmt.Sprintf("The columns %s and %s hold the same thing. Leave one out.", was.title, title)}
		}
		header[name] = column{i, title, factor}
	}
	for _, n := range f.needed {
		if _, ok := header[n]; !ok {
			return nil, &RowError{l.number, n, fmt.Sprintf("The column %s is missing. A table needs at least %s.", n, strings.Join(f.needed, ", "))}
		}
	}
	return header, nil
}

// separatorError recognises a table that is not separated by commas.
func separatorError(l line) error {
	if len(l.fields) != 1 {
		return nil
	}
	name := ""
	switch {
	case strings.Contains(l.fields[0], ";"):
		name = "semicolons"
	case strings.Contains(l.fields[0], "\t"):
		name = "tabs"
	default:
		return nil
	}
	return &RowError{Line: l.number, Sentence: fmt.Sprintf(
		"The columns are separated by %s. Save the table with commas between columns and points in numbers.", name)}
}
