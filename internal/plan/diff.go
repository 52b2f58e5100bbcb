package plan

import (
	"bytes"

	"github.com/go-json-experiment/json/jsontext"
)

// Diff returns the smallest patch that makes one document of another. Between
// canonical documents it is exact: applied to from it gives to, byte for byte.
// The documents are taken as JSON texts and are not read as plans.
func Diff(from, to []byte) (Patch, error) {
	patch, same, err := diff(bytes.TrimSpace(from), bytes.TrimSpace(to))
	if err != nil {
		return nil, err
	}
	if same {
		return Patch("{}"), nil
	}
	return patch, nil
}

// diff returns the merge patch from one value to another, and whether they are
// the same.
func diff(from, to []byte) (patch []byte, same bool, err error) {
	if bytes.Equal(from, to) {
		return nil, true, nil
	}
	if jsontext.Value(from).Kind() != '{' || jsontext.Value(to).Kind() != '{' {
		same, err := alike(from, to)
		return to, same, err
	}
	old, err := members(from)
	if err != nil {
		return nil, false, err
	}
	now, err := members(to)
	if err != nil {
		return nil, false, err
	}
	return diffMembers(old, now)
}

func diffMembers(old, now []member) (patch []byte, same bool, err error) {
	was, is := index(old), index(now)
	w := newObject(0)
	for _, m := range old {
		i, kept := is[m.name]
		if !kept {
			w.add(m.name, []byte("null"))
			continue
		}
		change, same, err := diff(m.value, now[i].value)
		if err != nil {
			return nil, false, err
		}
		if !same {
			w.add(m.name, change)
		}
	}
	for _, m := range now {
		if _, kept := was[m.name]; !kept {
			w.add(m.name, m.value)
		}
	}
	return w.done(), len(w.text) == len("{}"), nil
}

// alike reports whether two values are the same but for spaces.
func alike(a, b []byte) (bool, error) {
	x, y := jsontext.Value(a).Clone(), jsontext.Value(b).Clone()
	if err := x.Compact(); err != nil {
		return false, structural(a, err)
	}
	if err := y.Compact(); err != nil {
		return false, structural(b, err)
	}
	return bytes.Equal(x, y), nil
}
