package plan

import (
	"reflect"
	"strings"

	"evenfall/internal/geom"
)

// shape is the tree of the document's members, as far as objects go.
type shape struct {
	names []string          // of the members, in order; nil for a collection
	under map[string]*shape // of the members that are objects
	each  *shape            // of the things of a collection, or the entries of a list
}

// documentShape is the shape of a Plan.
var documentShape = shapeOf(reflect.TypeFor[Plan]())

// at returns the shape of a member, nil when it is not an object.
func (s *shape) at(name string) *shape {
	if s == nil {
		return nil
	}
	if s.each != nil {
		return s.each
	}
	return s.under[name]
}

// shapeOf returns the shape of a type, nil when it is not written as an object.
func shapeOf(t reflect.Type) *shape {
	switch t.Kind() {
	case reflect.Pointer:
		return shapeOf(t.Elem())
	case reflect.Map:
		return &shape{each: shapeOf(t.Elem())}
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Struct && t.Elem() != reflect.TypeFor[geom.Vertex]() {
			return &shape{each: shapeOf(t.Elem())}
		}
	case reflect.Struct:
		s := &shape{under: map[string]*shape{}}
		for i := range t.NumField() {
			name := memberName(t.Field(i))
			s.names = append(s.names, name)
			if u := shapeOf(t.Field(i).Type); u != nil {
				s.under[name] = u
			}
		}
		return s
	}
	return nil
}

// memberName returns the JSON name of a field.
func memberName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name
}
