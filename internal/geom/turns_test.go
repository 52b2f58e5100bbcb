package geom

import (
	"math"
	"testing"
)

// A square with one corner rounded by a quarter circle turns at three corners, and at
// neither end of the arc; a line turns at its bends and ends.
func TestTurns(t *testing.T) {
	t.Parallel()
	quarter := math.Tan(math.Pi / 8)
	o := Outline{{X: 20}, {X: 100}, {X: 100, Y: 100}, {Y: 100}, {Y: 20, Bulge: quarter}}
	for i, want := range []float64{0, 90, 90, 90, 0} {
		if got := o.Turns()[i]; math.Abs(got-want) > 1e-9 {
			t.Errorf("vertex %d turns %g°, want %g°", i, got, want)
		}
	}
	bend := Line{{X: 0}, {X: 10}, {X: 20, Y: 10}, {X: 30, Y: 20}}
	for i, want := range []float64{180, 45, 0, 180} {
		if got := bend.Turns()[i]; math.Abs(got-want) > 1e-9 {
			t.Errorf("vertex %d of the line turns %g°, want %g°", i, got, want)
		}
	}
	if got := (Outline{{X: 1, Y: 1}, {X: 1, Y: 1}}).Turns(); got[0] != 0 || got[1] != 0 {
		t.Errorf("one place turns %v", got)
	}
	if got := (Line{{X: 1}}).Turns(); len(got) != 1 || got[0] != 180 {
		t.Errorf("a line of one place turns %v", got)
	}
}
