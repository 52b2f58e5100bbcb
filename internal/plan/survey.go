package plan

import (
	"bytes"

	"github.com/go-json-experiment/json/jsontext"
)

// survey looks through a JSON text once, before anything is decoded, for what
// decoding would take too far or let pass: size, depth, number of objects and
// arrays, and null. It returns nil when there is nothing; whether the text is
// JSON at all is left to the decoder.
func survey(text []byte, nulls bool) *Problem {
	if len(text) > MaxBytes {
		return problem("", "This is larger than a plan may be: %d bytes of at most %d. Split it into several plans.", len(text), MaxBytes)
	}
	depth, braces, brackets := 0, 0, 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '"':
			i = stringEnd(text, i)
		case '{', '[':
			if text[i] == '{' {
				braces++
			} else {
				brackets++
			}
			if depth++; depth > MaxDepth {
				return problem(pointerAt(text, i), "This is nested more than %d deep, deeper than any plan. Check the program that wrote it.", MaxDepth)
			}
		case '}', ']':
			depth--
		case 'n':
			if !nulls && bytes.HasPrefix(text[i:], []byte("null")) {
				at := pointerAt(text, i)
				return problem(at, "%s is null. A plan has no nulls: give it a value or leave the member out.", where(text, at))
			}
		}
		if braces > maxBraces {
			return problem("", "This has more than %d objects, more than one plan holds. Split it into several plans.", maxBraces)
		}
		if brackets > maxBrackets {
			return problem("", "This has more than %d lists, more than one plan holds. Draw its outlines with fewer corners.", maxBrackets)
		}
	}
	return nil
}

// stringEnd returns the index of the quote that ends the string begun at i, or
// the last index of the text when none does.
func stringEnd(text []byte, i int) int {
	for i++; i < len(text); i++ {
		switch text[i] {
		case '\\':
			i++
		case '"':
			return i
		}
	}
	return len(text) - 1
}

// pointerAt returns the JSON Pointer to the value that begins at the byte. It is
// slow, and called only to tell of a fault.
func pointerAt(text []byte, at int) string {
	dec := jsontext.NewDecoder(bytes.NewBuffer(text), loose)
	for {
		if _, err := dec.ReadToken(); err != nil || dec.InputOffset() > int64(at) {
			return string(dec.StackPointer())
		}
	}
}
