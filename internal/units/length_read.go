package units

import (
	"strings"
	"unicode"
)

// oneWriting maps what keyboards and word processors make of the marks to one.
var oneWriting = strings.NewReplacer(
	"′", "'", "’", "'", "‘", "'", "´", "'",
	"″", `"`, "”", `"`, "“", `"`, "''", `"`, "′′", `"`, "’’", `"`,
	"−", "-", "–", "-", "\u00a0", " ", "\u2009", " ", "\u202f", " ",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4",
)

const longestLength = 64 // characters

// lengthReader walks over a typed length.
type lengthReader struct {
	typed string
	rest  string
	sys   System
}

// parseSum reads terms joined by + and -.
func parseSum(s string, sys System) (Feet, error) {
	if len(s) > longestLength {
		return 0, refuse(s, "%s is too long for a length.", quote(s))
	}
	r := &lengthReader{typed: s, rest: strings.TrimSpace(oneWriting.Replace(s)), sys: sys}
	if r.rest == "" {
		return 0, refuse(s, "Nothing is written here. Write a length, such as %s.", r.example())
	}
	sum, sign := Feet(0), Feet(1)
	if r.take("-") {
		sign = -1
	} else {
		r.take("+")
	}
	for {
		term, err := r.term()
		if err != nil {
			return 0, err
		}
		sum += sign * term
		if r.rest == "" {
			return sum, nil
		}
		if sign, err = r.joint(); err != nil {
			return 0, err
		}
	}
}

func (r *lengthReader) example() string {
	if r.sys == Metric {
		return "4.7 or 4.7 m"
	}
	return `15.5 or 15' 6"`
}

func (r *lengthReader) take(mark string) bool {
	rest, ok := strings.CutPrefix(r.rest, mark)
	if ok {
		r.rest = strings.TrimLeft(rest, " ")
	}
	return ok
}

// joint reads the sign between two terms.
func (r *lengthReader) joint() (Feet, error) {
	trimmed := strings.TrimLeft(r.rest, " ")
	spaced := len(trimmed) < len(r.rest)
	switch {
	case strings.HasPrefix(trimmed, "+"):
		r.rest = strings.TrimLeft(trimmed[1:], " ")
		return 1, nil
	case strings.HasPrefix(trimmed, "-"):
		if !spaced || !strings.HasPrefix(trimmed, "- ") {
			return 0, refuse(r.typed, `%s can be read in two ways. Write 15' 6" for feet and inches, or put a space on each side of the minus to subtract.`, quote(r.typed))
		}
		r.rest = strings.TrimLeft(trimmed[1:], " ")
		return -1, nil
	}
	return 0, r.unread()
}

// unread says what stopped the reading.
func (r *lengthReader) unread() error {
	switch {
	case strings.Contains(r.typed, ","):
		return refuse(r.typed, "%s has a comma. Write a point for decimals, such as 12.5.", quote(r.typed))
	default:
		return refuse(r.typed, "%s is not a length. Write it as %s.", quote(r.typed), r.example())
	}
}

// term reads numbers with units that fall in size: 15 ft 6 1/2 in, 4 m 70 cm.
func (r *lengthReader) term() (Feet, error) {
	sum, before := Feet(0), measure{}
	for first := true; first || r.atNumber(); first = false {
		n, err := r.number()
		if err != nil {
			return 0, err
		}
		m, err := r.unit(before)
		if err != nil {
			return 0, err
		}
		part := Feet(n) * m.feet
		if before != (measure{}) && part >= before.feet {
			return 0, refuse(r.typed, "%s has a part that makes up a whole of the unit before it, such as 14 inches after feet. Check it.", quote(r.typed))
		}
		sum, before = sum+part, m
		if m.bare {
			break
		}
	}
	return sum, nil
}

func (r *lengthReader) atNumber() bool {
	t := strings.TrimLeft(r.rest, " ")
	return t != "" && (t[0] == '.' || digits(t) > 0)
}

