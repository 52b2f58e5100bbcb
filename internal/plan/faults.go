package plan

import (
	"bytes"
	"errors"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// syntactic tells where a text is not JSON, or has a member twice.
func syntactic(doc []byte, e *jsontext.SyntacticError) *Problem {
	at := string(e.JSONPointer)
	if errors.Is(e, jsontext.ErrDuplicateName) {
		parent, name := e.JSONPointer.Parent(), e.JSONPointer.LastToken()
		return problem(at, "%s has %s twice. Keep one of them.", where(doc, string(parent)), quoted(name))
	}
	line, column := lineAt(doc, int(e.ByteOffset))
	cause := e.Err.Error()
	switch {
	case errors.Is(e, io.ErrUnexpectedEOF):
		return problem(at, "The text ends too early, at line %d, column %d: part of it is missing. Get a whole copy of the file.", line, column)
	case !utf8.Valid(doc), strings.Contains(cause, "surrogate"):
		return problem(at, "There is something that is not UTF-8 text at line %d, column %d. Save the file as UTF-8.", line, column)
	case strings.Contains(cause, "control character"):
		return problem(at, "There is a control character in the text at line %d, column %d. Take it out.", line, column)
	}
	return problem(at, "The text is not JSON from line %d, column %d on. Mend it there, or get a fresh copy of the file.", line, column)
}

// lineAt returns the line and column of a byte, from 1. Columns count characters.
func lineAt(text []byte, at int) (line, column int) {
	before := text[:min(max(at, 0), len(text))]
	line = 1 + bytes.Count(before, []byte{'\n'})
	return line, 1 + utf8.RuneCount(before[1+bytes.LastIndexByte(before, '\n'):])
}

// semantic tells what is wrong with a value that is JSON but not the format's.
func semantic(doc []byte, e *json.SemanticError) *Problem {
	at := string(e.JSONPointer)
	switch {
	case errors.Is(e, json.ErrUnknownName):
		return unknown(doc, e)
	case errors.Is(e, errCorner):
		return problem(at, "%s is not a corner. A corner is [x, y] in feet, or [x, y, bulge] when an arc leaves it.", where(doc, at))
	case e.JSONKind == '0' && isNumber(e.GoType) && !whollyWanted(e.GoType), errors.Is(e, errRange):
		return problem(at, "%s is larger than any number here may be. Correct the number.", where(doc, at))
	}
	return problem(at, "%s must be %s. Correct the value.", where(doc, at), wanted(e.GoType))
}

// unknown tells of a member that the format does not have, and of the nearest
// one that it has.
func unknown(doc []byte, e *json.SemanticError) *Problem {
	at, name := string(e.JSONPointer), e.JSONPointer.LastToken()
	owner := where(doc, string(e.JSONPointer.Parent()))
	s := documentShape
	for tok := range e.JSONPointer.Parent().Tokens() {
		s = s.at(tok)
	}
	if near := s.nearest(name); near != "" {
		return problem(at, "%s has %s, which is not a member of this format. Did you mean %q? Correct the name or take it out.", owner, quoted(name), near)
	}
	return problem(at, "%s has %s, which is not a member of this format. Take it out, or open the file with a newer Evenfall.", owner, quoted(name))
}

func isNumber(t reflect.Type) bool {
	return t != nil && t.Kind() >= reflect.Int && t.Kind() <= reflect.Float64
}

func whollyWanted(t reflect.Type) bool {
	return t != nil && t.Kind() >= reflect.Int && t.Kind() <= reflect.Uint64
}

// wanted says what kind of JSON value a type is written as.
func wanted(t reflect.Type) string {
	switch {
	case whollyWanted(t):
		return "a whole number"
	case isNumber(t):
		return "a number"
	case t == nil:
		return "of another kind"
	}
	switch t.Kind() {
	case reflect.String:
		return "a text"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice, reflect.Array:
		return "a list"
	}
	return "an object"
}

// nearest returns the member whose name is most like the given one, "" when none
// is like it: at most a third of its letters differ, or one begins the other.
func (s *shape) nearest(name string) string {
	if s == nil {
		return ""
	}
	best, least := "", len(name)/3+1
	for _, n := range s.names {
		d := editDistance(name, n)
		if len(name) > 2 && (strings.HasPrefix(n, name) || strings.HasPrefix(name, n)) {
			d = min(d, 1)
		}
		if d < least {
			best, least = n, d
		}
	}
	return best
}

// editDistance counts the letters to add, take out or change to make one name of
// another (Levenshtein 1966). Names longer than any member's are far from all.
func editDistance(a, b string) int {
	if len(a) > MaxID {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
