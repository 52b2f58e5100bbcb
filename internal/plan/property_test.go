package plan

import (
	"encoding/json"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDecodedAndEncodedAgainIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doc := genPlan().Draw(t, "plan").Encode()
		p, err := Decode(doc)
		if err != nil {
			t.Fatalf("Decode: %v\n%s", err, doc)
		}
		if got := p.Encode(); string(got) != string(doc) {
			t.Fatalf("encoded again\n got %s\nwant %s", got, doc)
		}
	})
}

func TestDiffAppliedGivesTheOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlan().Draw(t, "a").Encode(), genPlan().Draw(t, "b").Encode()
		patch, err := Diff(a, b)
		if err != nil {
			t.Fatal(err)
		}
		got, inverse, err := Apply(a, patch)
		if err != nil || string(got) != string(b) {
			t.Fatalf("Apply(a, %s): %v\n got %s\nwant %s", patch, err, got, b)
		}
		back, _, err := Apply(got, inverse)
		if err != nil || string(back) != string(a) {
			t.Fatalf("Apply(b, %s): %v\n got %s\nwant %s", inverse, err, back, a)
		}
		for i, name := range partNames {
			if changed := string(find(a, name)) != string(find(b, name)); changed != patch.Touches().Has(1<<i) {
				t.Fatalf("%s changed: %v; Touches(%s) = %b", name, changed, patch, patch.Touches())
			}
		}
	})
}

func TestTwoChangesAreOneComposed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := genPlan().Draw(t, "a").Encode(), genPlan().Draw(t, "b").Encode(), genPlan().Draw(t, "c").Encode()
		p, err := Diff(a, b)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Diff(b, c)
		if err != nil {
			t.Fatal(err)
		}
		joined, err := Compose(p, q)
		if err != nil {
			if !refills(p, q) {
				t.Fatalf("Compose(%s, %s): %v", p, q, err)
			}
			return
		}
		got, _, err := Apply(a, joined)
		if err != nil || string(got) != string(c) {
			t.Fatalf("Apply(a, %s): %v\n got %s\nwant %s", joined, err, got, c)
		}
	})
}

// refills reports whether the first patch removes a whole collection that the
// second fills again.
func refills(p, q Patch) bool {
	for _, name := range partNames {
		if documentShape.at(name) != nil && string(find(p, name)) == "null" && len(find(q, name)) > 0 {
			return true
		}
	}
	for _, nested := range [][]string{{"supply", "statics"}, {"options", "local_rules"}} {
		if string(find(p, nested...)) == "null" && len(find(q, nested...)) > 0 {
			return true
		}
	}
	return false
}

// genTyped draws a change as a page may send it: defaults said, optional members
// taken away, empty objects, numbers written long.
func genTyped() *rapid.Generator[Patch] {
	return rapid.Custom(func(t *rapid.T) Patch {
		head := rapid.Custom(func(t *rapid.T) string {
			return "{" + pick(t, `"nozzle":"n1","body":"o1","sweep_deg":90`) + pick(t, `,"x_ft":1.50`, `,"x_ft":-0`) + pick(t, `,"y_ft":2e0`) +
				pick(t, `,"status":"new"`, `,"status":"existing"`, `,"status":null`) + pick(t, `,"throw_ft":null`, `,"throw_ft":9`) +
				pick(t, `,"locked":false`, `,"locked":true`) + pick(t, `,"zone":""`, `,"zone":"z1"`, `,"zone":null`) + "}"
		})
		return Patch(`{"heads":{"h1":` + head.Draw(t, "h1") + `,"h2":` + head.Draw(t, "h2") + `}` +
			pick(t, `,"supply":{}`, `,"supply":{"kind":"town_meter"}`, `,"supply":null`, `,"supply":{"connection":null}`, `,"supply":{"connection":{"x_ft":1,"y_ft":2}}`) +
			pick(t, `,"show":"us"`, `,"show":null`, `,"show":"metric"`) + pick(t, `,"notes":{}`, `,"notes":null`) +
			pick(t, `,"areas":{"a1":{"status":"new","planting":"turf"}}`, `,"areas":{"a1":{"kind":"ground","holes":[]}}`) + "}")
	})
}

// pick draws one of the texts, or none.
func pick(t *rapid.T, texts ...string) string {
	s := rapid.SampledFrom(append(texts, "")).Draw(t, "text")
	return s
}

