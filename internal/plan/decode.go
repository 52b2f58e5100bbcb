package plan

import (
	"errors"
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Decode reads a plan document strictly. What cannot be taken comes back as a
// *Problem, or *Problems when several are found at once: a text that is not
// JSON, a member the format does not know or knows twice, a value of the wrong
// kind or out of its range, a null, an id that nothing has, an outline that
// crosses itself. A document of an older format is brought up to Format first.
//
// The empty values of Show, Status, Cover, Exposure, WateringKind, BarrierKind
// and SupplyKind are filled in with their defaults; see the types. Nothing else
// is changed: the plan holds what was typed.
func Decode(doc []byte) (*Plan, error) {
	if p := survey(doc, false); p != nil {
		return nil, p
	}
	doc, err := upgraded(doc)
	if err != nil {
		return nil, err
	}
	p := new(Plan)
	err = json.Unmarshal(doc, p, json.RejectUnknownMembers(true), json.WithUnmarshalers(unmarshalers))
	if err != nil {
		return nil, structural(doc, err)
	}
	if err := p.Validate(); err != nil {
		return nil, err
	}
	p.fill()
	return p, nil
}

// structural puts an error of the JSON decoder into the user's words.
func structural(doc []byte, err error) *Problem {
	var syn *jsontext.SyntacticError
	if errors.As(err, &syn) {
		return syntactic(doc, syn)
	}
	var sem *json.SemanticError
	if errors.As(err, &sem) {
		return semantic(doc, sem)
	}
	if errors.Is(err, io.EOF) {
		return problem("", "There is nothing in this. Choose a plan file that Evenfall wrote.")
	}
	return problem("", "This cannot be read as a plan: %v. Check the program that wrote it.", err)
}
