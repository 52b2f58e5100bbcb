package plan

import (
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// counted are the collections in the order a change of them is told in.
var counted = []string{
	"heads", "zones", "areas", "barriers", "trees", "keep_dry", "elevations", "ties", "nozzles", "bodies", "pipe_classes", "devices",
	"nodes", "pipes", "sleeves", "sensors", "wires", "boxes", "prices", "proof/checks", "proof/pressure_tests", "proof/wires", "proof/touches", "proof/resistances", "proof/audits", "proof/cans", "photos", "notes", "accepted",
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
			one := nouns[c]
			if c == "barriers" {
				one = "wall or fence"
			}
			words = append(words, Plural(n, one, manyOf(one)))
			delete(t, c)
		}
		if c != "barriers" {
			continue
		}
		for _, kind := range []BarrierKind{Wall, Fence, Hedge} {
			if n := t[string(kind)]; n > 0 {
				words = append(words, Plural(n, string(kind), string(kind)+"s"))
				delete(t, string(kind))
			}
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

// barrierNoun is what a patch of a barrier counts under: its kind where the patch
// gives it, as one that draws it does.
func barrierNoun(value []byte) string {
	list, err := members(value)
	if err != nil {
		return "barriers"
	}
	for _, m := range list {
		if m.name != "kind" {
			continue
		}
		switch kind := strings.Trim(string(m.value), `"`); BarrierKind(kind) {
		case Wall, Fence, Hedge:
			return kind
		}
	}
	return "barriers"
}

// manyOf is the plural of one of our nouns.
func manyOf(noun string) string {
	if noun == "wall or fence" {
		return "walls or fences"
	}
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
	list, err := members(value)
	if err != nil {
		return
	}
	for _, m := range list {
		if name == "barriers" {
			t[barrierNoun(m.value)]++
		} else {
			t[name]++
		}
	}
}
