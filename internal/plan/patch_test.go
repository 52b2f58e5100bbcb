package plan

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/units"
)

// The examples of RFC 7396, appendix A.
func TestMergeExamplesOfTheStandard(t *testing.T) {
	for _, test := range []struct{ original, patch, want string }{
		{`{"a":"b"}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"b"}`, `{"b":"c"}`, `{"a":"b","b":"c"}`},
		{`{"a":"b"}`, `{"a":null}`, `{}`},
		{`{"a":"b","b":"c"}`, `{"a":null}`, `{"b":"c"}`},
		{`{"a":["b"]}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"c"}`, `{"a":["b"]}`, `{"a":["b"]}`},
		{`{"a":{"b":"c"}}`, `{"a":{"b":"d","c":null}}`, `{"a":{"b":"d"}}`},
		{`{"a":[{"b":"c"}]}`, `{"a":[1]}`, `{"a":[1]}`},
		{`["a","b"]`, `["c","d"]`, `["c","d"]`},
		{`{"a":"b"}`, `["c"]`, `["c"]`},
		{`{"a":"foo"}`, `null`, `null`},
		{`{"a":"foo"}`, `"bar"`, `"bar"`},
		{`{"e":null}`, `{"a":1}`, `{"e":null,"a":1}`},
		{`[1,2]`, `{"a":"b","c":null}`, `{"a":"b"}`},
		{`{}`, `{"a":{"bb":{"ccc":null}}}`, `{"a":{"bb":{}}}`},
	} {
		got, err := merge([]byte(test.original), []byte(test.patch))
		if err != nil || canonical(t, got) != canonical(t, []byte(test.want)) {
			t.Errorf("merge(%s, %s) = %s, %v, want %s", test.original, test.patch, got, err, test.want)
		}
	}
}

// canonical is RFC 8785's form of a JSON text: members sorted, no spaces.
func canonical(t interface{ Fatalf(string, ...any) }, text []byte) string {
	v := jsontext.Value(text).Clone()
	if err := v.Canonicalize(); err != nil {
		t.Fatalf("Canonicalize(%s): %v", text, err)
	}
	return string(v)
}

func TestApplyGivesTheChangeAndItsInverse(t *testing.T) {
	doc := fullPlan().Encode()
	for _, test := range []struct {
		name, patch, inverse string
	}{
		{"move a head", `{"heads":{"h1":{"x_ft":11}}}`, `{"heads":{"h1":{"x_ft":10}}}`},
		{"nothing", `{}`, `{}`},
		{"say what is so already", `{"heads":{"h1":{"x_ft":10.0}}}`, `{}`},
		{"turn down no more", `{"heads":{"h1":{"throw_ft":null}}}`, `{"heads":{"h1":{"throw_ft":9.5}}}`},
		{"say a default", `{"heads":{"h1":{"status":"new"}}}`, `{"heads":{"h1":{"status":"existing"}}}`},
		{"delete a tie", `{"ties":{"i1":null}}`, `{"ties":{"i1":{"from":{"x_ft":1,"y_ft":2},"to":{"x_ft":4,"y_ft":6},"distance_ft":5,"status":"existing"}}}`},
		{"an outline is replaced whole", `{"areas":{"a2":{"outline":[[60,0],[90,0],[90,30]]}}}`, `{"areas":{"a2":{"outline":[[60,0],[90,0,0.25],[90,30]]}}}`},
		{"first spot of its kind", `{"zones":{"z2":{"name":"Back"}}}`, `{"zones":{"z2":null}}`},
		{"replace an object by its members", `{"underlay":null}`, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			next, inverse, err := Apply(doc, Patch(test.patch))
			if err != nil {
				t.Fatal(err)
			}
			if test.inverse != "" {
				want := canonical(t, []byte(test.inverse))
				if got := canonical(t, inverse); got != want {
					t.Errorf("inverse = %s, want %s", got, want)
				}
			}
			back, redo, err := Apply(next, inverse)
			if err != nil || string(back) != string(doc) {
				t.Errorf("taken back: %v\n got %s\nwant %s", err, back, doc)
			}
			again, _, err := Apply(back, redo)
			if err != nil || string(again) != string(next) {
				t.Errorf("done again: %v\n got %s\nwant %s", err, again, next)
			}
		})
	}
}

