package sheets

import (
	"archive/zip"
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// XLSX writes tables as one workbook, a sheet each: numbers as typed cells with
// their decimals, words as text (never as formulas), the line of column names
// bold and held in view, columns wide enough to read. The same tables have the same
// bytes.
func XLSX(w io.Writer, tables ...Table) (err error) {
	book := excelize.NewFile()
	defer func() {
		if cerr := book.Close(); err == nil {
			err = cerr
		}
	}()
	styles, err := newStyles(book)
	if err != nil {
		return fmt.Errorf("sheets: workbook styles: %w", err)
	}
	names := map[string]bool{}
	for i, t := range tables {
		name := sheetName(t.Title, names)
		if i == 0 {
			err = book.SetSheetName("Sheet1", name)
		} else {
			_, err = book.NewSheet(name)
		}
		if err == nil {
			err = writeSheet(book, name, t, styles)
		}
		if err != nil {
			return fmt.Errorf("sheets: sheet %q: %w", name, err)
		}
	}
	if err := book.SetDocProps(&excelize.DocProperties{Creator: "Evenfall"}); err != nil {
		return fmt.Errorf("sheets: naming the workbook's maker: %w", err)
	}
	var parts bytes.Buffer
	if err := book.Write(&parts); err != nil {
		return fmt.Errorf("sheets: writing the workbook: %w", err)
	}
	if err := inOrder(w, parts.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the workbook: %w", err)
	}
	return nil
}

// inOrder writes the parts of a workbook by their names, as they are packed already:
// the writer of workbooks has its sheets in the order of a map.
func inOrder(w io.Writer, book []byte) error {
	r, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		return err
	}
	slices.SortFunc(r.File, func(a, b *zip.File) int { return cmp.Compare(a.Name, b.Name) })
	out := zip.NewWriter(w)
	for _, f := range r.File {
		if err := out.Copy(f); err != nil {
			return err
		}
	}
	return out.Close()
}

// styles are the cell styles of a workbook.
type styles struct {
	head, text int
	decimals   []int // by number of decimals
}

func newStyles(book *excelize.File) (styles, error) {
	var s styles
	var err error
	if s.head, err = book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}}); err != nil {
		return s, err
	}
	// Format 49 is text: typing into the cell later does not make a formula either.
	if s.text, err = book.NewStyle(&excelize.Style{NumFmt: 49, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}}); err != nil {
		return s, err
	}
	for d := range 5 {
		format := "0"
		if d > 0 {
			format += "." + strings.Repeat("0", d)
		}
		id, err := book.NewStyle(&excelize.Style{CustomNumFmt: &format, Alignment: &excelize.Alignment{Vertical: "top"}})
		if err != nil {
			return s, err
		}
		s.decimals = append(s.decimals, id)
	}
	return s, nil
}

func writeSheet(book *excelize.File, name string, t Table, s styles) error {
	w, err := book.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i, c := range t.Columns {
		if err := w.SetColWidth(i+1, i+1, float64(c.width())); err != nil {
			return err
		}
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	line := make([]any, len(t.Columns))
	for i, c := range t.Columns {
		line[i] = excelize.Cell{StyleID: s.head, Value: storable(c.Name)}
	}
	if err := w.SetRow("A1", line); err != nil {
		return err
	}
	for r, row := range t.Rows {
		for i, cell := range row {
			line[i] = excelize.Cell{StyleID: s.text, Value: storable(cell.text)}
			if cell.numeric {
				line[i] = excelize.Cell{StyleID: s.decimals[min(cell.decimals, len(s.decimals)-1)], Value: cell.number}
			}
		}
		if err := w.SetRow(fmt.Sprintf("A%d", r+2), line); err != nil {
			return err
		}
	}
	return w.Flush()
}

// width is the column's width in characters.
func (c Column) width() int {
	if c.Width > 0 {
		return c.Width
	}
	return max(8, utf8.RuneCountInString(c.Name)+2)
}

// storable is s as a workbook can hold it: valid UTF-8, at most 32,767
// characters (the limit of a cell), without the control characters that XML
// has no way to write.
func storable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == '\ufffe' || r == '\uffff' {
			return '\ufffd'
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	if utf8.RuneCountInString(s) > excelize.TotalCellChars {
		s = string([]rune(s)[:excelize.TotalCellChars])
	}
	return s
}

// sheetName makes a title fit to name a sheet: at most 31 characters, none of
// : \ / ? * [ ], no apostrophe at an end, not used yet.
func sheetName(title string, used map[string]bool) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]`, r) || r < ' ' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(title, "\ufffd"))
	clean = strings.Trim(clean, "' ")
	if clean == "" {
		clean = "List"
	}
	name := firstRunes(clean, 31)
	for n := 2; used[strings.ToLower(name)]; n++ {
		tail := fmt.Sprintf(" %d", n)
		name = firstRunes(clean, 31-len(tail)) + tail
	}
	used[strings.ToLower(name)] = true
	return name
}

func firstRunes(s string, n int) string {
	runes := []rune(s)
	return strings.Trim(string(runes[:min(n, len(runes))]), "' ")
}
