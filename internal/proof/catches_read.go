package proof

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// CatchesHeader says what a file of catches looks like.
const CatchesHeader = "The columns of a file of catches are can (its number or id) and catch_ml, or depth_in or depth_mm of cans marked so; besides may come x_ft and y_ft (or x_m and y_m) of cans that are not set out yet, and note. Without a line of names it is the number of the can and its catch, or the catches alone in the order that the cans are walked"

// CatchesRead is what came of reading a file of catches into an audit.
type CatchesRead struct {
	Says   string             // what was read, or that nothing was
	Read   int                // catches
	Errors []catalog.RowError // while there are any, there is no patch
	Notes  []string           // what was passed over
	Patch  plan.Patch         // writes the catches; nil where there are mistakes or nothing changes
	Label  string             // of that step
}

// mostTold are the mistakes of a file that are told. Chosen.
const mostTold = 50

// The columns of a file of catches by the names they may have; see catchFile.column.
var catchColumns = map[string]string{
	"can": "can", "number": "can", "no": "can", "nr": "can", "id": "can",
	"catch_ml": "catch_ml", "catch": "catch_ml", "ml": "catch_ml", "volume": "catch_ml", "volume_ml": "catch_ml", "catch_cc": "catch_ml", "cc": "catch_ml",
	"depth_in": "depth_in", "in": "depth_in", "catch_in": "depth_in", "depth_mm": "depth_mm", "mm": "depth_mm", "catch_mm": "depth_mm",
	"x_ft": "x_ft", "y_ft": "y_ft", "x_m": "x_m", "y_m": "y_m", "note": "note", "notes": "note",
}

// byUnits is a column whose unit is the plan's where its name does not say it; "" another.
func byUnits(name string, show units.System) string {
	us, metric := map[string]string{"depth": "depth_in", "x": "x_ft", "y": "y_ft"}, map[string]string{"depth": "depth_mm", "x": "x_m", "y": "y_m"}
	if show == units.Metric {
		return metric[name]
	}
	return us[name]
}

// ReadCatches reads a file of catches into an audit: text in UTF-8, columns separated by
// commas, semicolons or tabs (see CatchesHeader). The error is that of an audit the plan
// does not hold; mistakes of the file are among the answer.
func ReadCatches(p *plan.Plan, id plan.ID, r io.Reader) (*CatchesRead, error) {
	a, there := p.Proof.Audits[id]
	if !there {
		return nil, fmt.Errorf("the plan has no audit %q to read catches into", id)
	}
	f := &catchFile{p: p, a: a, cans: maps.Clone(a.Cans), order: CansInOrder(p, a)}
	if f.cans == nil {
		f.cans = map[plan.ID]plan.CatchCan{}
	}
	lines, err := catalog.TableLines(r, catalog.TableForm{Comment: '#', MostRows: plan.MaxCans, Separator: f.separator})
	var row *catalog.RowError
	switch {
	case errors.As(err, &row):
		f.out.Errors = append(f.out.Errors, *row)
	case err != nil:
		f.out.Errors = append(f.out.Errors, catalog.RowError{Sentence: plan.Capital(err.Error()) + "."})
	case len(lines) == 0:
		f.wrong(0, "", "The file is empty. %s.", CatchesHeader)
	default:
		f.lines(lines)
	}
	f.finish(id)
	return &f.out, nil
}

// catchFile is a file of catches while it is read.
type catchFile struct {
	p     *plan.Plan
	a     plan.Audit
	out   CatchesRead
	comma rune
	order []plan.ID // cans as they are walked
	cans  map[plan.ID]plan.CatchCan
	seen  map[plan.ID]int // the line each can was in
	scale string          // that catches were given in: ByVolume or ByDepth
}

func (f *catchFile) wrong(line int, column, format string, args ...any) {
	if len(f.out.Errors) < mostTold {
		f.out.Errors = append(f.out.Errors, catalog.RowError{Line: line, Column: column, Sentence: fmt.Sprintf(format, args...)})
	}
}

// separator is what parts the first line into most fields.
func (f *catchFile) separator(text []byte) rune {
	head := []byte{}
	for line := range bytes.Lines(text) {
		if head = bytes.TrimSpace(line); len(head) > 0 && head[0] != '#' {
			break
		}
	}
	f.comma = ','
	for _, mark := range []rune{';', '\t'} {
		if bytes.ContainsRune(head, mark) {
			f.comma = mark
		}
	}
	return f.comma
}

