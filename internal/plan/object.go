package plan

import (
	"bytes"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// member is one member of a JSON object, its value as text.
type member struct {
	name  string
	value []byte
}

// loose leaves duplicate names and bad UTF-8 to the strict reading that follows
// every merge, and so does not look for them twice.
var loose = json.JoinOptions(jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))

// members returns the members of a JSON object in the order of the text. The
// values alias the text.
func members(text []byte) ([]member, error) {
	dec := jsontext.NewDecoder(bytes.NewBuffer(text), loose)
	var list []member
	if _, err := dec.ReadToken(); err != nil {
		return nil, structural(text, err)
	}
	for dec.PeekKind() == '"' {
		name, err := dec.ReadToken()
		if err != nil {
			return nil, structural(text, err)
		}
		m := member{name: name.String()}
		v, err := dec.ReadValue()
		if err != nil {
			return nil, structural(text, err)
		}
		end := int(dec.InputOffset())
		m.value = text[end-len(v) : end : end]
		list = append(list, m)
	}
	if _, err := dec.ReadToken(); err != nil {
		return nil, structural(text, err)
	}
	return list, nil
}

// index returns where each name stands in the list.
func index(list []member) map[string]int {
	at := make(map[string]int, len(list))
	for i, m := range list {
		at[m.name] = i
	}
	return at
}

// object writes a JSON object member by member.
type object struct {
	text []byte
}

func newObject(size int) *object {
	return &object{text: append(make([]byte, 0, size+2), '{')}
}

func (o *object) add(name string, value []byte) {
	if len(o.text) > 1 {
		o.text = append(o.text, ',')
	}
	// The name came out of a JSON text, so the only fault AppendQuote knows, bad
	// UTF-8, is told by the strict reading of what is written here.
	o.text, _ = jsontext.AppendQuote(o.text, name)
	o.text = append(append(o.text, ':'), value...)
}

func (o *object) done() []byte { return append(o.text, '}') }
