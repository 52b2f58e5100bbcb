package plan

import (
	"bytes"
	"io"

	"github.com/go-json-experiment/json/jsontext"
)

// check refuses a patch that is not an object, holds a null within an array
// (where RFC 7396 keeps it, and a plan has none), or goes past the limits.
func (p Patch) check() error {
	if fault := survey(p, true); fault != nil {
		return fault
	}
	if jsontext.Value(p).Kind() != '{' {
		return problem("", "A change must be a JSON object of the members that change.")
	}
	dec := jsontext.NewDecoder(bytes.NewBuffer(p))
	arrays := 0
	for {
		tok, err := dec.ReadToken()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return structural(p, err)
		}
		switch tok.Kind() {
		case '[':
			arrays++
		case ']':
			arrays--
		case 'n':
			if arrays > 0 {
				at := string(dec.StackPointer())
				return problem(at, "The change has a null in a list, at %s. A list is sent whole: leave the value out.", place(at))
			}
		}
	}
}
