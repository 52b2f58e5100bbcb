package catalog

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// TableLine is one line of a table that a user gives, with its number in the file.
type TableLine struct {
	Number int // from 1
	Fields []string
}

// TableForm is how the text of a table is split.
type TableForm struct {
	Separator func(text []byte) rune // of columns; nil: commas
	Comment   rune                   // that begins a line to be passed over; 0: none does
	Lazy      bool                   // a quotation mark inside a field stands for itself, as of inches
	MostRows  int                    // lines under the first; 0: MaxTableRows
}

// TableLines splits a table into fields, within the limits of size: text in UTF-8,
// lines ended either way, a byte order mark skipped, empty lines passed over. The
// error is a *RowError.
func TableLines(r io.Reader, f TableForm) ([]TableLine, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxTableBytes+1))
	if err != nil {
		return nil, whole("The file could not be read to its end (%v). Try again.", err)
	}
	if text, err = plainText(text); err != nil {
		return nil, err
	}
	c := csv.NewReader(bytes.NewReader(text))
	c.FieldsPerRecord, c.Comment, c.LazyQuotes = -1, f.Comment, f.Lazy
	if f.Separator != nil {
		c.Comma = f.Separator(text)
	}
	most := cmp.Or(f.MostRows, MaxTableRows)
	var lines []TableLine
	for {
		fields, err := c.Read()
		if err == io.EOF {
			return lines, nil
		}
		if err != nil {
			return nil, splitError(err)
		}
		if blank(fields) {
			continue
		}
		if len(lines) > most {
			return nil, whole("The table has more than %d lines. Split it into several files.", most)
		}
		at, _ := c.FieldPos(0)
		lines = append(lines, TableLine{at, fields})
	}
}

// plainText checks size and encoding and takes the byte order mark off.
func plainText(text []byte) ([]byte, error) {
	if len(text) > MaxTableBytes {
		return nil, whole("The file is larger than 1 MiB. Split it into several files.")
	}
	if bytes.HasPrefix(text, []byte{0xFF, 0xFE}) || bytes.HasPrefix(text, []byte{0xFE, 0xFF}) {
		return nil, whole("The file is in UTF-16. Save it as “CSV UTF-8”.")
	}
	text = bytes.TrimPrefix(text, []byte("\xEF\xBB\xBF"))
	if !utf8.Valid(text) || bytes.IndexByte(text, 0) >= 0 {
		return nil, whole("The file is not text in UTF-8. Save it as “CSV UTF-8”.")
	}
	if !bytes.Contains(text, []byte("\n")) { // line ends of old machines
		text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	}
	return text, nil
}

// splitError says in words what keeps a line from being split.
func splitError(err error) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return whole("The file could not be read to its end (%v). Try again.", err)
	}
	says := "A quotation mark is not closed, or text stands after one that is. Quote a whole field, and write a quotation mark inside it twice."
	if errors.Is(p.Err, csv.ErrBareQuote) {
		says = "A quotation mark stands inside a field that is not quoted. Quote the whole field, and write the mark twice."
	}
	return &RowError{Line: p.StartLine, Sentence: says}
}

func blank(fields []string) bool {
	for _, f := range fields {
		if strings.TrimSpace(f) != "" {
			return false
		}
	}
	return true
}

// Shown is a text of a file in a sentence: short, in quotation marks.
func Shown(text string) string {
	runes := []rune(strings.TrimSpace(text))
	if len(runes) > 40 {
		runes = append(runes[:39], '…')
	}
	return "“" + string(runes) + "”"
}
