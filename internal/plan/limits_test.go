package plan

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"evenfall/internal/geom"
)

func plain1(members string) []byte {
	return []byte(`{"format":"evenfall-plan/1"` + members + `}`)
}

func TestLimitsOfADocument(t *testing.T) {
	trees := func(n int) []byte {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `,"t%d":{"x_ft":1,"y_ft":1,"trunk_in":5}`, i)
		}
		return plain1(`,"trees":{` + b.String()[1:] + `}`)
	}
	zigzag := func(areas, corners int) []byte {
		p := Empty("", "us")
		p.Areas = map[ID]Area{}
		for a := range areas {
			var o geom.Outline
			for i := range corners {
				o = append(o, geom.Vertex{X: float64(i % 2), Y: float64(i)})
			}
			p.Areas[ID(fmt.Sprintf("a%d", a))] = Area{Kind: Planting, Outline: o}
		}
		return p.Encode()
	}
	for _, test := range []struct {
		name    string
		doc     []byte
		pointer string
		words   string // "" when it is taken
	}{
		{"as many things as may be", trees(MaxObjects), "", ""},
		{"one thing more", trees(MaxObjects + 1), "", "50001 things"},
		{"more objects of any kind than may be", trees(maxBraces), "", "more than 200000 objects"},
		{"too many corners", zigzag(21, 9_600), "", "corners in all"},
		{"too many corners of one outline", zigzag(1, geom.MaxCorners+1), "/areas/a0/outline", "10001 corners"},
		{"more lists than may be", plain1(`,"areas":[` + strings.Repeat("[],", maxBrackets) + `[]]`), "", "lists"},
		{"too large", append(plain1(""), make([]byte, MaxBytes)...), "", "larger than a plan may be"},
		{"too deep in objects", plain1(`,"a":` + strings.Repeat(`{"a":`, MaxDepth) + "1" + strings.Repeat("}", MaxDepth)), "/a" + strings.Repeat("/a", MaxDepth-1), "nested"},
		{"too deep in lists", plain1(`,"areas":` + strings.Repeat(`[`, MaxDepth) + strings.Repeat("]", MaxDepth)), "/areas" + strings.Repeat("/0", MaxDepth-1), "nested"},
		{"brackets in a text are no depth", plain1(`,"name":"` + strings.Repeat(`[{\"`, 300) + `"`), "", ""},
		{"a text as long as may be", plain1(`,"name":"` + strings.Repeat("é", MaxText) + `"`), "", ""},
		{"a text one longer", plain1(`,"name":"` + strings.Repeat("é", MaxText+1) + `"`), "/name", "longer than 2000"},
		{"a text of escapes as long as may be", plain1(`,"name":"` + strings.Repeat(`\ud83c\udf31`, MaxText) + `"`), "", ""},
		{"the word null in a text", plain1(`,"name":"null"`), "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			_, err := Decode(test.doc)
			if test.words == "" {
				if err != nil {
					t.Errorf("Decode: %v", err)
				}
				return
			}
			checkProblem(t, err, test.pointer, []string{test.words})
		})
	}
}

func TestProblemsAreToldTogetherInOrder(t *testing.T) {
	doc := plain1(`,"trees":{"t2":{"name":"Elm","x_ft":1,"y_ft":1,"trunk_in":0},"t1":{"name":"Oak","x_ft":1,"trunk_in":5}},"heads":{"h1":{"nozzle":"n","body":"b","x_ft":0,"y_ft":0}}`)
	want := []string{"/trees/t1/y_ft", "/trees/t2/trunk_in", "/heads/h1/nozzle", "/heads/h1/body"}
	for range 20 {
		_, err := Decode(doc)
		var all *Problems
		if !errors.As(err, &all) {
			t.Fatalf("got %v, want several problems", err)
		}
		var got []string
		for _, p := range all.List {
			got = append(got, p.Pointer)
			checkSentence(t, p.Sentence)
		}
		if strings.Join(got, " ") != strings.Join(want, " ") {
			t.Fatalf("problems at %v, want %v", got, want)
		}
		if !strings.HasSuffix(err.Error(), " 3 more things are wrong.") {
			t.Errorf("error %q, want it to say how many more", err)
		}
	}
}

func TestProblemsSayHowManyMore(t *testing.T) {
	one, two, three := Problem{"/a", "A is wrong."}, Problem{"/b", "B is wrong."}, Problem{"/c", "C is wrong."}
	for _, test := range []struct {
		list []Problem
		want string
	}{
		{nil, "The plan has problems."},
		{[]Problem{one}, "A is wrong."},
		{[]Problem{one, two}, "A is wrong. One more thing is wrong."},
		{[]Problem{one, two, three}, "A is wrong. 2 more things are wrong."},
	} {
		if got := (&Problems{List: test.list}).Error(); got != test.want {
			t.Errorf("got %q, want %q", got, test.want)
		}
	}
}

func TestCivilDates(t *testing.T) {
	for date, want := range map[string]bool{
		"2026-05-31": true, "2024-02-29": true, "2000-02-29": true, "2026-04-30": true, "0001-01-01": true,
		"1900-02-29": false, "2026-02-29": false, "2026-04-31": false, "2026-13-01": false, "2026-00-10": false,
		"2026-01-00": false, "2026-1-01": false, "20260101": false, "2026-01-01T": false, "２０２６-01": false, "": false,
	} {
		if got := civilDate(date); got != want {
			t.Errorf("civilDate(%q) = %v, want %v", date, got, want)
		}
	}
}

func TestNoMoreProblemsThanCanBeRead(t *testing.T) {
	var b strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&b, `,"t%d":{"x_ft":1,"y_ft":1,"trunk_in":0}`, i)
	}
	_, err := Decode(plain1(`,"trees":{` + b.String()[1:] + `}`))
	var all *Problems
	if !errors.As(err, &all) || len(all.List) != maxProblems {
		t.Errorf("got %v, want %d problems", err, maxProblems)
	}
}

func TestInvalidUTF8IsRefused(t *testing.T) {
	for _, name := range []string{"\xff", "a\xc3", "\xed\xa0\x80", "\xf5\x80\x80\x80"} {
		_, err := Decode(plain1(",\n\"name\":\"" + name + `"`))
		checkProblem(t, err, "/name", []string{"UTF-8", "line 2"})
	}
}
