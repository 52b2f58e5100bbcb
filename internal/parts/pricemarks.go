package parts

import (
	"fmt"
	"strings"
	"unicode"

	"evenfall/internal/catalog"
	"evenfall/internal/units"
)

// maxPrice is the largest price a plan holds.
const maxPrice = 1e8

// decimalMarks is how a file writes its decimals.
type decimalMarks struct {
	point, comma bool // it surely has a point, or a comma, for decimals somewhere
}

// marksOf looks through the prices of a file for those that can be read in one way
// only. A file with semicolons or tabs between columns may well have decimal commas;
// one with commas hardly.
func marksOf(lines []catalog.TableLine, at int, separator rune) decimalMarks {
	var m decimalMarks
	for _, l := range lines {
		if at >= len(l.Fields) {
			continue
		}
		switch mark, sure := decimalOf(figuresOf(l.Fields[at])); {
		case !sure:
		case mark == '.':
			m.point = true
		case mark == ',':
			m.comma = true
		}
	}
	if !m.point && !m.comma {
		m.comma, m.point = separator != ',', separator == ','
	}
	return m
}

// figuresOf are the digits and marks of a price, without currency and what stands
// between thousands.
func figuresOf(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '.' || r == ',' {
			return r
		}
		return -1
	}, strings.Trim(text, ".,"))
}

// decimalOf is the mark of the decimals of a figure, 0 for none, and whether it
// can be no other.
func decimalOf(s string) (mark byte, sure bool) {
	last := strings.LastIndexAny(s, ".,")
	if last < 0 {
		return 0, false
	}
	mark = s[last]
	other := byte('.' + ',' - mark)
	switch {
	case strings.Count(s, string(mark)) > 1:
		if strings.IndexByte(s, other) >= 0 {
			return 0, false // no figure at all
		}
		return other, true // it stands between thousands
	case strings.IndexByte(s, other) >= 0:
		return mark, true
	}
	whole, part := s[:last], s[last+1:]
	return mark, len(part) != 3 || len(whole) == 0 || len(whole) > 3 || whole[0] == '0'
}

// price reads one price. fault says why it cannot be read.
func (m decimalMarks) price(text string) (each float64, fault string) {
	bare, fault := withoutCurrency(text)
	if fault != "" {
		return 0, fault
	}
	mark, sure := decimalOf(bare)
	if mark != 0 && !sure {
		switch {
		case m.point && m.comma:
			return 0, fmt.Sprintf("%s can be read in two ways. Write decimals as elsewhere in the file, or more of them.", catalog.Shown(text))
		case m.point:
			mark = '.'
		default:
			mark = ','
		}
	}
	whole, part := bare, ""
	if mark != 0 {
		if i := strings.LastIndexByte(bare, mark); i >= 0 {
			whole, part = bare[:i], bare[i+1:]
		}
	}
	whole, ok := ungrouped(whole)
	if !ok || whole+part == "" {
		return 0, fmt.Sprintf("%s is not a price. Write a number, such as 12.50.", catalog.Shown(text))
	}
	v, err := units.ParseNumber(whole + "." + part)
	switch {
	case err != nil:
		return 0, fmt.Sprintf("%s is not a price. Write a number, such as 12.50.", catalog.Shown(text))
	case v > maxPrice:
		return 0, fmt.Sprintf("%s is more than a price can be here.", catalog.Shown(text))
	}
	return v, ""
}

// withoutCurrency takes off what stands about the figures: a sign or code of money
// before or behind them, blanks and apostrophes between thousands, a dash for no
// cents.
func withoutCurrency(text string) (bare, fault string) {
	s := strings.TrimSpace(text)
	begin := strings.IndexFunc(s, isFigure)
	end := strings.LastIndexFunc(s, isFigure)
	if begin < 0 {
		return "", fmt.Sprintf("%s is not a price. Write a number, such as 12.50, or leave it empty.", catalog.Shown(text))
	}
	before, after := s[:begin], s[end+1:]
	if strings.HasSuffix(before, ".") && !strings.ContainsFunc(before, unicode.IsLetter) {
		before, begin = before[:len(before)-1], begin-1 // .50
	}
	if strings.ContainsAny(before, "-−(") {
		return "", fmt.Sprintf("%s is less than nothing. A price is 0 or more.", catalog.Shown(text))
	}
	after = strings.TrimRight(strings.TrimLeft(after, ".,"), "-–—")
	if !isCurrency(before) || !isCurrency(after) {
		return "", fmt.Sprintf("%s is not a price alone. Write the number, with a currency at most, and the unit in a column of its own.", catalog.Shown(text))
	}
	var b strings.Builder
	for _, r := range s[begin : end+1] {
		switch {
		case r >= '0' && r <= '9' || r == '.' || r == ',':
			b.WriteRune(r)
		case r == '\'' || r == '’' || unicode.IsSpace(r):
		default:
			return "", fmt.Sprintf("%s is not a price. Write a number, such as 12.50.", catalog.Shown(text))
		}
	}
	return b.String(), ""
}

func isFigure(r rune) bool { return r >= '0' && r <= '9' }

// isCurrency reports whether a text is a sign of money, a code of up to three
// letters, or nothing.
func isCurrency(text string) bool {
	text = strings.Trim(text, ". \u00a0\u202f'")
	letters := 0
	for _, r := range text {
		switch {
		case unicode.Is(unicode.Sc, r):
		case unicode.IsLetter(r):
			letters++
		default:
			return false
		}
	}
	return letters <= 3
}

// ungrouped takes the marks between thousands out of a whole number; it is false
// when they do not stand between thousands.
func ungrouped(s string) (string, bool) {
	groups := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' })
	if len(groups) > 1 {
		for i, g := range groups {
			if i == 0 && len(g) > 3 || i > 0 && len(g) != 3 {
				return "", false
			}
		}
	}
	return strings.Join(groups, ""), len(groups) <= 1 || !strings.ContainsAny(s, ".") || !strings.ContainsAny(s, ",")
}
