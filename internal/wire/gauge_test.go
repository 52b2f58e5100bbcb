package wire

import (
	"math"
	"testing"

	"evenfall/internal/units"
)

// near reports whether got prints as want does at the same decimals.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %.4f, want %.4f give or take %.4f", what, got, want, within)
	}
}

// New Mexico State University, Soils 456, answers to chapter 11, no. 1 to 3, at the
// precision they are printed with. The key's own 8.3 Ω, rounded, made 1224 ft of wire
// of what is 1229.
func TestWorkedExamplesOfWireRuns(t *testing.T) {
	t.Parallel()
	allowed := (26.0 - 21) / 0.6
	near(t, "W1: ohms allowed", allowed, 8.33, 0.005)
	near(t, "W1: feet of wire", math.Round(allowed*10)/10/6.78*1000, 1224, 0.5)
	near(t, "W1: feet from the controller", float64(LongestRun(5, 0.6, 6.78, 6.78)), 614.6, 0.05)
	near(t, "W1: feet from the controller, of the rounded ohms", float64(LongestRun(8.3*0.6, 0.6, 6.78, 6.78)), 612, 0.5)

	near(t, "W2: ohms", 6.78+2.68, 9.46, 0.005)
	drop := Drop(0.5, 1000, 6.78, 2.68)
	near(t, "W2: volts lost", drop, 4.72, 0.0101) // 4.73; the key cut it off
	near(t, "W2: volts at the valve", 24-drop, 19.27, 0.005)

	near(t, "W3: ohms to 1,000 ft", MostResistance(2, 0.4, 2000), 1.25, 0.005)
	if got := thinnestUnder(MostResistance(2, 0.4, 2000), 20); got != 10 {
		t.Errorf("W3: %d AWG, want 10", got)
	}
}

func thinnestUnder(most, celsius float64) int {
	for _, g := range Gauges() {
		if Resistance(g.AWG, celsius) <= most {
			return g.AWG
		}
	}
	return 0
}

// A published table of the longest one-way runs in feet for 4 V and 0.37 A. Its last
// row is off: 8700 ft want 0.621 Ω to 1,000 ft, where its own column of resistances
// has 0.63.
func TestRow37_LongestRunsAreTheTables(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		hot, common  int
		feet, within float64
	}{
		{18, 18, 850, 0.005}, {18, 16, 1040, 0.005}, {18, 14, 1210, 0.005},
		{16, 16, 1340, 0.005}, {14, 14, 2150, 0.005}, {14, 12, 2630, 0.005},
		{12, 12, 3390, 0.005}, {12, 10, 4170, 0.005}, {10, 10, 5400, 0.005}, {8, 8, 8700, 0.015},
	} {
		got := float64(LongestRun(4, 0.37, Resistance(c.hot, 20), Resistance(c.common, 20)))
		if off := math.Abs(got/c.feet - 1); off > c.within {
			t.Errorf("%d x %d: %.0f ft, the table has %.0f (off by %.2f %%)", c.hot, c.common, got, c.feet, 100*off)
		}
	}
}

// The two published columns differ by the warmth of copper alone, to the digits
// printed.
func TestResistancesAreThePublishedOnes(t *testing.T) {
	t.Parallel()
	for _, g := range Gauges() {
		near(t, "20 °C of 75 °C", g.At75*(1-0.00323*55), g.At20, 0.0055)
		near(t, "at 20 °C", Resistance(g.AWG, 20), g.At20, 1e-12)
		near(t, "at 75 °C", Resistance(g.AWG, 75), g.At75, 1e-12)
		// ρ of annealed copper, 0.017241 Ω·mm²/m at 20 °C, over the section.
		near(t, "by the section", 0.017241/section(g.AWG)*304.8, g.At20, 0.01)
	}
	for i, g := range Gauges()[1:] {
		if before := Gauges()[i]; g.AWG >= before.AWG || g.At75 >= before.At75 || g.At20 >= before.At20 {
			t.Errorf("%d AWG is not thicker than %d AWG", g.AWG, before.AWG)
		}
	}
}

func TestGaugeNames(t *testing.T) {
	t.Parallel()
	for awg, want := range map[int]string{18: "18 AWG (0.82 mm²)", 14: "14 AWG (2.08 mm²)", 10: "10 AWG (5.26 mm²)"} {
		if got := GaugeName(units.Metric, awg); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := GaugeName(units.US, 18); got != "18 AWG" {
		t.Errorf("%q", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("a size that is not sold passed")
		}
	}()
	Resistance(17, 20)
}
