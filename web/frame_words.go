package web

import (
	"bytes"
	"encoding/json"
	"strconv"

	jsonv2 "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// wordsSince is what makes the new words of the old ones: a merge patch (RFC 7396)
// but for lists of objects, which are long: one of as many entries as before is
// patched by an object of those that changed, by their place. A page keeps what it
// is not sent, so a drag costs what follows from it and not the whole board. With
// no old words it is the new ones.
func wordsSince(old, now []byte) ([]byte, error) {
	if old == nil {
		return now, nil
	}
	change, same, err := changeOf(old, now)
	if err != nil || same {
		return []byte("{}"), err
	}
	return json.Marshal(change)
}

// changeOf is the change from one value to another, and whether there is none.
func changeOf(old, now jsontext.Value) (change any, same bool, err error) {
	switch {
	case bytes.Equal(old, now):
		return nil, true, nil
	case old.Kind() == '{' && now.Kind() == '{':
		change, err = changedMembers(old, now)
	case old.Kind() == '[' && now.Kind() == '[':
		change, err = changedEntries(old, now)
	default:
		change = json.RawMessage(now)
	}
	return change, false, err
}

func changedMembers(old, now jsontext.Value) (any, error) {
	var was, is map[string]jsontext.Value
	if err := readBoth(old, now, &was, &is); err != nil {
		return nil, err
	}
	changes := map[string]any{}
	for name := range was {
		if _, kept := is[name]; !kept {
			changes[name] = nil
		}
	}
	for name, value := range is {
		if before, had := was[name]; !had {
			changes[name] = json.RawMessage(value)
		} else if change, same, err := changeOf(before, value); err != nil {
			return nil, err
		} else if !same {
			changes[name] = change
		}
	}
	return changes, nil
}

func changedEntries(old, now jsontext.Value) (any, error) {
	var was, is []jsontext.Value
	if err := readBoth(old, now, &was, &is); err != nil {
		return nil, err
	}
	if len(was) != len(is) || is[0].Kind() != '{' {
		return json.RawMessage(now), nil
	}
	changes := map[string]any{}
	for i, value := range is {
		if change, same, err := changeOf(was[i], value); err != nil {
			return nil, err
		} else if !same {
			changes[strconv.Itoa(i)] = change
		}
	}
	return changes, nil
}

func readBoth[T any](old, now jsontext.Value, was, is *T) error {
	if err := jsonv2.Unmarshal(old, was); err != nil {
		return err
	}
	return jsonv2.Unmarshal(now, is)
}
