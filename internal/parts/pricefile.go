package parts

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// PriceFile is what came of reading a user's price list. A line that cannot be read is
// left out and told; the others are taken.
type PriceFile struct {
	Rows   []PriceRow         `json:"rows"`
	Errors []catalog.RowError `json:"errors"` // of lines that are left out, or of the whole file
	Notes  []string           `json:"notes"`  // what was passed over or taken for granted
}

// PriceRow is one line of it.
type PriceRow struct {
	Line int     `json:"line"` // of the file, from 1
	Item string  `json:"item"`
	Unit string  `json:"unit"` // "" when the file does not say
	Each float64 `json:"each"`
	Code string  `json:"code,omitzero"`
}

// priceColumns are the columns of a price list with the names each may have, the
// likeliest first (chosen).
var priceColumns = []struct {
	name  string
	names []string
}{
	{"item", []string{"item", "part", "article", "name", "description"}},
	{"unit", []string{"unit", "per", "uom", "sold by"}},
	{"price", []string{"price", "unit price", "each", "price each", "net price", "cost"}},
	{"code", []string{"code", "sku", "article number", "item number", "part number", "order code"}},
}

// maxPriceErrors is how many lines at fault are told one by one.
const maxPriceErrors = 50

// priceReader reads one file.
type priceReader struct {
	out    *PriceFile
	at     map[string]int // column of each name of priceColumns
	marks  decimalMarks
	first  map[[2]string]PriceRow
	blank  int // lines without a price
	twice  int // lines said before
	untold int
}

// ReadPrices reads a price list: a line of column names first, item and price at
// least, unit and code if there are any, in any order among others. Columns are
// separated by commas, semicolons or tabs; prices may carry a currency and have a point
// or a comma for decimals.
func ReadPrices(r io.Reader) *PriceFile {
	f := &PriceFile{Rows: []PriceRow{}, Errors: []catalog.RowError{}, Notes: []string{}}
	comma := ','
	lines, err := catalog.TableLines(r, catalog.TableForm{Lazy: true, Separator: func(text []byte) rune {
		comma = separatorOf(text)
		return comma
	}})
	if err != nil {
		var row *catalog.RowError
		if !errors.As(err, &row) {
			row = &catalog.RowError{Sentence: err.Error()}
		}
		f.Errors = append(f.Errors, *row)
		return f
	}
	if len(lines) > 0 && declared(lines[0].Fields) {
		lines = lines[1:]
	}
	rd := &priceReader{out: f, first: map[[2]string]PriceRow{}}
	if len(lines) == 0 || !rd.header(lines[0]) {
		if len(f.Errors) == 0 {
			f.Errors = append(f.Errors, catalog.RowError{Sentence: "The file is empty. " + headerWanted})
		}
		return f
	}
	rd.marks = marksOf(lines[1:], rd.at["price"], comma)
	for _, l := range lines[1:] {
		rd.line(l)
	}
	rd.notes(len(lines) - 1)
	return f
}

const headerWanted = "Its first line names the columns: item and price, and unit and code if there are any."

// separatorOf is what separates the columns of the line of names: of comma, semicolon
// and tab, what makes most known names of it.
func separatorOf(text []byte) rune {
	head, rest, _ := bytes.Cut(bytes.TrimLeft(text, "\r\n "), []byte("\n"))
	if fields := strings.TrimSpace(string(head)); len(fields) == 5 && declared([]string{fields[:4], fields[4:]}) {
		switch fields[4] {
		case ';', ',':
			return rune(fields[4])
		}
	}
	if declared([]string{string(head)}) {
		head, _, _ = bytes.Cut(rest, []byte("\n"))
	}
	best, most := ',', 0
	for _, mark := range []rune{',', ';', '\t'} {
		known := 0
		for _, field := range strings.Split(string(head), string(mark)) {
			if columnCalled(field) != "" {
				known++
			}
		}
		if known > most {
			best, most = mark, known
		}
	}
	return best
}

// declared reports whether a line only says what separates columns, as some
// spreadsheets write it before a table: "sep=;".
func declared(fields []string) bool {
	return len(fields) <= 2 && strings.HasPrefix(strings.ToLower(strings.TrimSpace(fields[0])), "sep=")
}

// columnCalled is the column of priceColumns that a title names; "" for none.
func columnCalled(title string) string {
	title = strings.Trim(folded(title), `"' *:`)
	for _, c := range priceColumns {
		if slices.Contains(c.names, title) {
			return c.name
		}
	}
	return ""
}

