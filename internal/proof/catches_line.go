package proof

import (
	"slices"
	"strconv"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// line reads the n-th line of catches.
func (f *catchFile) line(head []string, l catalog.TableLine, n int) {
	field := map[string]string{}
	for i, h := range head {
		if h != "" && i < len(l.Fields) {
			field[h] = strings.TrimSpace(l.Fields[i])
		}
	}
	for i := len(head); i < len(l.Fields); i++ {
		if strings.TrimSpace(l.Fields[i]) != "" {
			f.wrong(l.Number, "", "The line has more fields than there are columns: %s is left over.", catalog.Shown(l.Fields[i]))
			return
		}
	}
	if _, has := field["can"]; !has && !slices.Contains(head, "can") {
		field["can"] = strconv.Itoa(n + 1)
	}
	id, ok := f.canOf(l.Number, field)
	if !ok {
		return
	}
	if before, twice := f.seen[id]; twice {
		f.wrong(l.Number, "can", "Can %s stands in line %d already.", field["can"], before)
		return
	}
	f.seen[id] = l.Number
	can := f.cans[id]
	if note := field["note"]; note != "" {
		can.Note = note
	}
	f.catch(l.Number, field, &can)
	f.cans[id] = can
}

// canOf is the can of a line: by its id, or its number on the walk; one with a place that
// the audit does not have is set down there.
func (f *catchFile) canOf(line int, field map[string]string) (plan.ID, bool) {
	name := field["can"]
	at, placed, ok := f.placed(line, field)
	if !ok {
		return "", false
	}
	id := plan.ID(name)
	n, err := strconv.Atoi(name)
	can, there := f.cans[id]
	switch {
	case there:
	case err == nil && n >= 1 && n <= len(f.order):
		id = f.order[n-1]
		can = f.cans[id]
	case !placed:
		f.wrong(line, "can", "The audit has no can %s: it has %s. Give its place in x_ft and y_ft, and it is set down.", catalog.Shown(name), plan.Plural(len(f.order), "can", "cans"))
		return "", false
	case err == nil && n >= 1 && n <= plan.MaxCans:
		id = plan.ID("c" + name)
	}
	if placed {
		can.X, can.Y = at.X, at.Y
		f.cans[id] = can
	}
	return id, true
}

// placed is the place a line gives a can.
func (f *catchFile) placed(line int, field map[string]string) (at plan.Spot, given, ok bool) {
	ok = true
	for _, c := range []struct {
		column string
		to     *units.Feet
		by     float64
	}{{"x_ft", &at.X, 1}, {"y_ft", &at.Y, 1}, {"x_m", &at.X, 1 / units.MetresPerFoot}, {"y_m", &at.Y, 1 / units.MetresPerFoot}} {
		if field[c.column] == "" {
			continue
		}
		v, fine := f.number(line, c.column, field[c.column])
		*c.to, given, ok = units.Feet(v*c.by), true, ok && fine
	}
	return at, given, ok
}

// notRead are the ways of saying that a can was not read.
var notRead = []string{"", "-", "–", "na", "n/a", "x"}

// catch reads what a can caught.
func (f *catchFile) catch(line int, field map[string]string, can *plan.CatchCan) {
	for _, c := range []struct {
		column, scale string
		by            float64
	}{{"catch_ml", ByVolume, 1}, {"depth_in", ByDepth, 1}, {"depth_mm", ByDepth, 1 / units.MillimetresPerInch}} {
		text := field[c.column]
		if slices.Contains(notRead, strings.ToLower(text)) {
			continue
		}
		v, ok := f.number(line, c.column, text)
		switch {
		case !ok:
			return
		case v < 0:
			f.wrong(line, c.column, "A catch of %s is below nothing.", text)
			return
		case f.scale != "" && f.scale != c.scale:
			f.wrong(line, c.column, "Some catches are volumes and some are depths. Give all in one way.")
			return
		}
		f.scale = c.scale
		v *= c.by
		if c.scale == ByDepth {
			can.Depth = (*units.Inches)(&v)
		} else {
			can.ML = &v
		}
		f.out.Read++
	}
}

// number reads a figure; where columns are not separated by commas it may have one for its
// decimals.
func (f *catchFile) number(line int, column, text string) (float64, bool) {
	if f.comma != ',' {
		text = strings.ReplaceAll(text, ",", ".")
	}
	v, err := units.ParseNumber(text)
	if err != nil {
		f.wrong(line, column, "%s", err)
		return 0, false
	}
	return v, true
}
