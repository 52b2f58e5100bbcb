package sheets

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// CSV writes a table as RFC 4180 asks: UTF-8, a line of column names first,
// lines ended by CR LF. A text that a spreadsheet would take for a formula gets
// an apostrophe before it (see guarded); numbers are written bare.
func CSV(w io.Writer, t Table) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	record := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		record[i] = guarded(c.Name)
	}
	if err := out.Write(record); err != nil {
		return fmt.Errorf("sheets: writing %q: %w", t.Title, err)
	}
	for _, row := range t.Rows {
		for i, cell := range row {
			record[i] = cell.String()
			if !cell.numeric {
				record[i] = guarded(cell.text)
			}
		}
		if err := out.Write(record); err != nil {
			return fmt.Errorf("sheets: writing %q: %w", t.Title, err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("sheets: writing %q: %w", t.Title, err)
	}
	return nil
}

// lineEnds turns every kind of line end into LF.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// guarded makes a text safe to open in a spreadsheet. A cell beginning with one
// of = + - @ tab CR is run as a formula by some of them (OWASP, "CSV
// Injection"), so such a text gets an apostrophe before it, which they show as
// plain text. Line feeds and the full-width forms of the signs are treated
// alike, and so are signs after leading spaces, which some trim. A text that
// begins with an apostrophe gets another, so that taking one off always gives
// the text. What is not UTF-8 is replaced, and line ends become LF.
func guarded(s string) string {
	s = lineEnds.Replace(strings.ToValidUTF8(s, "\uFFFD"))
	trimmed := strings.TrimLeft(s, " \u00a0\u200b\ufeff")
	if strings.HasPrefix(s, "'") || trimmed != "" && strings.ContainsRune("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20", []rune(trimmed)[0]) {
		return "'" + s
	}
	return s
}
