package sheets

import (
	"bytes"
	"fmt"
	"io"
	"iter"
	"strings"
	"text/tabwriter"
	"unicode"
	"unicode/utf8"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Report writes a design as plain text to read: the three readings and the
// supply first, then the findings, what holds before digging, the areas, the
// zones, the water off target, the wire and the parts. Of what is asked for on request it says what there is: without a
// field estimate, that none was made.
func Report(w io.Writer, p *plan.Plan, d *design.Design, asked design.Asked) error {
	r := newReporter(p, d, asked)
	r.head()
	r.readings()
	r.findings()
	r.digging()
	r.areas()
	r.scheduling()
	r.zones()
	r.offTarget()
	r.wires()
	r.parts()
	if _, err := w.Write(r.out.Bytes()); err != nil {
		return fmt.Errorf("sheets: writing the report: %w", err)
	}
	return nil
}

// textWidth is how wide the sentences of the report run, in characters.
const textWidth = 92

// reporter writes the sections of one report.
type reporter struct {
	p       *plan.Plan
	d       *design.Design
	sys     units.System
	field   map[plan.ID]coverage.Estimate
	windows []coverage.Scheduling
	windy   *design.WindyDay
	out     bytes.Buffer
}

func newReporter(p *plan.Plan, d *design.Design, asked design.Asked) *reporter {
	return &reporter{p: p, d: d, sys: p.Show, windows: asked.Windows, windy: asked.Windy, field: ByArea(asked.Estimate)}
}

// ByArea is a field estimate by area.
func ByArea(e design.FieldEstimate) map[plan.ID]coverage.Estimate {
	out := map[plan.ID]coverage.Estimate{}
	for _, a := range e.Areas {
		out[a.ID] = a
	}
	return out
}

// line prints one line. Names are the user's: a control character in one must
// not reach the terminal.
func (r *reporter) line(format string, args ...any) {
	text := strings.Map(func(c rune) rune {
		if unicode.IsControl(c) && c != '\n' {
			return unicode.ReplacementChar
		}
		return c
	}, fmt.Sprintf(format, args...))
	r.out.WriteString(strings.TrimRight(text, " "))
	r.out.WriteByte('\n')
}

// section begins a part of the report with its title.
func (r *reporter) section(title string) { r.line("\n%s", strings.ToUpper(title)) }

// table prints rows in columns, two spaces in. The first row names the columns.
// It writes to a buffer, which takes everything, so no error is lost.
func (r *reporter) table(rows [][]string) {
	var text bytes.Buffer
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = strings.Join(strings.Fields(cell), " ") // a tab would be a column
		}
		_, _ = fmt.Fprintln(w, "  "+strings.Join(cells, "\t"))
	}
	_ = w.Flush()
	for line := range strings.Lines(text.String()) {
		r.line("%s", strings.TrimRight(line, "\n"))
	}
}

// wrap prints a sentence with every line indented.
func (r *reporter) wrap(indent, s string) {
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(indent+line)+1+utf8.RuneCountInString(word) > textWidth {
			r.line("%s%s", indent, line)
			line = ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	r.line("%s%s", indent, line)
}

func (r *reporter) head() {
	name := r.p.Name
	if name == "" {
		name = "Plan without a name"
	}
	r.line("%s", strings.ReplaceAll(name, "\n", " "))
	r.line("Layout figures are for calm air and ideal nozzles at planned pressures; what a yard shows")
	r.line("later is nearer to the field estimate, which is the layout set out with small errors.")
	r.supplyNote(&r.d.Pressure.Supply)
}

// rankWords head the findings of a rank.
var rankWords = map[plan.Rank]string{plan.Stop: "STOP", plan.Mend: "MEND", plan.Notice: "note"}

func (r *reporter) findings() {
	r.section("Findings")
	if len(r.d.Findings) == 0 {
		r.line("  None.")
	}
	for cases := range Causes(r.d.Findings) {
		f := cases[0]
		count := ""
		if len(cases) > 1 {
			count = fmt.Sprintf(" (%d)", len(cases))
		}
		r.line("  %s  %s%s", rankWords[f.Rank], f.Title, count)
		for _, c := range cases {
			r.wrap("        ", c.Sentence)
			if c.Accepted != nil {
				r.wrap("        ", AcceptedWords(c.Accepted))
			}
		}
		if f.Accepted == nil && f.Rank != plan.Notice {
			r.wrap("        ", "Do: "+f.Do)
			r.wrap("        ", "Rule: "+f.Source)
		}
	}
}

// Causes are runs of findings of one cause, as they are sorted: what to do about
// them is said once.
func Causes(findings []plan.Finding) iter.Seq[[]plan.Finding] {
	return func(yield func([]plan.Finding) bool) {
		for len(findings) > 0 {
			n := 1
			for n < len(findings) && sameCause(findings[0], findings[n]) {
				n++
			}
			if !yield(findings[:n]) {
				return
			}
			findings = findings[n:]
		}
	}
}

// AcceptedWords says when, by whom and why a finding was accepted.
func AcceptedWords(a *plan.Accepted) string {
	by := ""
	if a.By != "" {
		by = " by " + a.By
	}
	return fmt.Sprintf("Accepted%s on %s: %s", by, a.On, a.Reason)
}

func sameCause(a, b plan.Finding) bool {
	return a.Code == b.Code && a.Rank == b.Rank && a.Title == b.Title && a.Do == b.Do && (a.Accepted == nil) == (b.Accepted == nil)
}

// digging says what holds before any digging, and what was asked for.
func (r *reporter) digging() {
	r.section("Before digging")
	r.wrap("  ", BeforeDigging(r.p))
}

// BeforeDigging is the caution that stands before any digging, with the plan's locate
// request.
func BeforeDigging(p *plan.Plan) string {
	asked := "No locate request is noted yet."
	switch on, ticket := p.Site.LocateOn, p.Site.LocateTicket; {
	case on != "" && ticket != "":
		asked = fmt.Sprintf("Asked for on %s, ticket %s.", on, ticket)
	case on != "":
		asked = fmt.Sprintf("Asked for on %s.", on)
	case ticket != "":
		asked = fmt.Sprintf("Asked for, ticket %s.", ticket)
	}
	return "Have every utility line marked: call two to three working days ahead; private lines are yours to find; local law decides. " + asked
}
