package audit

import (
	"context"
	"math"
	"testing"
)

// FuzzFit asks for the faults of yards that make no sense: heads that bring the same, far
// too much or next to nothing, catches of any size. What is told is finite and in order,
// or the problem is refused in a sentence.
func FuzzFit(f *testing.F) {
	f.Add(uint8(3), uint8(8), uint8(6), 1.0, 1.0, []byte{9, 200, 31, 8, 0, 0, 77, 130, 5, 66, 90, 14})
	f.Add(uint8(1), uint8(1), uint8(0), 1.0, 1.0, []byte{255})
	f.Add(uint8(5), uint8(4), uint8(0), 1e-9, 1e6, []byte{1, 1, 1, 1, 2, 2, 2, 2})
	f.Add(uint8(2), uint8(12), uint8(7), 1e9, 1e-30, []byte{0, 255, 0, 255, 128})
	f.Add(uint8(4), uint8(6), uint8(8), 0.0, 1.0, []byte{0})
	f.Add(uint8(0), uint8(0), uint8(3), math.Inf(1), -1.0, []byte{3})
	f.Fuzz(func(t *testing.T, heads, cans, directions uint8, bring, caught float64, b []byte) {
		h, n, k := int(heads%7), int(cans%16), int(directions%9)
		at := 0
		next := func() float64 {
			if len(b) == 0 {
				return 0
			}
			at++
			return float64(b[at%len(b)])
		}
		row := func(by float64) []float64 {
			v := make([]float64, n)
			for i := range v {
				v[i] = by * next()
			}
			return v
		}
		p := Problem{Catches: row(caught)}
		for i := range h {
			g := Head{ID: labID(i), Zone: labID(int(next()) % 2), Upright: row(bring)}
			for range k {
				g.Leaning = append(g.Leaning, row(bring))
			}
			p.Heads = append(p.Heads, g)
		}
		got, err := Fit(context.Background(), p)
		if err != nil {
			if got != nil || err.Error() == "" {
				t.Errorf("refused, and yet %+v", got)
			}
			return
		}
		finite := func(what string, v ...float64) {
			for _, x := range v {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%s is %g: %+v of %+v", what, x, got, p)
				}
			}
		}
		if len(got.Heads) != h || len(got.Cans) != n {
			t.Fatalf("%d heads and %d cans of %d and %d", len(got.Heads), len(got.Cans), h, n)
		}
		for _, g := range got.Heads {
			finite("a figure of a head", g.Chance, g.LowChance, g.HighChance, g.LeanChance, g.Output, g.Low, g.High, g.Reach, float64(g.TiltDeg), float64(g.TiltToward), float64(g.TiltLow), float64(g.TiltHigh), g.WayChance)
			if !(0 <= g.Low && g.Low <= g.Output && g.Output <= g.High) || g.Chance < -1e-9 || g.Chance > 1+1e-9 || g.TiltDeg < 0 || g.TiltDeg > StandardTilt || g.TiltLow > g.TiltDeg || g.TiltHigh < g.TiltDeg || g.WayChance > 1+1e-9 {
				t.Errorf("%+v", g)
			}
		}
		for _, z := range got.Zones {
			finite("a figure of a zone", z.Output, z.Low, z.High)
		}
		for _, c := range got.Cans {
			finite("a figure of a can", c.Drawn, c.Fitted, c.Spilt)
		}
		finite("a figure of the fit", got.Sigma, got.Explains)
	})
}
