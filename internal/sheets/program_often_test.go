package sheets

import (
	"strings"
	"testing"

	"evenfall/internal/units"
)

// Soil that lasts less than a day is told of by the starts that its water wants, in the
// month where it does and in no other.
func TestOftenSays(t *testing.T) {
	t.Parallel()
	p, prog := watered(t)
	if got := OftenSays(p, prog, 6); got != "" {
		t.Errorf("soil of days: %q", got)
	}
	a := &prog.Asked.Input.Areas[0]
	a.Holds = a.Need[6] / units.Inches(a.Depleted) / 2.5
	got := OftenSays(p, prog, 6)
	for _, want := range []string{"Front lawn", "in 3 starts or more", "local rules"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	if !strings.HasSuffix(MonthSays(p, prog, 6), got) || strings.Contains(got, "Island") {
		t.Errorf("%q", MonthSays(p, prog, 6))
	}
	if got := OftenSays(p, prog, 0); got != "" {
		t.Errorf("January, when nothing is needed: %q", got)
	}
}
