package units

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// The same cases hold the page's reader (web/editor/quantity.ts). Values: exact
// conversions, NIST Handbook 44, Appendix C.
func TestRowA2_FlowsAndPressuresReadAsOnThePage(t *testing.T) {
	data, err := os.ReadFile("../../testdata/vectors/quantity.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Kind, Input string
		System      System
		Value       float64
		Error       bool
	}
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		var got float64
		var err error
		switch c.Kind {
		case "flow":
			q, e := ParseFlow(c.Input, c.System)
			got, err = float64(q), e
		case "pressure":
			p, e := ParsePressure(c.Input, c.System)
			got, err = float64(p), e
		case "volume":
			v, e := ParseVolume(c.Input, c.System)
			got, err = float64(v), e
		case "velocity":
			v, e := ParseVelocity(c.Input, c.System)
			got, err = float64(v), e
		case "time":
			v, e := ParseTime(c.Input)
			got, err = float64(v), e
		default:
			t.Fatalf("nothing reads a %s", c.Kind)
		}
		switch {
		case c.Error && err == nil:
			t.Errorf("%s %q (%s) was read as %v", c.Kind, c.Input, c.System, got)
		case !c.Error && (err != nil || math.Abs(got-c.Value) > 1e-3):
			t.Errorf("%s %q (%s): %v, %v, want %v", c.Kind, c.Input, c.System, got, err, c.Value)
		}
	}
}
