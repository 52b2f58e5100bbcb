package plan

import (
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// counted are the collections in the order a change of them is told in.
var counted = []string{
	"heads", "zones", "areas", "barriers", "trees", "keep_dry", "elevations", "ties", "nozzles", "bodies",
	"nodes", "pipes", "sleeves", "sensors", "proof/cans", "notes", "accepted",
}

// tally counts things by collection; members that are no collections count
// under their own names.
type tally map[string]int

// Count returns how many things and settings the patch touches; a collection
// that it takes away whole is one.
func (p Patch) Count() int {
	n := 0
	for _, things := range p.tally() {
		n += things
	}
	return n
}

// Says tells what the patch changes, in words: "3 heads, 1 area". What is no
// thing of a collection, such as the name or the supply, is "settings".
func (p Patch) Says() string {
	t := p.tally()
	var words []string
	for _, c := range counted {
		if n := t[c]; n > 0 {
			words = append(words, Plural(n, nouns[c], manyOf(nouns[c])))
			delete(t, c)
		}
	}
	if t["site/lot"] > 0 {
		words = append(words, "the property line")
		delete(t, "site/lot")
	}
	if len(t) > 0 {
		words = append(words, "settings")
	}
	return strings.Join(words, ", ")
}

// manyOf is the plural of one of our nouns.
func manyOf(noun string) string {
	if stem, ok := strings.CutSuffix(noun, "y"); ok {
		return stem + "ies"
	}
	return noun + "s"
}

// tally counts what a patch touches. A text that is no patch touches nothing.
func (p Patch) tally() tally {
	t := tally{}
	list, err := members(p)
	if err != nil {
		return t
	}
	for _, m := range list {
		if m.name != "site" && m.name != "proof" {
			t.add(m.name, m.value)
			continue
		}
		inner, err := members(m.value)
		if err != nil || len(inner) == 0 {
			t[m.name]++
			continue
		}
		for _, i := range inner {
			t.add(m.name+"/"+i.name, i.value)
		}
	}
	return t
}

// add counts the things of a collection, or one for what is none.
func (t tally) add(name string, value []byte) {
	if _, known := nouns[name]; !known || jsontext.Value(value).Kind() != '{' {
		t[name]++
		return
	}
	if list, err := members(value); err == nil && len(list) > 0 {
		t[name] += len(list)
	}
}
