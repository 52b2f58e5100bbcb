package pipesize

import (
	"slices"
	"strings"
	"testing"

	"evenfall/internal/units"
)

// What stands close to a limit is said in the check's own line, and what has room
// is not.
func TestRowA28_WhatIsLeftIsSaidWhereItIsLittle(t *testing.T) {
	for _, c := range []struct {
		left  float64
		words string
		want  string
	}{
		{0.02, "0.1 ft/s", " That is close to the limit: 0.1 ft/s left."},
		{0.002, "0.0 ft/s", " That is at the limit: nothing is left."},
		{-0.001, "0 psi", " That is at the limit: nothing is left."},
		{0.06, "0.3 ft/s", ""},
	} {
		if got := closeTo(c.left, c.words); got != c.want {
			t.Errorf("%v of a limit left is told as %q, want %q", c.left, got, c.want)
		}
	}
	for g, want := range map[units.GPM]string{
		1.3: "5.0 ft/s, and should keep to 5.0 ft/s. That is at the limit: nothing is left.",
		1.7: "4.9 ft/s, and should keep to 5.0 ft/s. That is close to the limit: 0.1 ft/s left.",
		1.8: "4.4 ft/s, and should keep to 5.0 ft/s.",
	} {
		y := newYard()
		y.spray("s", g)
		y.lay("", "c", y.zone(1, 6, "s", "open", 20, 12))
		o, _ := propose(t, y)
		if !slices.ContainsFunc(o.Checks, func(c Check) bool { return c.Good && strings.HasSuffix(c.Says, want) }) {
			t.Errorf("six heads of %g gpm: no check ends in %q: %+v", float64(g), want, o.Checks)
		}
	}
}
