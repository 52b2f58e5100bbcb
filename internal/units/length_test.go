package units

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// lengthVector is a row of the file the browser's reader is held to as well.
type lengthVector struct {
	Input      string  `json:"input"`
	System     System  `json:"system"`
	Coordinate bool    `json:"coordinate"` // may be zero or negative
	Feet       float64 `json:"feet"`
	Error      bool    `json:"error"`
}

func lengthVectors(t testing.TB) []lengthVector {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/length.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []lengthVector
	if err := json.Unmarshal(data, &rows); err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestParseLengthVectors(t *testing.T) {
	for _, row := range lengthVectors(t) {
		parse := ParseLength
		if row.Coordinate {
			parse = ParseCoordinate
		}
		got, err := parse(row.Input, row.System)
		if row.Error {
			var refusal *Refusal
			if !errors.As(err, &refusal) {
				t.Errorf("%q in %s = %v, %v; want a refusal", row.Input, row.System, got, err)
				continue
			}
			checkSentence(t, refusal.Sentence)
			continue
		}
		if err != nil || math.Abs(float64(got)-row.Feet) > 1e-12*max(1, math.Abs(row.Feet)) {
			t.Errorf("%q in %s = %v, %v; want %v", row.Input, row.System, got, err, row.Feet)
		}
	}
}

// The sentences say what to do: a comma asks for a point, a drawing's dash for
// spaces.
func TestParseLengthSentences(t *testing.T) {
	for _, c := range []struct {
		in, want string
	}{
		{"12,5", "point"},
		{"15'-6\"", `Write 15' 6"`},
		{"", `15' 6"`},
		{"-1", "more than zero"},
		{"40000", "10 km"},
		{strings.Repeat("1+", 40) + "1", "too long"},
	} {
		_, err := ParseLength(c.in, US)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("ParseLength(%q): %v; want a sentence with %q", c.in, err, c.want)
		}
	}
	if _, err := ParseLength("", Metric); err == nil || !strings.Contains(err.Error(), "4.7 m") {
		t.Errorf("metric sentence: %v", err)
	}
}

// What is printed reads back within half of the last place printed: a quarter
// inch, or half a centimetre.
func TestLengthReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Feet(rapid.Float64Range(-32807, 32807).Draw(t, "feet"))
		for _, c := range []struct {
			sys  System
			near Feet
		}{{US, 0.25 / 12}, {Metric, Feet(0.005 / MetresPerFoot)}} {
			text := c.sys.Length(f)
			got, err := ParseCoordinate(text, c.sys)
			if err != nil || math.Abs(float64(got-f)) > float64(c.near)+1e-9 {
				t.Fatalf("%v printed %q, read %v, %v", f, text, got, err)
			}
			if again := c.sys.Length(got); again != text {
				t.Fatalf("%q printed again is %q", text, again)
			}
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, row := range lengthVectors(f) {
		f.Add(row.Input)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, sys := range []System{US, Metric} {
			v, err := ParseLength(s, sys)
			if err != nil {
				checkSentence(t, err.Error())
				continue
			}
			if !(v > 0) || v > MaxLength {
				t.Fatalf("ParseLength(%q) = %v", s, v)
			}
			if w, err := ParseCoordinate(s, sys); err != nil || w != v {
				t.Fatalf("as a coordinate %q = %v, %v; want %v", s, w, err, v)
			}
		}
	})
}