func TestApplyRefuses(t *testing.T) {
	doc := fullPlan().Encode()
	deep := strings.Repeat(`{"a":`, MaxDepth+1) + "1" + strings.Repeat("}", MaxDepth+1)
	for _, test := range []struct {
		name, patch, pointer, words string
	}{
		{"not JSON", `{"heads":`, "/heads", "ends too early"},
		{"not an object", `[1]`, "", "must be a JSON object"},
		{"nothing at all", ``, "", "must be a JSON object"},
		{"null in a list", `{"areas":{"a1":{"outline":[[0,0],null,[1,1]]}}}`, "/areas/a1/outline/1", "null in a list"},
		{"null in an object in a list", `{"nozzles":{"n1":{"rows":[{"throw_ft":null}]}}}`, "/nozzles/n1/rows/0/throw_ft", "null in a list"},
		{"too deep", deep, "/" + strings.Repeat("a/", MaxDepth-1) + "a", "nested"},
		{"member twice", `{"name":"a","name":"b"}`, "/name", "twice"},
		{"unknown member", `{"heads":{"h1":{"z_ft":1}}}`, "/heads/h1/z_ft", "not a member"},
		{"a head loses its nozzle", `{"nozzles":{"n1":null}}`, "/heads/h1/nozzle", "no such nozzle"},
		{"a head loses its place", `{"heads":{"h1":{"x_ft":null}}}`, "/heads/h1/x_ft", "has no x"},
		{"another format", `{"format":"evenfall-plan/2"}`, "/format", "newer Evenfall"},
		{"format taken away", `{"format":null}`, "/format", "missing"},
		{"a collection becomes a number", `{"heads":3}`, "/heads", "must be an object"},
	} {
		t.Run(test.name, func(t *testing.T) {
			next, inverse, err := Apply(doc, Patch(test.patch))
			var p *Problem
			if !errors.As(err, &p) || next != nil || inverse != nil {
				t.Fatalf("Apply = %s, %s, %v; want a problem", next, inverse, err)
			}
			if p.Pointer != test.pointer || !strings.Contains(p.Sentence, test.words) {
				t.Errorf("problem at %q: %s\nwant at %q, with %q", p.Pointer, p.Sentence, test.pointer, test.words)
			}
		})
	}
	if _, _, err := Apply(doc, make(Patch, MaxBytes+1)); err == nil || !strings.Contains(err.Error(), "larger") {
		t.Errorf("a patch beyond the size: %v", err)
	}
}

func TestComposeOfRemovalAndReturn(t *testing.T) {
	doc := fullPlan().Encode()
	for _, test := range []struct{ name, a, b string }{
		{"a head", `{"heads":{"h1":null}, "nodes":null, "pipes":null}`, `{"heads":{"h1":{"nozzle":"n1","body":"o1","x_ft":1,"y_ft":2,"sweep_deg":90}}}`},
		{"a spot", `{"supply":{"connection":null}}`, `{"supply":{"connection":{"x_ft":1,"y_ft":1}}}`},
		{"the supply", `{"supply":null}`, `{"supply":{"flow_gpm":9,"connection":{"x_ft":1,"y_ft":1}}}`},
		{"the strip of a nozzle", `{"nozzles":{"n2":{"strip":null}}}`, `{"nozzles":{"n2":{"strip":{"ahead":true,"back":false,"left_ft":1,"right_ft":2}}}}`},
	} {
		t.Run(test.name, func(t *testing.T) {
			joined, err := Compose(Patch(test.a), Patch(test.b))
			if err != nil {
				t.Fatal(err)
			}
			between, err := merge(doc, []byte(test.a))
			if err != nil {
				t.Fatal(err)
			}
			want, _, err := Apply(between, Patch(test.b))
			if err != nil {
				t.Fatal(err)
			}
			got, _, err := Apply(doc, joined)
			if err != nil || string(got) != string(want) {
				t.Errorf("with %s: %v\n got %s\nwant %s", joined, err, got, want)
			}
		})
	}
	if got, err := Compose(Patch(`{"notes":null}`), Patch(`{"notes":{"m1":{"x_ft":1,"y_ft":1,"text":"a"}}}`)); err == nil {
		t.Errorf("Compose joined the removal of a collection with its return: %s", got)
	}
}

func TestComposeRefusesWhatIsNoPatch(t *testing.T) {
	good := Patch(`{"name":"x"}`)
	for _, bad := range []Patch{nil, Patch(`[]`), Patch(`{"a":[null]}`), Patch(`{"name":"x"`)} {
		if got, err := Compose(bad, good); err == nil {
			t.Errorf("Compose(%s, …) = %s, want an error", bad, got)
		}
		if got, err := Compose(good, bad); err == nil {
			t.Errorf("Compose(…, %s) = %s, want an error", bad, got)
		}
	}
}