// lines reads all lines, by their names or without.
func (f *catchFile) lines(lines []catalog.TableLine) {
	f.seen = map[plan.ID]int{}
	head := make([]string, len(lines[0].Fields))
	named := false
	for i, field := range lines[0].Fields {
		head[i] = f.column(field)
		named = named || head[i] != ""
	}
	body := lines
	switch {
	case named:
		body = lines[1:]
		for i, h := range head {
			if h == "" && strings.TrimSpace(lines[0].Fields[i]) != "" {
				f.out.Notes = append(f.out.Notes, fmt.Sprintf("The column %s is passed over.", catalog.Shown(lines[0].Fields[i])))
			}
			if h != "" && slices.Contains(head[:i], h) {
				f.wrong(lines[0].Number, h, "Two columns are taken for %s. Keep one.", h)
			}
		}
	case f.a.Scale == ByDepth:
		head = []string{"can", byUnits("depth", f.p.Show), "note"}
	default:
		head = []string{"can", "catch_ml", "note"}
	}
	if !named && !slices.ContainsFunc(lines, func(l catalog.TableLine) bool { return len(l.Fields) > 1 }) {
		head = head[1:2] // catches alone
	}
	if !slices.ContainsFunc(head, func(h string) bool { return h == "catch_ml" || h == "depth_in" || h == "depth_mm" }) {
		f.wrong(lines[0].Number, "", "No column has the catches. %s.", CatchesHeader)
	}
	if len(f.out.Errors) > 0 {
		return
	}
	for n, l := range body {
		f.line(head, l, n)
	}
}

// column is what a column has by its name, whose brackets may have its unit: "Depth (mm)".
// One in a unit that is not known is none, rather than one in another.
func (f *catchFile) column(field string) string {
	name, inBrackets, _ := strings.Cut(field, "(")
	name, unit := columnName(name), columnName(strings.TrimSuffix(strings.TrimSpace(inBrackets), ")"))
	switch whole := catchColumns[name+"_"+unit]; {
	case unit != "" && whole != "":
		return whole
	case unit == "" && byUnits(name, f.p.Show) != "":
		return byUnits(name, f.p.Show)
	case unit == "" || catchColumns[name] == "can" || catchColumns[name] == "note" || catchColumns[name] == "catch_ml" && unit == "ml":
		return catchColumns[name]
	}
	return ""
}

// columnName is a name without case and with its words joined.
func columnName(field string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("-", " ", "_", " ", ".", " ").Replace(strings.ToLower(field))), "_")
}

// finish makes the patch, if nothing was wrong.
func (f *catchFile) finish(id plan.ID) {
	if len(f.out.Errors) == 0 && f.out.Read == 0 {
		f.wrong(0, "", "The file has no catch. %s.", CatchesHeader)
	}
	if len(f.out.Errors) == 0 {
		next := *f.p
		next.Proof.Audits = maps.Clone(f.p.Proof.Audits)
		a := f.a
		a.Cans = f.cans
		if f.scale == ByDepth {
			a.Scale = ByDepth
		} else if a.Scale == ByDepth {
			a.Scale = ""
		}
		next.Proof.Audits[id] = a
		if err := next.Validate(); err != nil {
			f.wrong(0, "", "%s", err)
		} else if f.out.Patch, err = plan.Diff(f.p.Encode(), next.Encode()); err != nil {
			f.wrong(0, "", "%s.", plan.Capital(err.Error()))
		}
	}
	if n := len(f.out.Errors); n > 0 {
		f.out.Patch = nil
		f.out.Says = fmt.Sprintf("Nothing was read: %s.", plan.Plural(n, "mistake in the file", "mistakes in the file"))
		return
	}
	f.out.Label = fmt.Sprintf("Read %s into %s", plan.Plural(f.out.Read, "catch", "catches"), auditName(f.p, &catches{Audit: f.a}))
	f.out.Says = fmt.Sprintf("%s read for %s.", plan.Plural(f.out.Read, "catch", "catches"), plan.Plural(len(f.cans), "can", "cans"))
	if string(f.out.Patch) == "{}" {
		f.out.Patch = nil
		f.out.Says = "The audit has these catches already."
	}
}