func TestTypedChangesCompose(t *testing.T) {
	full := fullPlan()
	full.Nodes, full.Pipes = nil, nil
	doc := full.Encode()
	rapid.Check(t, func(t *rapid.T) {
		p, q := genTyped().Draw(t, "first"), genTyped().Draw(t, "second")
		p, q = mended(p), mended(q)
		middle, inverse, err := Apply(doc, p)
		if err != nil {
			return // a head without its place
		}
		if back, _, err := Apply(middle, inverse); err != nil || string(back) != string(doc) {
			t.Fatalf("%s taken back by %s: %v\n got %s", p, inverse, err, back)
		}
		want, _, err := Apply(middle, q)
		if err != nil {
			return
		}
		joined, err := Compose(p, q)
		if err != nil {
			if !refills(p, q) {
				t.Fatalf("Compose(%s, %s): %v", p, q, err)
			}
			return
		}
		if got, _, err := Apply(doc, joined); err != nil || string(got) != string(want) {
			t.Fatalf("Apply(%s): %v\n got %s\nwant %s", joined, err, got, want)
		}
	})
}

// mended takes out the comma that begins an object when its first member was
// not drawn.
func mended(p Patch) Patch { return Patch(strings.ReplaceAll(string(p), "{,", "{")) }

// genJSON draws values of any shape, patches among them, without the limits of
// the document.
func genJSON(depth int, nulls bool) *rapid.Generator[any] {
	scalars := []any{1.0, "x", true, []any{1.0}}
	if nulls {
		scalars = append(scalars, nil)
	}
	leaf := rapid.SampledFrom(scalars)
	if depth == 0 {
		return leaf
	}
	object := rapid.Map(rapid.MapOfN(rapid.SampledFrom([]string{"a", "b", "c"}), genJSON(depth-1, nulls), 0, 3), func(m map[string]any) any { return m })
	return rapid.OneOf(leaf, object)
}

func genObject(nulls bool) *rapid.Generator[[]byte] {
	return rapid.Custom(func(t *rapid.T) []byte {
		m := rapid.MapOfN(rapid.SampledFrom([]string{"a", "b", "c"}), genJSON(3, nulls), 0, 3).Draw(t, "members")
		b, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		return b
	})
}

func TestComposeOfAnyPatches(t *testing.T) {
	joinedSome := false
	rapid.Check(t, func(t *rapid.T) {
		d := genObject(false).Draw(t, "document")
		p, q := genObject(true).Draw(t, "first"), genObject(true).Draw(t, "second")
		joined, err := Compose(p, q)
		if err != nil {
			return // the first takes away an object whose members are not known
		}
		joinedSome = true
		once := mustMerge(t, mustMerge(t, d, p), q)
		if got := mustMerge(t, d, joined); canonical(t, got) != canonical(t, once) {
			t.Fatalf("merge(d, %s) = %s, want %s", joined, got, once)
		}
	})
	if !joinedSome {
		t.Error("no two patches could be joined")
	}
}

func mustMerge(t *rapid.T, doc, patch []byte) []byte {
	out, err := merge(doc, patch)
	if err != nil {
		t.Fatalf("merge(%s, %s): %v", doc, patch, err)
	}
	return out
}

func TestThreeHundredEditsTakenBackAndDoneAgain(t *testing.T) {
	const edits = 300
	for seed := range 3 {
		first := genPlan().Example(seed).Encode()
		doc, hashes := first, []string{Digest(first)}
		var inverses, redos []Patch
		for n := range edits {
			patch, err := Diff(doc, edited(t, doc, 1000*seed+n).Encode())
			if err != nil {
				t.Fatal(err)
			}
			var inverse Patch
			if doc, inverse, err = Apply(doc, patch); err != nil {
				t.Fatalf("Apply(%s): %v", patch, err)
			}
			inverses, redos, hashes = append(inverses, inverse), append(redos, patch), append(hashes, Digest(doc))
		}
		for i := edits - 1; i >= 0; i-- {
			doc = step(t, doc, inverses[i], hashes[i])
		}
		for i := range edits {
			doc = step(t, doc, redos[i], hashes[i+1])
		}
	}
}

// edited returns the plan of a document after one change.
func edited(t *testing.T, doc []byte, seed int) *Plan {
	t.Helper()
	p, err := Decode(doc)
	if err != nil {
		t.Fatal(err)
	}
	return rapid.Custom(func(t *rapid.T) *Plan {
		q := *p
		edit(t, &q)
		return &q
	}).Example(seed)
}

func step(t *testing.T, doc []byte, p Patch, want string) []byte {
	t.Helper()
	next, _, err := Apply(doc, p)
	if err != nil {
		t.Fatalf("Apply(%s): %v", p, err)
	}
	if got := Digest(next); got != want {
		t.Fatalf("after %s the digest is %s, want %s", p, got, want)
	}
	return next
}
