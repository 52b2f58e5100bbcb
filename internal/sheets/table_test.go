package sheets

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// hostile are names that a person, or someone with ill will, may give a zone: a
// spreadsheet must show each as text.
var hostile = []string{
	"=1+1", "=cmd|' /C calc'!A0", "=HYPERLINK(\"http://example.invalid\",\"x\")", "+1+1", "-1+1", "@SUM(A1:A9)",
	"=WEBSERVICE(\"http://example.invalid\")", "\t=1", "\r=1", "\n=1", " =1+1", "\u00a0=1", "\ufeff=1", "\u200b=1",
	"＝1+1", "＋1", "－1", "＠x", "=", "-", "+", "@", "'=1", "''", "'", "--", "-5", "+5", "1e5", "007", "TRUE", "1/2",
	"a,b", "a;b", "say \"x\"", "two\r\nlines", "tab\there", "=\"quoted\"", "R1C1", "Größe – ½ №",
	"null\x00byte", "bell\a", "\xff\xfe not UTF-8", "_x0041_", "]]>&<b>", strings.Repeat("=", 300), "🚿 zone", "e\u0301", "\u202egnp.exe",
}

func hostileTable() Table {
	t := Table{Title: "Names", Columns: []Column{{"Name", 20}, {"=Flow", 10}}}
	for i, name := range hostile {
		t.Rows = append(t.Rows, []Cell{Text(name), Number(-float64(i)-0.25, 2)})
	}
	return t
}

// startsFormula reports whether a spreadsheet may take the text for a formula.
func startsFormula(s string) bool {
	s = strings.TrimLeft(s, " \u00a0\u200b\ufeff")
	r, _ := utf8.DecodeRuneInString(s)
	return s != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", r)
}

func TestCSVReadsBackAndIsSafe(t *testing.T) {
	if len(hostile) < 40 {
		t.Fatalf("%d hostile names, want 40", len(hostile))
	}
	var text bytes.Buffer
	if err := CSV(&text, hostileTable()); err != nil {
		t.Fatal(err)
	}
	if !utf8.Valid(text.Bytes()) {
		t.Error("the file is not UTF-8")
	}
	// Line ends inside quotes are the user's; those between records are CR LF.
	if !bytes.HasSuffix(text.Bytes(), []byte("\r\n")) {
		t.Error("the last line does not end in CR LF")
	}
	rows, err := csv.NewReader(&text).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(hostile)+1 {
		t.Fatalf("%d lines, want %d", len(rows), len(hostile)+1)
	}
	for i, row := range rows[1:] {
		name := strings.ToValidUTF8(hostile[i], "\uFFFD")
		if startsFormula(row[0]) {
			t.Errorf("%q would run as a formula: %q", name, row[0])
		}
		want := lineEnds.Replace(name)
		if got := strings.TrimPrefix(row[0], "'"); got != want && row[0] != want {
			t.Errorf("%q came back as %q", name, row[0])
		}
		if want := fmt.Sprintf("-%d.25", i); row[1] != want {
			t.Errorf("number %d is written %q, want %q", i, row[1], want)
		}
	}
	if rows[0][1] != "'=Flow" {
		t.Errorf("the column name is written %q", rows[0][1])
	}
}

func TestGuardIsUnambiguous(t *testing.T) {
	// What begins with an apostrophe gets one more, so that taking one off gives
	// the name back whatever it was.
	seen := map[string]string{}
	for _, name := range hostile {
		name = lineEnds.Replace(strings.ToValidUTF8(name, "\uFFFD"))
		g := guarded(name)
		if was, ok := seen[g]; ok && was != name {
			t.Errorf("%q and %q are both written %q", was, name, g)
		}
		seen[g] = name
	}
}

func TestWorkbookReadsBackAsTextAndNumbers(t *testing.T) {
	var file bytes.Buffer
	if err := XLSX(&file, hostileTable(), Table{Title: "Names", Columns: []Column{{Name: "Only"}}}); err != nil {
		t.Fatal(err)
	}
	book, err := excelize.OpenReader(bytes.NewReader(file.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close() // only read from
	if diff := cmp.Diff([]string{"Names", "Names 2"}, book.GetSheetList()); diff != "" {
		t.Errorf("sheets differ (-want +got):\n%s", diff)
	}
	for i, name := range hostile {
		at := fmt.Sprintf("A%d", i+2)
		if f, err := book.GetCellFormula("Names", at); err != nil || f != "" {
			t.Errorf("%s holds the formula %q (%v)", at, f, err)
		}
		got, err := book.GetCellValue("Names", at)
		if err != nil {
			t.Fatal(err)
		}
		// XML reads line ends as LF.
		if lineEnds.Replace(got) != lineEnds.Replace(storable(name)) {
			t.Errorf("%q came back as %q", name, got)
		}
		kind, err := book.GetCellType("Names", fmt.Sprintf("B%d", i+2))
		if err != nil {
			t.Fatal(err)
		}
		value, err := book.GetCellValue("Names", fmt.Sprintf("B%d", i+2), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if kind != excelize.CellTypeNumber && kind != excelize.CellTypeUnset || value != fmt.Sprintf("-%d.25", i) {
			t.Errorf("B%d is a cell of type %v holding %q", i+2, kind, value)
		}
	}
	panes, err := book.GetPanes("Names")
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the header is not frozen: %+v, %v", panes, err)
	}
	if width, err := book.GetColWidth("Names", "A"); err != nil || width != 20 {
		t.Errorf("column A is %v wide (%v), want 20", width, err)
	}
}

// A workbook of many sheets is the same every time, whatever order its writer holds
// them in, and names none but this program as its maker.
func TestWorkbookIsTheSameEveryTime(t *testing.T) {
	tables := slices.Repeat([]Table{hostileTable()}, 8)
	var a, b bytes.Buffer
	if err := XLSX(&a, tables...); err != nil {
		t.Fatal(err)
	}
	if err := XLSX(&b, tables...); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two workbooks of the same tables differ")
	}
	book, err := excelize.OpenReader(&a)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close() // only read from
	if props, err := book.GetDocProps(); err != nil || props.Creator != "Evenfall" || props.LastModifiedBy != "" {
		t.Errorf("made by %q, changed by %q: %v", props.Creator, props.LastModifiedBy, err)
	}
}

func TestSheetNamesAreAllowedAndApart(t *testing.T) {
	used := map[string]bool{}
	for _, title := range []string{"Parts", "parts", "A/B:C*?", "[x]", "'", "", strings.Repeat("long ", 20), strings.Repeat("long ", 20), "\xff", "History"} {
		name := sheetName(title, used)
		if n := utf8.RuneCountInString(name); n == 0 || n > 31 || strings.ContainsAny(name, `:\/?*[]`) {
			t.Errorf("%q makes the sheet name %q", title, name)
		}
	}
	if len(used) != 10 {
		t.Errorf("%d names for 10 sheets", len(used))
	}
}

func TestNumbersAreRoundedAndFinite(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{1.005, 1, "1.0"}, {-0.001, 2, "0.00"}, {12.25, 1, "12.3"}, {3, 0, "3"}, {math.NaN(), 2, ""}, {math.Inf(1), 2, ""}} {
		if got := Number(c.v, c.decimals).String(); got != c.want {
			t.Errorf("Number(%v, %d) reads %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}
