package plan

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

var update = flag.Bool("update", false, "write the saved plan of the present format anew")

const savedPlan = "../../testdata/plans/format-1.json"

// TestSavedPlanOfFormat1 holds the reading of the first format: the file was
// written once, and is only written anew while the format is not published.
func TestSavedPlanOfFormat1(t *testing.T) {
	want := fullPlan().Encode()
	if *update {
		if err := os.WriteFile(savedPlan, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	doc := readFile(t, savedPlan)
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Encode(); string(got) != string(doc) || string(got) != string(want) {
		t.Errorf("the saved plan of format 1 reads as\n%s\nwant\n%s", got, want)
	}
}

// TestADocumentOfBeforeAuditsStillReads holds the reading of files that held one audit and
// no records: every can has its catch.
func TestADocumentOfBeforeAuditsStillReads(t *testing.T) {
	doc := readFile(t, "testdata/before-audits.json")
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if can := p.Proof.Cans["c1"]; can.ML == nil || *can.ML != 21 || p.Proof.Minutes != 10 {
		t.Errorf("its audit reads as %+v", p.Proof)
	}
	if string(p.Encode()) != string(doc) {
		t.Error("it is written otherwise than it was")
	}
}

func readFile(t *testing.T, path string) []byte {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// readBad reads a list of testdata/bad.
func readBad[T any](t *testing.T, name string) []T {
	t.Helper()
	var list []T
	if err := json.Unmarshal(readFile(t, filepath.Join("../../testdata/bad", name)), &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// banned are words that no sentence for the user has.
var banned = []string{"invalid", "illegal", "oops", "failed to parse", "something went wrong", "unmarshal", "nil", "NaN", "json:", "%!"}

// checkProblem checks that the error is a problem at the pointer, told in a
// sentence with the words.
func checkProblem(t *testing.T, err error, at string, words []string) {
	t.Helper()
	var p *Problem
	if !errors.As(err, &p) {
		t.Fatalf("got %v, want a problem", err)
	}
	if p.Pointer != at && at != "*" {
		t.Errorf("problem at %q, want %q: %s", p.Pointer, at, p.Sentence)
	}
	for _, w := range words {
		if !strings.Contains(strings.ToLower(p.Sentence), strings.ToLower(w)) {
			t.Errorf("the sentence lacks %q: %s", w, p.Sentence)
		}
	}
	checkSentence(t, err.Error())
}

func checkSentence(t *testing.T, s string) {
	t.Helper()
	for _, w := range banned {
		if strings.Contains(s, w) || w == strings.ToLower(w) && strings.Contains(strings.ToLower(s), w) {
			t.Errorf("the sentence has %q in it: %s", w, s)
		}
	}
	if !utf8.ValidString(s) || s == "" || !strings.HasSuffix(s, ".") || s[:1] != strings.ToUpper(s[:1]) || strings.Contains(s, "\n") {
		t.Errorf("this is not a sentence: %q", s)
	}
}

func TestBadDocuments(t *testing.T) {
	saved := readFile(t, savedPlan)
	for _, bad := range readBad[struct {
		Name   string
		Text   string          // the document, or
		Change json.RawMessage // what makes the saved plan bad
		At     string
		Words  []string
	}](t, "documents.json") {
		t.Run(bad.Name, func(t *testing.T) {
			doc := []byte(bad.Text)
			if bad.Change != nil {
				var err error
				if doc, err = merge(saved, bad.Change); err != nil {
					t.Fatal(err)
				}
			}
			p, err := Decode(doc)
			if p != nil {
				t.Errorf("Decode gave a plan with the error")
			}
			checkProblem(t, err, bad.At, bad.Words)
		})
	}
}

// TestBadOutlines holds rowB29: a shape that cannot be is told by name and
// place, one that can be is taken as it was drawn.
func TestBadOutlines(t *testing.T) {
	for _, bad := range readBad[struct {
		Name    string
		Outline json.RawMessage
		Holes   json.RawMessage
		Sound   bool
		At      string // below the outline, or from the area when it begins /holes
		Words   []string
	}](t, "outlines.json") {
		t.Run(bad.Name, func(t *testing.T) {
			area := `{"name":"Side bed","kind":"planting","outline":` + string(bad.Outline)
			if bad.Holes != nil {
				area += `,"holes":` + string(bad.Holes)
			}
			p, err := Decode([]byte(`{"format":"evenfall-plan/1","areas":{"a7":` + area + `}}}`))
			if bad.Sound {
				if err != nil {
					t.Fatal(err)
				}
				if again, err := Decode(p.Encode()); err != nil || string(again.Encode()) != string(p.Encode()) {
					t.Errorf("written and read again: %v", err)
				}
				return
			}
			at := bad.At
			if at != "*" && !strings.HasPrefix(at, "/holes") {
				at = "/outline" + at
			}
			if at != "*" {
				at = "/areas/a7" + at
			}
			checkProblem(t, err, at, append(bad.Words, `"Side bed"`))
			if pointer := err.(*Problem).Pointer; !strings.HasPrefix(pointer, "/areas/a7/") {
				t.Errorf("problem at %q, want it in the area", pointer)
			}
		})
	}
}

func TestHostileNamesComeBackAsTheyWere(t *testing.T) {
	names := readBad[string](t, "names.json")
	if len(names) < 40 {
		t.Errorf("%d names, want 40 or more", len(names))
	}
	for _, name := range names {
		p := fullPlan()
		texts := []*string{&p.Name, &p.Site.Climate, &p.Supply.Backflow, &p.Controller.Place}
		for _, s := range texts {
			*s = name
		}
		p.Areas = with(p.Areas, "a1", Area{Name: name, Kind: Planting, Outline: square(0, 0, 9), Note: name})
		p.Notes = with(p.Notes, "m1", Note{Text: name})
		got, err := Decode(p.Encode())
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		for i, s := range []string{got.Name, got.Site.Climate, got.Supply.Backflow, got.Controller.Place, got.Areas["a1"].Name, got.Areas["a1"].Note, got.Notes["m1"].Text} {
			if s != name {
				t.Errorf("text %d came back as %q, want %q", i, s, name)
			}
		}
		// Named in a sentence, it stays within its quotes and on one line.
		p.Areas["a1"] = Area{Name: name, Kind: "yard", Outline: square(0, 0, 9)}
		_, err = Decode(p.Encode())
		var fault *Problem
		if !errors.As(err, &fault) || fault.Pointer != "/areas/a1/kind" || strings.ContainsAny(fault.Sentence, "\n\r\t\x00\u2028\u2029\u202e") {
			t.Errorf("%q: %v", name, err)
		}
	}
}
