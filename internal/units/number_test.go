package units

import (
	"errors"
	"math"
	"regexp"
	"strings"
	"testing"
)

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		in   string
		want float64
	}{
		{"12", 12}, {"12.5", 12.5}, {".5", 0.5}, {"5.", 5}, {"-3", -3}, {"+3", 3},
		{" 7 ", 7}, {"\u00a07", 7}, {"1.5e-3", 0.0015}, {"1.5E+03", 1500}, {"-0", 0},
		{"1e12", 1e12}, {"0.1", 0.1}, {"1e-400", 0},
	} {
		got, err := ParseNumber(c.in)
		if err != nil || got != c.want || math.Signbit(got) != math.Signbit(c.want) {
			t.Errorf("ParseNumber(%q) = %v, %v; want %v", c.in, got, err, c.want)
		}
	}
}

func TestParseNumberRefuses(t *testing.T) {
	for _, in := range []string{
		"", " ", "abc", "1,5", "1,250.5", "NaN", "nan", "Inf", "+Inf", "infinity",
		"0x1p4", "0x10", "1_000", "1e999", "1e13", "-1e13", "1e", "1e+", "e5", "+", "-", "--1",
		"+-1", ".", "1.2.3", "1 2", "12 ft", "١٢", "1e5.5", "½", "1\x00",
		strings.Repeat("1", 41),
	} {
		got, err := ParseNumber(in)
		var refusal *Refusal
		if !errors.As(err, &refusal) {
			t.Errorf("ParseNumber(%q) = %v, %v; want a refusal", in, got, err)
			continue
		}
		checkSentence(t, refusal.Sentence)
	}
}

// checkSentence holds a refusal to what every sentence to the user must be.
// quoted is what a sentence repeats of what was typed, from the first opening
// mark to the last closing one: the text typed may hold such marks itself.
var quoted = regexp.MustCompile(`(?s)“.*”`)

func checkSentence(t *testing.T, s string) {
	t.Helper()
	if !strings.HasSuffix(s, ".") || len(s) < 15 {
		t.Errorf("sentence %q does not end as one", s)
	}
	// What was typed is quoted back and may say anything; only our words are judged.
	ours := strings.ToLower(quoted.ReplaceAllString(s, "“”"))
	for _, banned := range []string{"invalid", "illegal", "oops", "failed to parse", "something went wrong"} {
		if strings.Contains(ours, banned) {
			t.Errorf("sentence %q says %q", s, banned)
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"12.5", "1e999", "NaN", "0x1p4", "1_000", "-0", "1,5", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseNumber(s)
		if err != nil {
			checkSentence(t, err.Error())
			return
		}
		if !isFinite(v) || math.Abs(v) > greatestNumber {
			t.Fatalf("ParseNumber(%q) = %v", s, v)
		}
	})
}