func TestDiffIsTheSmallestChange(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{`{}`, `{}`, `{}`},
		{`{"a":1}`, `{"a": 1 }`, `{}`},
		{`{"a":[1, 2]}`, `{"a":[1,2]}`, `{}`},
		{`{"a":1,"b":2}`, `{"b":2,"a":1}`, `{}`},
		{`{"a":{"b":1,"c":2}}`, `{"a":{"b":1,"c":3}}`, `{"a":{"c":3}}`},
		{`{"a":{"b":1}}`, `{}`, `{"a":null}`},
		{`{}`, `{"a":{"b":1}}`, `{"a":{"b":1}}`},
		{`{"a":{"b":1}}`, `{"a":{}}`, `{"a":{"b":null}}`},
		{`{"a":[1,2]}`, `{"a":[1,3]}`, `{"a":[1,3]}`},
		{`{"a":{"b":1}}`, `{"a":5}`, `{"a":5}`},
	} {
		got, err := Diff([]byte(test.from), []byte(test.to))
		if err != nil || canonical(t, got) != canonical(t, []byte(test.want)) {
			t.Errorf("Diff(%s, %s) = %s, %v, want %s", test.from, test.to, got, err, test.want)
		}
	}
	for _, bad := range []string{``, `{`, `{"a"}`, `{"a":[1}`} {
		if got, err := Diff([]byte(bad), []byte(`{"a":[2]}`)); err == nil && bad != "" {
			t.Errorf("Diff(%q, …) = %s, want an error", bad, got)
		}
	}
}

func TestTouches(t *testing.T) {
	for _, test := range []struct {
		patch string
		want  Parts
	}{
		{`{}`, 0},
		{`{"heads":{"h1":null}}`, PartHeads},
		{`{"accepted":{},"format":"evenfall-plan/1","keep_dry":null}`, PartAccepted | PartFormat | PartKeepDry},
		{`{"unheard_of":1}`, AllParts},
		{`[`, AllParts},
	} {
		if got := Patch(test.patch).Touches(); got != test.want {
			t.Errorf("Touches(%s) = %b, want %b", test.patch, got, test.want)
		}
	}
}

func TestEveryMemberIsAPart(t *testing.T) {
	if got, want := AllParts, Parts(1)<<len(partNames)-1; got != want {
		t.Errorf("AllParts = %b, want a bit for each of %v", got, partNames)
	}
	for i, name := range partNames {
		if got := Patch(`{"` + name + `":1}`).Touches(); got != 1<<i {
			t.Errorf("Touches(%s) = %b, want bit %d", name, got, i)
		}
	}
	if got := Patch(`{"sleeves":1}`).Touches(); got != PartSleeves {
		t.Errorf("Touches(sleeves) = %b, want %b", got, PartSleeves)
	}
}

func TestViewShowsOnlyWhatIsAskedFor(t *testing.T) {
	p := fullPlan()
	v := p.View(PartHeads | PartNozzles)
	if v.Heads == nil || v.Nozzles == nil || v.Format != Format {
		t.Errorf("the view lacks what was asked for: %+v", v)
	}
	v.Heads, v.Nozzles = nil, nil
	if got, want := string(v.Encode()), string((&Plan{Show: units.US}).Encode()); got != want {
		t.Errorf("the view shows more than was asked for: %s", got)
	}
	if string(p.View(AllParts).Encode()) != string(p.Encode()) {
		t.Error("a view of all parts is not the plan")
	}
}

func TestDigestsTellWhichPartsDiffer(t *testing.T) {
	p := fullPlan()
	again, err := Decode(p.Encode())
	if err != nil {
		t.Fatal(err)
	}
	sums := p.Digests(AllParts)
	if got := again.Digests(AllParts); !slices.Equal(got, sums) {
		t.Error("a plan that was written and read has other digests")
	}
	empty := (&Plan{}).Digests(AllParts)
	for i, name := range partNames {
		if PartFormat.Has(1<<i) || PartShow.Has(1<<i) {
			continue
		}
		if sums[i] == empty[i] {
			t.Errorf("the digest of %s does not tell it from none", name)
		}
		without := p.View(AllParts &^ (1 << i)).Digests(AllParts)
		for j := range without {
			if (without[j] != sums[j]) != (i == j) {
				t.Errorf("without %s, the digest of %s differs: %t", name, partNames[j], without[j] != sums[j])
			}
		}
	}
	for i, sum := range p.Digests(PartHeads) {
		if (sum != "") != PartHeads.Has(1<<i) {
			t.Errorf("asked for heads, the digest of %s is %q", partNames[i], sum)
		}
	}
}
