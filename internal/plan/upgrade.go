package plan

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

const (
	formatName    = "evenfall-plan"
	formatVersion = 1
)

// upgrades make a document of version n into one of version n+1; entry n-1 is
// the step from n. There is none yet: this is the first format. A saved document
// of every past format stays in testdata/plans.
var upgrades = []func(doc []byte) ([]byte, error){}

// upgraded returns the document in the present format.
func upgraded(doc []byte) ([]byte, error) {
	text, err := formatOf(doc)
	if err != nil {
		return nil, err
	}
	return upgrade(doc, text, formatVersion, upgrades)
}

func upgrade(doc []byte, text string, present int, steps []func([]byte) ([]byte, error)) ([]byte, error) {
	version, ok := versionOf(text)
	if !ok {
		return nil, problem("/format", "The format is %s; a plan's is %q. Choose a plan file that Evenfall wrote.", quoted(text), Format)
	}
	if version > present {
		return nil, problem("/format", "This plan was written by a newer Evenfall: its format is %s/%d and this one reads up to %s/%d. Open it with the newer version.",
			formatName, version, formatName, present)
	}
	var err error
	for _, step := range steps[version-1:] {
		if doc, err = step(doc); err != nil {
			return nil, err
		}
	}
	return doc, nil
}

// versionOf reads "evenfall-plan/3".
func versionOf(text string) (version int, ok bool) {
	digits, ok := strings.CutPrefix(text, formatName+"/")
	if !ok {
		return 0, false
	}
	version, err := strconv.Atoi(digits)
	if err != nil || version < 1 || strconv.Itoa(version) != digits {
		return 0, false
	}
	return version, true
}

// formatOf returns the text of the member format. It is looked for before the
// document is decoded, because a newer format has members this one refuses.
func formatOf(doc []byte) (string, error) {
	dec := jsontext.NewDecoder(bytes.NewBuffer(doc), loose)
	if dec.PeekKind() != '{' {
		if err := dec.SkipValue(); err != nil {
			return "", structural(doc, err)
		}
		return "", problem("", "This is not a plan: a plan is a JSON object that begins with its format, %q.", Format)
	}
	if _, err := dec.ReadToken(); err != nil {
		return "", structural(doc, err)
	}
	for dec.PeekKind() == '"' {
		name, err := dec.ReadToken()
		if err != nil {
			return "", structural(doc, err)
		}
		found := name.String() == "format"
		if found && dec.PeekKind() == '"' {
			value, err := dec.ReadToken()
			if err != nil {
				return "", structural(doc, err)
			}
			return value.String(), nil
		}
		if found {
			return "", problem("/format", "The format must be a text: %q.", Format)
		}
		if err := dec.SkipValue(); err != nil {
			return "", structural(doc, err)
		}
	}
	if _, err := dec.ReadToken(); err != nil {
		return "", structural(doc, err)
	}
	return "", problem("/format", "The format is missing, so this is not known to be a plan. A plan begins with \"format\": %q.", Format)
}
