package plan

import (
	"reflect"
	"strings"
	"sync"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/geom"
)

// Schema returns the JSON Schema (draft 2020-12) of the document. It is made
// from the types and the ranges that Decode itself uses. It says what a document
// looks like, not that its references lead somewhere or its outlines are sound;
// and it has no empty words, which Decode takes for words left out.
func Schema() []byte { return schemaText() }

var schemaText = sync.OnceValue(func() []byte {
	m := schemaMaker{defs: map[string]*schemaNode{}}
	root := m.object(reflect.TypeFor[Plan]())
	root.Dialect = "https://json-schema.org/draft/2020-12/schema"
	root.ID = "urn:evenfall:plan:1"
	root.Title = "Evenfall plan"
	root.Description = "One property and its sprinkler system, format " + Format + ". Lengths are feet on a local plane, x east and y north; angles are degrees anticlockwise from east. Collections are keyed by id."
	root.Defs = m.defs
	text, err := json.Marshal(root, json.Deterministic(true), jsontext.WithIndent("  "))
	if err != nil {
		panic("plan: " + err.Error())
	}
	return append(text, '\n')
})

// schemaNode is the part of JSON Schema that the document needs.
type schemaNode struct {
	Dialect     string `json:"$schema,omitzero"`
	ID          string `json:"$id,omitzero"`
	Title       string `json:"title,omitzero"`
	Description string `json:"description,omitzero"`
	Reference   string `json:"$ref,omitzero"`
	Type        string `json:"type,omitzero"`
	Const       string `json:"const,omitzero"`
	Enum        words  `json:"enum,omitempty"`
	Default     any    `json:"default,omitzero"`

	Minimum          *float64 `json:"minimum,omitempty"`
	ExclusiveMinimum *float64 `json:"exclusiveMinimum,omitempty"`
	Maximum          *float64 `json:"maximum,omitempty"`
	ExclusiveMaximum *float64 `json:"exclusiveMaximum,omitempty"`
	MaxLength        int      `json:"maxLength,omitzero"`
	MinLength        int      `json:"minLength,omitzero"`
	Pattern          string   `json:"pattern,omitzero"`

	PrefixItems []*schemaNode `json:"prefixItems,omitempty"`
	Items       any           `json:"items,omitempty"`
	MinItems    int           `json:"minItems,omitzero"`
	MaxItems    int           `json:"maxItems,omitzero"`
	UniqueItems bool          `json:"uniqueItems,omitzero"`

	Properties    jsontext.Value `json:"properties,omitempty"`
	Required      []string       `json:"required,omitempty"`
	Additional    any            `json:"additionalProperties,omitempty"`
	PropertyNames *schemaNode    `json:"propertyNames,omitempty"`
	MaxProperties int            `json:"maxProperties,omitzero"`

	Defs map[string]*schemaNode `json:"$defs,omitempty"`
}

// schemaMaker makes nodes of types; the types of objects go to defs by name.
type schemaMaker struct {
	defs map[string]*schemaNode
}

// of returns the node of a type.
func (m schemaMaker) of(t reflect.Type) *schemaNode {
	switch t {
	case reflect.TypeFor[geom.Vertex]():
		return m.named("Corner", cornerSchema)
	case reflect.TypeFor[ID]():
		return &schemaNode{Type: "string", Pattern: idPattern}
	case reflect.TypeFor[Ref]():
		return &schemaNode{Type: "string", Pattern: refPattern()}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return m.of(t.Elem())
	case reflect.Struct:
		return m.named(t.Name(), func() *schemaNode { return m.object(t) })
	case reflect.Map:
		return &schemaNode{
			Type: "object", Additional: m.of(t.Elem()), MaxProperties: MaxObjects,
			PropertyNames: &schemaNode{Pattern: idPattern},
		}
	case reflect.Slice:
		return m.list(t)
	case reflect.String:
		return &schemaNode{Type: "string", MaxLength: MaxText}
	case reflect.Bool:
		return &schemaNode{Type: "boolean"}
	case reflect.Int:
		return &schemaNode{Type: "integer"}
	}
	return &schemaNode{Type: "number"}
}

// named puts a node among defs once and returns a reference to it.
func (m schemaMaker) named(name string, make func() *schemaNode) *schemaNode {
	if m.defs[name] == nil {
		m.defs[name] = make()
	}
	return &schemaNode{Reference: "#/$defs/" + name}
}

func (m schemaMaker) list(t reflect.Type) *schemaNode {
	n := &schemaNode{Type: "array", Items: m.of(t.Elem())}
	if t.Elem() == reflect.TypeFor[geom.Vertex]() {
		n.MinItems, n.MaxItems = 1, geom.MaxCorners
		if t == reflect.TypeFor[geom.Outline]() {
			n.MinItems = 2 // two are enough where an arc closes the figure
		}
	}
	return n
}

// object returns the node of a struct with a property for each member.
func (m schemaMaker) object(t reflect.Type) *schemaNode {
	n := &schemaNode{Type: "object", Additional: false}
	properties := newObject(1024)
	for i := range t.NumField() {
		f := t.Field(i)
		name := memberName(f)
		p := m.of(f.Type)
		e, _ := entryOf(t.Name(), name) // a test holds the tables complete
		p.Description = e.says
		e.limit.on(p)
		if e.needed {
			n.Required = append(n.Required, name)
		} else if p.Pattern == idPattern {
			p.Pattern = optionalIDPattern
		}
		text, err := json.Marshal(p, json.Deterministic(true))
		if err != nil {
			panic("plan: " + err.Error())
		}
		properties.add(name, text)
	}
	n.Properties = properties.done()
	return n
}

// The patterns mean the same to ECMA-262 and to Go.
const (
	idPattern         = `^[A-Za-z][A-Za-z0-9_-]{0,39}$`
	optionalIDPattern = `^([A-Za-z][A-Za-z0-9_-]{0,39})?$`
	linePattern       = `^[^\x00-\x1f\x7f-\x9f]*$`
	prosePattern      = `^[^\x00-\x08\x0b-\x1f\x7f-\x9f]*$`
	datePattern       = `^([0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01]))?$`
	timePattern       = `^(([01][0-9]|2[0-3]):[0-5][0-9])?$`
	digestPattern     = `^[0-9a-f]{64}$`
)

func refPattern() string {
	var collections []string
	for _, name := range documentShape.names {
		if s := documentShape.at(name); s != nil {
			collections = append(collections, name)
		}
	}
	return `^(` + strings.Join(collections, "|") + `|proof/(checks|pressure_tests|wires|touches|resistances|audits|cans)|supply/statics)(/[A-Za-z][A-Za-z0-9_-]{0,39})?$`
}

// cornerSchema is a corner of an outline: x, y and the bulge of the edge that
// leaves it.
func cornerSchema() *schemaNode {
	part := func(says string, r span) *schemaNode {
		n := &schemaNode{Type: "number", Description: says}
		r.on(n)
		return n
	}
	return &schemaNode{
		Description: "A corner: [x, y] in feet, or [x, y, bulge] when the edge that leaves it is an arc.",
		Type:        "array", Items: false, MinItems: 2, MaxItems: 3,
		PrefixItems: []*schemaNode{
			part("East of the origin.", place10km),
			part("North of the origin.", place10km),
			part("Tangent of a quarter of the arc's included angle; anticlockwise when positive.", span{low: -geom.MaxBulge, high: geom.MaxBulge}),
		},
	}
}
