package units

import (
	"errors"
	"strings"
	"testing"
)

func TestNumbersKeepWithinTheirBounds(t *testing.T) {
	t.Parallel()
	for s, says := range map[string]string{
		"0": "", "2.5": "", "100": "", "-0.1": "from 0 to 100", "100.5": "from 0 to 100",
		"": "Nothing is written", "NaN": "not a number", "1,5": "comma", "1e400": "too large",
	} {
		v, err := ParseBetween("The share", s, 0, 100)
		var no *Refusal
		switch {
		case says == "" && (err != nil || v < 0 || v > 100):
			t.Errorf("%q reads as %g, %v", s, v, err)
		case says != "" && (!errors.As(err, &no) || !strings.Contains(no.Sentence, says)):
			t.Errorf("%q: %v, want %q", s, err, says)
		}
	}
	if n, err := ParseCount("The seed", "999999999", 0, 1e9); err != nil || n != 999999999 {
		t.Errorf("%d %v", n, err)
	}
	if n, err := ParseCount("The seed", "1.5", 0, 9); err == nil || !strings.Contains(err.Error(), "whole") {
		t.Errorf("%d %v", n, err)
	}
}
