package catalog

import (
	"math"
	"testing"

	"evenfall/internal/units"
)

// Every built-in nozzle goes on without a step at both ends of its table, throw
// and flow never falling with the pressure, and its low-pressure profile is one a
// nozzle may have, with its source said.
func TestContinuedJoinsTheTable(t *testing.T) {
	for _, e := range Nozzles() {
		if e.Low == nil || e.Low.Source == "" {
			t.Fatalf("%s does not say what becomes of its water under the table", e.ID)
		}
		least, last := e.Rows[0], e.Rows[len(e.Rows)-1]
		for _, p := range []units.PSI{least.Pressure, last.Pressure} {
			r0, q0, _ := e.Continued(p * (1 - 1e-9))
			r1, q1, _ := e.Continued(p * (1 + 1e-9))
			if math.Abs(float64(r1-r0)) > 1e-6 || math.Abs(float64(q1-q0)) > 1e-6 {
				t.Errorf("%s jumps at %g psi: %g to %g ft, %g to %g gpm", e.ID, p, r0, r1, q0, q1)
			}
		}
		var r, q float64
		for p := 0.0; p < 200; p += 0.5 {
			r1, q1, side := e.Continued(units.PSI(p))
			if float64(r1) < r || float64(q1) < q {
				t.Errorf("%s throws or gives less at %g psi", e.ID, p)
			}
			if want := map[bool]Side{p < float64(least.Pressure): Under, p > float64(last.Pressure): Over}[true]; side != want {
				t.Errorf("%s at %g psi stands %v to its table", e.ID, p, side)
			}
			r, q = float64(r1), float64(q1)
		}
		if r, q, _ := e.Continued(units.PSI(math.NaN())); r != 0 || q != 0 {
			t.Errorf("%s gives water at no number", e.ID)
		}
		// Rows made to grow by the power 0.28, to a quarter foot.
		if g := e.throwGrowth(); g < 0.2 || g > 0.4 {
			t.Errorf("%s grows by the power %.3g; the rows were made with 0.28", e.ID, g)
		}
	}
}

// What is wrong with a low-pressure profile is said at its place.
func TestLowPressureProfileIsChecked(t *testing.T) {
	n, _ := FindNozzle("spray-10-h")
	n.Low = &LowPressure{Profile: Profile{Kind: ProfileTable, Shares: []float64{0, 0}}}
	f, ok := n.Validate().(*Fault)
	if !ok || f.Member != "/low_pressure/profile/shares" {
		t.Errorf("a profile of zeros: %v", n.Validate())
	}
	n.Low = nil
	if err := n.Validate(); err != nil {
		t.Errorf("a nozzle that says nothing of low pressure: %v", err)
	}
}