// number reads 15, 15.5, 1/2 or 6 1/2.
func (r *lengthReader) number() (float64, error) {
	r.rest = strings.TrimLeft(r.rest, " ")
	word := r.word()
	if word == "" {
		return 0, r.unread()
	}
	if strings.HasPrefix(r.rest, "/") {
		return r.fraction(word)
	}
	v, err := ParseNumber(word)
	if err != nil {
		return 0, r.unread()
	}
	// A whole number may be followed by a fraction: 6 1/2.
	t := strings.TrimLeft(r.rest, " ")
	top := digits(t)
	if top == 0 || len(t) == top || t[top] != '/' || len(t) == len(r.rest) {
		return v, nil
	}
	if strings.Contains(word, ".") {
		return 0, r.unread()
	}
	r.rest = t
	f, err := r.fraction(r.word())
	return v + f, err
}

// word takes digits and points off the front.
func (r *lengthReader) word() string {
	n := 0
	for n < len(r.rest) && (r.rest[n] == '.' || r.rest[n] >= '0' && r.rest[n] <= '9') {
		n++
	}
	w := r.rest[:n]
	r.rest = r.rest[n:]
	return w
}

func (r *lengthReader) fraction(top string) (float64, error) {
	r.rest = strings.TrimPrefix(r.rest, "/")
	bottom := r.word()
	if digits(top) != len(top) || digits(bottom) != len(bottom) {
		return 0, r.unread()
	}
	a, err := ParseNumber(top)
	if err != nil {
		return 0, r.unread()
	}
	b, err := ParseNumber(bottom)
	if err != nil || b == 0 {
		return 0, r.unread()
	}
	return a / b, nil
}

// measure is a written unit of length. Within one term units must be of one family and
// fall in size.
type measure struct {
	feet Feet // one of it, in feet
	us   bool
	bare bool // no unit was written
}

var measures = map[string]measure{
	"yd": {feet: 3, us: true},
	"'":  {feet: 1, us: true}, "ft": {feet: 1, us: true}, "foot": {feet: 1, us: true}, "feet": {feet: 1, us: true},
	`"`: {feet: 1. / 12, us: true}, "in": {feet: 1. / 12, us: true}, "inch": {feet: 1. / 12, us: true}, "inches": {feet: 1. / 12, us: true},
	"m": {feet: 1 / MetresPerFoot}, "metre": {feet: 1 / MetresPerFoot}, "metres": {feet: 1 / MetresPerFoot}, "meter": {feet: 1 / MetresPerFoot}, "meters": {feet: 1 / MetresPerFoot},
	"cm": {feet: .01 / MetresPerFoot}, "mm": {feet: .001 / MetresPerFoot},
}

// unit reads the unit after a number; before is the one already read in the
// same term. After feet a bare number is inches; a bare number alone is in the
// system's unit.
func (r *lengthReader) unit(before measure) (measure, error) {
	word := r.unitWord()
	if word == "" {
		switch {
		case before == measure{} && r.sys == Metric:
			return measure{feet: 1 / MetresPerFoot, bare: true}, nil
		case before == measure{}:
			return measure{feet: 1, us: true, bare: true}, nil
		case before == measures["'"]:
			return measure{feet: 1. / 12, us: true, bare: true}, nil
		}
		return measure{}, r.unread()
	}
	m, ok := measures[word]
	if !ok || (before != measure{} && (before.us != m.us || before.feet <= m.feet)) {
		return measure{}, r.unread()
	}
	return m, nil
}

func (r *lengthReader) unitWord() string {
	t := strings.TrimLeft(r.rest, " ")
	if t != "" && (t[0] == '\'' || t[0] == '"') {
		r.rest = t[1:]
		return t[:1]
	}
	n := strings.IndexFunc(t, func(c rune) bool { return !unicode.IsLetter(c) })
	if n < 0 {
		n = len(t)
	}
	if n == 0 {
		return ""
	}
	word := strings.ToLower(t[:n])
	r.rest = strings.TrimPrefix(t[n:], ".")
	return word
}
