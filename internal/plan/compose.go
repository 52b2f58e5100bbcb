package plan

import (
	"github.com/go-json-experiment/json/jsontext"
)

// Compose returns the one patch that does what a and then b do.
//
// Merge patches do not always compose: when a takes a thing away and b brings
// back another under the same name, the one patch must also take away what b
// does not bring. That is possible where the members are known (a head, a spot);
// where they are not (a whole collection) Compose refuses, and the two patches
// are to be applied one after the other.
func Compose(a, b Patch) (Patch, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	return compose(a, b, documentShape)
}

// compose joins two changes of a value of the given shape; a is present.
func compose(a, b []byte, s *shape) ([]byte, error) {
	if jsontext.Value(b).Kind() != '{' {
		return b, nil
	}
	if jsontext.Value(a).Kind() != '{' {
		return replacing(b, s)
	}
	first, err := members(a)
	if err != nil {
		return nil, err
	}
	second, err := members(b)
	if err != nil {
		return nil, err
	}
	w := newObject(len(a) + len(b))
	then := index(second)
	for _, m := range first {
		i, both := then[m.name]
		if !both {
			w.add(m.name, m.value)
			continue
		}
		delete(then, m.name)
		joined, err := compose(m.value, second[i].value, s.at(m.name))
		if err != nil {
			return nil, err
		}
		w.add(m.name, joined)
	}
	for _, m := range second {
		if _, left := then[m.name]; left {
			w.add(m.name, m.value)
		}
	}
	return w.done(), nil
}

// replacing returns the change that leaves exactly the object b, whatever was there
// before: b with a null for every member it does not have.
func replacing(b []byte, s *shape) ([]byte, error) {
	if s == nil || s.names == nil {
		return nil, problem("", "These two changes cannot be joined: the first removes a whole collection and the second fills it again. Apply them one after the other.")
	}
	given, err := members(b)
	if err != nil {
		return nil, err
	}
	w := newObject(len(b))
	at := index(given)
	for _, m := range given {
		v := m.value
		if jsontext.Value(v).Kind() == '{' {
			if v, err = replacing(v, s.at(m.name)); err != nil {
				return nil, err
			}
		}
		w.add(m.name, v)
	}
	for _, name := range s.names {
		if _, has := at[name]; !has {
			w.add(name, []byte("null"))
		}
	}
	return w.done(), nil
}
