package plan

import (
	"encoding/json"
	"os"
	"testing"
)

// seeds adds the good and the bad documents of the tests.
func seeds(f *testing.F) (saved []byte) {
	f.Helper()
	saved, err := os.ReadFile(savedPlan)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(saved)
	var bad []struct {
		Text   string
		Change json.RawMessage
	}
	list, err := os.ReadFile("../../testdata/bad/documents.json")
	if err != nil {
		f.Fatal(err)
	}
	if err := json.Unmarshal(list, &bad); err != nil {
		f.Fatal(err)
	}
	for _, b := range bad {
		f.Add([]byte(b.Text))
		f.Add([]byte(b.Change))
	}
	return saved
}

func FuzzDecode(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, doc []byte) {
		p, err := Decode(doc)
		if err != nil {
			checkSentence(t, stripQuotes(err.Error()))
			return
		}
		first := p.Encode()
		again, err := Decode(first)
		if err != nil {
			t.Fatalf("what was written is not read: %v\n%s", err, first)
		}
		if second := again.Encode(); string(second) != string(first) {
			t.Fatalf("written twice\n %s\n %s", first, second)
		}
	})
}

func FuzzApply(f *testing.F) {
	saved := seeds(f)
	f.Fuzz(func(t *testing.T, patch []byte) {
		next, inverse, err := Apply(saved, patch)
		if err != nil {
			checkSentence(t, stripQuotes(err.Error()))
			return
		}
		back, redo, err := Apply(next, inverse)
		if err != nil || string(back) != string(saved) {
			t.Fatalf("%s taken back by %s: %v\n got %s", patch, inverse, err, back)
		}
		if again, _, err := Apply(back, redo); err != nil || string(again) != string(next) {
			t.Fatalf("done again by %s: %v\n got %s\nwant %s", redo, err, again, next)
		}
		touched := Patch(patch).Touches()
		for i, name := range partNames {
			if !touched.Has(1<<i) && string(find(saved, name)) != string(find(next, name)) {
				t.Fatalf("%s changed without being touched", name)
			}
		}
	})
}

// stripQuotes takes the user's own texts out of a sentence.
func stripQuotes(s string) string {
	var out []byte
	in := false
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '\\' && in:
			i++
		case s[i] == '"':
			in = !in
		case !in:
			out = append(out, s[i])
		}
	}
	if len(out) > 0 && out[0] == ' ' {
		return "A" + string(out)
	}
	return string(out)
}
