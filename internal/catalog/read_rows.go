package catalog

import (
	"errors"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"evenfall/internal/units"
)

// table gathers the lines of one file into nozzles.
type table struct {
	header map[string]column
	groups map[string]*group // by id, or by name where there is no id
	order  []*group
	errors []RowError
	untold int // errors beyond the most that are told
}

// group is the lines of one nozzle. A pressure row comes from one line.
type group struct {
	lines []line
	rows  []tableRow
}

type tableRow struct {
	Row
	line int
}

func (t *table) wrong(number int, name, format string, args ...any) {
	if c, ok := t.header[name]; ok {
		name = c.title
	}
	if len(t.errors) == maxRowErrors {
		t.untold++
		return
	}
	t.errors = append(t.errors, RowError{number, name, fmt.Sprintf(format, args...)})
}

// field is the text of a column on a line, without blanks about it.
func (t *table) field(l line, name string) string {
	c, ok := t.header[name]
	if !ok || c.index >= len(l.fields) {
		return ""
	}
	return strings.TrimSpace(l.fields[c.index])
}

func (t *table) read(lines []line) {
	if len(lines) == 0 {
		t.wrong(0, "", "The table has a header and no nozzles under it.")
	}
	for _, l := range lines {
		t.take(l)
	}
}

// take adds one line to its nozzle.
func (t *table) take(l line) {
	if !t.fits(l) {
		return
	}
	id, name := t.field(l, colID), t.field(l, colName)
	key := "name " + strings.ToLower(name)
	if id != "" {
		key = "id " + id
	}
	if id == "" && name == "" {
		t.wrong(l.number, colName, "The line names no nozzle. Write the nozzle's name on each of its lines.")
		return
	}
	g := t.groups[key]
	if g == nil {
		g = &group{}
		t.groups[key] = g
		t.order = append(t.order, g)
	}
	t.agrees(l, g)
	g.lines = append(g.lines, l)
	t.takeRow(l, g)
}

// fits refuses text beyond the last column: a sign of a comma too many.
func (t *table) fits(l line) bool {
	last := 0
	for _, c := range t.header {
		last = max(last, c.index)
	}
	for _, f := range l.fields[min(last+1, len(l.fields)):] {
		if strings.TrimSpace(f) != "" {
			t.wrong(l.number, "", "The line has more fields than the header has columns. Look for a comma too many, such as one inside a number or a name.")
			return false
		}
	}
	return true
}

// agrees checks that what a nozzle's later line says again is what its first
// line says.
func (t *table) agrees(l line, g *group) {
	if len(g.lines) == 0 {
		return
	}
	first := g.lines[0]
	for _, name := range columns {
		if name == colPressure || name == colThrow || name == colFlow {
			continue
		}
		was, now := t.field(first, name), t.field(l, name)
		if now != "" && !strings.EqualFold(was, now) {
			t.wrong(l.number, name, "This is %q, but line %d has %q for the same nozzle. Say it once, or give the nozzles different names.", now, first.number, was)
		}
	}
}

// takeRow reads pressure, throw and flow.
func (t *table) takeRow(l line, g *group) {
	p, ok1 := t.number(l, colPressure, true)
	r, ok2 := t.number(l, colThrow, true)
	q, ok3 := t.number(l, colFlow, true)
	if !ok1 || !ok2 || !ok3 {
		return
	}
	for _, was := range g.rows {
		if float64(was.Pressure) == p {
			t.wrong(l.number, colPressure, "This nozzle has a row at that pressure already, on line %d. Remove one of them.", was.line)
			return
		}
	}
	g.rows = append(g.rows, tableRow{Row{units.PSI(p), units.Feet(r), units.GPM(q)}, l.number})
}

// number reads a number in customary units; ok is false when the field is
// empty, which is an error when it is needed, or not a number.
func (t *table) number(l line, name string, needed bool) (v float64, ok bool) {
	s := t.field(l, name)
	if s == "" {
		if needed {
			t.wrong(l.number, name, "A number is missing here.")
		}
		return 0, false
	}
	v, err := units.ParseNumber(s)
	if err != nil {
		t.wrong(l.number, name, "%s", err.Error())
		return 0, false
	}
	return float64(v * t.header[name].factor), true
}

// result builds every nozzle, or none.
func (t *table) result() *Import {
	var out []Entry
	ids := map[string]int{}
	for _, g := range t.order {
		e, ok := t.entry(g)
		if !ok {
			continue
		}
		if was, taken := ids[e.ID]; taken {
			t.wrong(g.lines[0].number, colID, "The nozzle that begins on line %d has the id %q, too. Give each nozzle an id of its own.", was, e.ID)
		}
		ids[e.ID] = g.lines[0].number
		out = append(out, e)
	}
	if len(t.errors) > 0 {
		sort.SliceStable(t.errors, func(i, j int) bool { return t.errors[i].Line < t.errors[j].Line })
		if t.untold > 0 {
			t.errors = append(t.errors, *whole("%d more things are wrong in the table.", t.untold))
		}
		return &Import{Errors: t.errors}
	}
	return &Import{Rows: out}
}

// entry builds one nozzle from its lines and checks it whole.
func (t *table) entry(g *group) (Entry, bool) {
	known, first := len(t.errors)+t.untold, g.lines[0]
	sort.SliceStable(g.rows, func(i, j int) bool { return g.rows[i].Pressure < g.rows[j].Pressure })
	n := t.nozzle(first, g)
	id := t.field(first, colID)
	if id == "" {
		id = idFromName(n.Name)
	}
	if !isID(id) {
		t.wrong(first.number, colID, "%q cannot be an id. An id is a letter, then letters, digits, - or _, at most 40 characters.", id)
	}
	if len(t.errors)+t.untold > known || len(g.rows) == 0 {
		return Entry{}, false // the lines' own errors say it better than Validate
	}
	var f *Fault
	if err := n.Validate(); errors.As(err, &f) {
		t.wrong(g.lineOf(f.Member), columnOf(f.Member), "%s", f.Sentence)
		return Entry{}, false
	}
	return Entry{ID: id, Nozzle: n}, true
}

// lineOf is the line a member came from.
func (g *group) lineOf(member string) int {
	rest, ok := strings.CutPrefix(member, "/rows/")
	if !ok {
		return g.lines[0].number
	}
	index, _, _ := strings.Cut(rest, "/")
	if i, err := strconv.Atoi(index); err == nil && i < len(g.rows) {
		return g.rows[i].line
	}
	return g.lines[0].number
}

// isID reports whether a plan would take s as an id.
func isID(s string) bool {
	if s == "" || len(s) > 40 {
		return false
	}
	for i, c := range s {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || !(c >= '0' && c <= '9' || c == '-' || c == '_')) {
			return false
		}
	}
	return true
}

// idFromName makes an id: "My 12' spray" becomes "n-my-12-spray".
func idFromName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '.')
	})
	id := "n-" + strings.ReplaceAll(strings.Join(words, "-"), ".", "_")
	return strings.TrimRight(id[:min(len(id), 40)], "-")
}

// startsPlainly reports whether a text begins with a letter or digit, so that
// no spreadsheet takes it for a formula.
func startsPlainly(s string) bool {
	for _, c := range s {
		return unicode.IsLetter(c) || unicode.IsDigit(c)
	}
	return true
}
