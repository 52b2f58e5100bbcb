package plan

import (
	"bytes"

	"github.com/go-json-experiment/json/jsontext"
)

// Patch is a JSON Merge Patch (RFC 7396) on a plan document: a member that is
// null goes, an object is merged into, anything else replaces. Outlines are
// arrays and so are replaced whole.
type Patch []byte

// Apply changes a document by a patch and returns the changed document in
// canonical form with the patch that takes the change back exactly. The document
// must be canonical (as Encode wrote it), for the inverse to give it back byte
// for byte. What the patch would make of it is read as strictly as by Decode, and
// the pointer of a *Problem is into the changed document.
func Apply(doc []byte, p Patch) (next []byte, inverse Patch, err error) {
	changed, err := Preview(doc, p)
	if err != nil {
		return nil, nil, err
	}
	next = changed.Encode()
	inverse, err = Diff(next, doc)
	if err != nil {
		return nil, nil, err
	}
	return next, inverse, nil
}

// Preview returns the plan that a patch would make of a document: the first half
// of Apply, for a change that may never be kept.
func Preview(doc []byte, p Patch) (*Plan, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	merged, err := merge(doc, p)
	if err != nil {
		return nil, err
	}
	return Decode(merged)
}

// merge is MergePatch of RFC 7396, section 2, on texts. Members that the patch
// does not name are copied as they stand.
func merge(target, patch []byte) ([]byte, error) {
	if jsontext.Value(patch).Kind() != '{' {
		return bytes.TrimSpace(patch), nil
	}
	changes, err := members(patch)
	if err != nil {
		return nil, err
	}
	var old []member
	if jsontext.Value(target).Kind() == '{' {
		if old, err = members(target); err != nil {
			return nil, err
		}
	}
	w := newObject(len(target) + len(patch))
	at := index(changes)
	for _, m := range old {
		i, named := at[m.name]
		if !named {
			w.add(m.name, m.value)
			continue
		}
		delete(at, m.name)
		if err := w.addMerged(m.name, m.value, changes[i].value); err != nil {
			return nil, err
		}
	}
	for _, c := range changes {
		if _, left := at[c.name]; !left {
			continue
		}
		if err := w.addMerged(c.name, nil, c.value); err != nil {
			return nil, err
		}
	}
	return w.done(), nil
}

// addMerged writes what a change makes of an old value; nothing for null.
func (o *object) addMerged(name string, old, change []byte) error {
	if jsontext.Value(change).Kind() == 'n' {
		return nil
	}
	v, err := merge(old, change)
	if err != nil {
		return err
	}
	o.add(name, v)
	return nil
}
