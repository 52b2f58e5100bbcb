package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Refusal is a text that could not be read as a quantity. Its message is a
// sentence for the person who typed it.
type Refusal struct {
	Typed    string // as typed
	Sentence string // what is wrong and what to write
}

// Error returns the sentence.
func (r *Refusal) Error() string { return r.Sentence }

func refuse(typed, format string, a ...any) error {
	return &Refusal{Typed: typed, Sentence: fmt.Sprintf(format, a...)}
}

// Bounds of ParseNumber. Chosen: far outside any quantity of the trade.
const (
	longestNumber  = 40 // characters
	greatestNumber = 1e12
)

// ParseNumber reads one plain decimal number: a sign, digits, a point, and an
// exponent as spreadsheets write one (1.5E-3). It is the only reader of numbers
// in the program. A comma, hexadecimal, an underscore, a word such as NaN or
// Inf, and anything beyond 1e12 are refused with a *Refusal.
func ParseNumber(s string) (float64, error) {
	t := strings.TrimSpace(s)
	if err := checkNumber(s, t); err != nil {
		return 0, err
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > greatestNumber {
		return 0, refuse(s, "%s is too large. Check the number.", quote(t))
	}
	return v + 0, nil // + 0: no negative zero
}

func checkNumber(s, t string) error {
	switch {
	case t == "":
		return refuse(s, "Nothing is written here. Write a number, such as 12.5.")
	case len(t) > longestNumber:
		return refuse(s, "%s is too long for a number.", quote(t))
	case strings.Contains(t, ","):
		return refuse(s, "%s has a comma. Write a point for decimals and nothing between thousands, such as 1250.5.", quote(t))
	case !isNumber(t):
		return refuse(s, "%s is not a number. Write digits with a point, such as 12.5.", quote(t))
	}
	return nil
}

// isNumber reports whether t is [+-] digits [. digits] [e [+-] digits], with a
// digit on at least one side of the point.
func isNumber(t string) bool {
	t = strings.TrimLeft(t[:1], "+-") + t[1:]
	whole := digits(t)
	rest, fraction := t[whole:], 0
	if strings.HasPrefix(rest, ".") {
		fraction = digits(rest[1:])
		rest = rest[1+fraction:]
	}
	if whole+fraction == 0 {
		return false
	}
	if rest == "" {
		return true
	}
	if rest[0] != 'e' && rest[0] != 'E' {
		return false
	}
	rest = rest[1:]
	if rest != "" && (rest[0] == '+' || rest[0] == '-') {
		rest = rest[1:]
	}
	return rest != "" && digits(rest) == len(rest)
}

// digits is how many ASCII digits s begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// quote shows a text as typed, cut short when long.
func quote(s string) string {
	r := []rune(s)
	if len(r) > 24 {
		return "“" + string(r[:24]) + "…”"
	}
	return "“" + s + "”"
}
