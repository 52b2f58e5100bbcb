package catalog

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"evenfall/internal/units"
)

// table gathers the lines of one file into what they add up to, such as nozzles.
type table struct {
	form   *form
	header map[string]column
	groups map[string]*group // by id, or by name where there is no id
	order  []*group
	errors []RowError
	untold int // errors beyond the most that are told
}

// group is the lines of one nozzle, pipe class or device. A row of it comes from
// one line.
type group struct {
	lines []line
	rows  []tableRow // of a nozzle
	from  []int      // the lines its rows came from, in their order
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
		t.wrong(0, "", "The table has a header and no %s under it.", t.form.many)
	}
	for _, l := range lines {
		t.take(l)
	}
}

// take adds one line to its group.
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
		t.wrong(l.number, colName, "The line names no %s. Write the %s's name on each of its lines.", t.form.one, t.form.one)
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
	if t.form.take != nil {
		t.form.take(t, l, g)
	}
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

// agrees checks that what a group's later line says again is what its first
// line says.
func (t *table) agrees(l line, g *group) {
	if len(g.lines) == 0 {
		return
	}
	first := g.lines[0]
	for _, name := range t.form.columns {
		if slices.Contains(t.form.perLine, name) {
			continue
		}
		was, now := t.field(first, name), t.field(l, name)
		if now != "" && !strings.EqualFold(was, now) {
			t.wrong(l.number, name, "This is %q, but line %d has %q for the same %s. Say it once, or give the %s different names.", now, first.number, was, t.form.one, t.form.many)
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

// result builds every row of a table, or none.
func result[T any](t *table, build func(*table, *group) (id string, row T, ok bool)) *ImportOf[T] {
	var out []T
	ids := map[string]int{}
	for _, g := range t.order {
		id, row, ok := build(t, g)
		if !ok {
			continue
		}
		if was, taken := ids[id]; taken {
			t.wrong(g.lines[0].number, colID, "The %s that begins on line %d has the id %q, too. Give each %s an id of its own.", t.form.one, was, id, t.form.one)
		}
		ids[id] = g.lines[0].number
		out = append(out, row)
	}
	if len(t.errors) > 0 {
		sort.SliceStable(t.errors, func(i, j int) bool { return t.errors[i].Line < t.errors[j].Line })
		if t.untold > 0 {
			t.errors = append(t.errors, *whole("%d more things are wrong in the table.", t.untold))
		}
		return &ImportOf[T]{Errors: t.errors}
	}
	return &ImportOf[T]{Rows: out}
}

// entry builds one nozzle from its lines and checks it whole.
func (t *table) entry(g *group) (string, Entry, bool) {
	known := t.known()
	sort.SliceStable(g.rows, func(i, j int) bool { return g.rows[i].Pressure < g.rows[j].Pressure })
	for _, r := range g.rows {
		g.from = append(g.from, r.line)
	}
	n := t.nozzle(g.lines[0], g)
	id := t.idOf(g, n.Name)
	ok := len(g.rows) > 0 && t.sound(g, known, n.Validate)
	return id, Entry{ID: id, Nozzle: n}, ok
}

// known counts the things wrong so far.
func (t *table) known() int { return len(t.errors) + t.untold }

// idOf is the id of a group: as given, or made from its name.
func (t *table) idOf(g *group, name string) string {
	id := t.field(g.lines[0], colID)
	if id == "" {
		id = idFromName(t.form.prefix, name)
	}
	if !isID(id) {
		t.wrong(g.lines[0].number, colID, "%q cannot be an id. An id is a letter, then letters, digits, - or _, at most 40 characters.", id)
	}
	return id
}

// sound validates what was built of a group, unless its lines' own errors say it
// better.
func (t *table) sound(g *group, known int, validate func() error) bool {
	if t.known() > known {
		return false
	}
	var f *Fault
	if err := validate(); errors.As(err, &f) {
		t.wrong(g.lineOf(f.Member), t.form.columnOf(f.Member), "%s", f.Sentence)
		return false
	}
	return true
}

// lineOf is the line a member came from: that of the row with its number, or the
// first.
func (g *group) lineOf(member string) int {
	for _, part := range strings.Split(member, "/") {
		if i, err := strconv.Atoi(part); err == nil && i >= 0 && i < len(g.from) {
			return g.from[i]
		}
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
func idFromName(prefix, name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool {
		return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '.')
	})
	id := prefix + "-" + strings.ReplaceAll(strings.Join(words, "-"), ".", "_")
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