// header finds the columns, and reports whether there are enough.
func (rd *priceReader) header(l catalog.TableLine) bool {
	rd.at = map[string]int{}
	titles := make([]string, len(l.Fields))
	for i, f := range l.Fields {
		titles[i] = strings.Trim(folded(f), `"' *:`)
	}
	used := map[int]bool{}
	for _, c := range priceColumns {
		for _, name := range c.names {
			if i := slices.Index(titles, name); i >= 0 {
				rd.at[c.name], used[i] = i, true
				break
			}
		}
	}
	for _, need := range []string{"item", "price"} {
		if _, ok := rd.at[need]; !ok {
			rd.out.Errors = append(rd.out.Errors, catalog.RowError{Line: l.Number, Sentence: fmt.Sprintf("No column is named %s. %s", need, headerWanted)})
			return false
		}
	}
	var passed []string
	for i, f := range l.Fields {
		if strings.TrimSpace(f) != "" && !used[i] {
			passed = append(passed, catalog.Shown(f))
		}
	}
	if len(passed) > 0 {
		rd.out.Notes = append(rd.out.Notes, plan.Choose(len(passed), "This column was passed over: ", "These columns were passed over: ")+plan.Several(passed)+".")
	}
	return true
}

// field is the text of a column on a line.
func (rd *priceReader) field(l catalog.TableLine, name string) string {
	i, ok := rd.at[name]
	if !ok || i >= len(l.Fields) {
		return ""
	}
	return unguarded(strings.TrimSpace(l.Fields[i]))
}

// unguarded takes off the apostrophe that a list of ours has before what a
// spreadsheet would take for a formula.
func unguarded(text string) string {
	if rest, ok := strings.CutPrefix(text, "'"); ok && rest != "" && strings.ContainsAny(strings.TrimLeft(rest, " ")[:min(1, len(strings.TrimLeft(rest, " ")))], "'=+-@") {
		return rest
	}
	return text
}

func (rd *priceReader) wrong(l catalog.TableLine, column, format string, args ...any) {
	if len(rd.out.Errors) >= maxPriceErrors {
		rd.untold++
		return
	}
	rd.out.Errors = append(rd.out.Errors, catalog.RowError{Line: l.Number, Column: column, Sentence: fmt.Sprintf(format, args...)})
}

// line takes one line.
func (rd *priceReader) line(l catalog.TableLine) {
	row := PriceRow{Line: l.Number, Item: rd.field(l, "item"), Unit: strings.Join(strings.Fields(rd.field(l, "unit")), " "), Code: rd.field(l, "code")}
	price := rd.field(l, "price")
	if fault := tidy(row); fault != "" {
		rd.wrong(l, "", "%s", fault)
		return
	}
	if price == "" {
		rd.blank++
		return
	}
	if row.Item == "" {
		rd.wrong(l, "item", "The line has a price and no item.")
		return
	}
	each, fault := rd.marks.price(price)
	if fault != "" {
		rd.wrong(l, "price", "%s", fault)
		return
	}
	row.Each = each
	key := priceKey(row.Item, row.Unit)
	switch was, there := rd.first[key]; {
	case there && was.Each == row.Each:
		rd.twice++
	case there:
		rd.wrong(l, "price", "%s is on line %d already, with another price. The first one is taken; leave one of them out.", catalog.Shown(row.Item), was.Line)
	default:
		rd.first[key] = row
		rd.out.Rows = append(rd.out.Rows, row)
	}
}

// tidy says what is wrong with the texts of a row; "" nothing.
func tidy(row PriceRow) string {
	for _, text := range []string{row.Item, row.Unit, row.Code} {
		switch {
		case strings.ContainsAny(text, "\n\r"):
			return "A text goes on over several lines: a quotation mark is not closed, or a line break stands in it. The lines it takes in are left out."
		case len(text) > 4*plan.MaxText || len([]rune(text)) > plan.MaxText:
			return fmt.Sprintf("A text is longer than %d characters. Shorten it.", plan.MaxText)
		case strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r >= 0x7f && r < 0xa0 }):
			return "A text has a character in it that cannot be shown. Take it out."
		}
	}
	return ""
}

// notes tells what was passed over.
func (rd *priceReader) notes(lines int) {
	note := func(format string, args ...any) { rd.out.Notes = append(rd.out.Notes, fmt.Sprintf(format, args...)) }
	if rd.blank > 0 {
		note("%s no price and %s passed over.", plan.Plural(rd.blank, "line has", "lines have"), plan.Choose(rd.blank, "is", "are"))
	}
	if rd.twice > 0 {
		note("%s an item that was there before at the same price.", plan.Plural(rd.twice, "line has", "lines have"))
	}
	if rd.untold > 0 {
		note("%s could not be read either.", plan.Plural(rd.untold, "more line", "more lines"))
	}
	if lines == 0 {
		rd.out.Errors = append(rd.out.Errors, catalog.RowError{Sentence: "The table has a line of names and no prices under it."})
	}
}
