package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
)

// nouns are the trade's words for the things of each collection.
var nouns = map[string]string{
	"areas":          "area",
	"barriers":       "barrier",
	"trees":          "tree",
	"keep_dry":       "keep-dry place",
	"elevations":     "spot height",
	"ties":           "tie",
	"heads":          "head",
	"zones":          "zone",
	"nozzles":        "nozzle",
	"bodies":         "body",
	"pipe_classes":   "pipe class",
	"devices":        "device",
	"supply/statics": "static reading",

	"options/local_rules": "local rule",
	"nodes":               "pipe joint",
	"pipes":               "pipe",
	"sleeves":             "sleeve",
	"sensors":             "sensor",
	"wires":               "wire run",
	"boxes":               "splice box",
	"prices":              "price",
	"quote/rentals":       "rental",
	"options/figures":     "figure",
	"notes":               "note",
	"accepted":            "accepted finding",
	"photos":              "photograph",

	"proof/checks":         "step of the start-up",
	"proof/pressure_tests": "pressure test",
	"proof/wires":          "wire at the controller",
	"proof/touches":        "touch",
	"proof/resistances":    "reading of resistance",
	"proof/audits":         "audit",
	"proof/cans":           "catch-can",
}

// thing names one thing of a collection in a sentence: head "2-8" (heads/h14).
// called is its tag or name, "" when it has none.
func thing(collection, id, called string) string {
	if called == "" {
		return fmt.Sprintf("%s %s/%s", nouns[collection], collection, id)
	}
	return fmt.Sprintf("%s %s (%s/%s)", nouns[collection], quoted(called), collection, id)
}

// where begins a sentence about the value at a pointer of a text that may not
// be a plan: `"x_ft" of head "2-8" (heads/h14)`, `Corner 4 of the outline of area
// "Front lawn" (areas/a1)`.
func where(text []byte, pointer string) string { return sentenceCase(placeIn(text, pointer)) }

// place names the value at a pointer where there is no text to look names up in.
func place(pointer string) string { return placeIn(nil, pointer) }

func placeIn(text []byte, pointer string) string {
	toks := slices.Collect(jsontext.Pointer(pointer).Tokens())
	if len(toks) == 0 {
		return "the plan"
	}
	head, n := toks[0], 1
	if len(toks) > 1 && head == "proof" && nouns["proof/"+toks[1]] != "" {
		head, n = "proof/"+toks[1], 2
	}
	if _, ok := nouns[head]; !ok {
		return inside(toks[1:], strconv.Quote(toks[0]))
	}
	if len(toks) == n {
		return "the collection " + head
	}
	called := ""
	for _, name := range []string{"tag", "name", "code", "mark"} {
		if v := find(text, append(slices.Clone(toks[:n+1]), name)...); called == "" && len(v) > 0 && v[0] == '"' {
			b, _ := jsontext.AppendUnquote(nil, v) // what can be read of a bad name is enough here
			called = string(b)
		}
	}
	return inside(toks[n+1:], thing(head, toks[n], called))
}

// inside names what lies at the tokens within a thing.
func inside(toks []string, of string) string {
	if len(toks) == 0 {
		return of
	}
	at, counted := -1, false
	if len(toks) > 1 {
		i, err := strconv.Atoi(toks[1])
		at, counted = i, err == nil
	}
	switch {
	case !counted:
		return fmt.Sprintf("%s of %s", strconv.Quote(strings.Join(toks, "/")), of)
	case toks[0] == "holes":
		return corner(toks[2:], fmt.Sprintf("hole %d of %s", at+1, of))
	case toks[0] == "rows":
		return inside(toks[2:], fmt.Sprintf("row %d of %s", at+1, of))
	}
	switch toks[0] {
	case "outline", "line", "via", "lot":
		return corner(toks[1:], fmt.Sprintf("the %s of %s", toks[0], of))
	}
	return fmt.Sprintf("entry %d of %s of %s", at+1, strconv.Quote(toks[0]), of)
}

// corner names a corner of an outline, or the outline itself.
func corner(toks []string, of string) string {
	if len(toks) == 0 {
		return of
	}
	i, err := strconv.Atoi(toks[0])
	if err != nil {
		return of
	}
	return fmt.Sprintf("corner %d of %s", i+1, of)
}

// find returns the value at a path of member names, nil when there is none.
func find(text []byte, path ...string) []byte {
	for _, name := range path {
		if jsontext.Value(text).Kind() != '{' {
			return nil
		}
		list, err := members(text)
		if err != nil && len(list) == 0 {
			return nil
		}
		i := slices.IndexFunc(list, func(m member) bool { return m.name == name })
		if i < 0 {
			return nil
		}
		text = list[i].value
	}
	return text
}

// sentenceCase makes the first letter a capital.
func sentenceCase(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// quoted shows a user's text within a sentence: in quotes, cut to what is needed
// to know it again, its control characters made visible.
func quoted(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most-1]) + "…"
	}
	return strconv.Quote(s)
}
