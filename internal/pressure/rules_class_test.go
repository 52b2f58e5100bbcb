package pressure

import (
	"math"
	"testing"

	"evenfall/internal/catalog"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Row 32: the class is held to what it has to bear. Polyethylene of 100 psi: at 60
// psi of rest 2 heads of 2 gpm run 1.49 ft/s in 1 in, and its wall of .070 on 1.189
// in makes 12.4 psi a ft/s (the form of New Mexico State University, by hand:
// 4700 √(100,000 / (100,000 + 294,000 · 1.189/.070)) = 657.8 ft/s; ·62.4/(144·32.2)
// = 8.85 psi). 60 and 13.2 psi are within 100.
func TestClassIsHeldToRestAndSurge(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(y yard)
		rank   plan.Rank
		says   string
	}{
		{"within", func(yard) {}, "", ""},
		{"rest over 72 %", func(y yard) { y.Supply.StaticPSI = 75; y.Supply.ResidualPSI = 65 }, plan.Mend,
			"1 pipe of the main stands at up to 75 psi with nothing running, more than 72 % of the rating of 100 psi."},
		{"rest just at 72 %", func(y yard) { y.Supply.StaticPSI = 72; y.Supply.ResidualPSI = 62 }, "", ""},
		{"the highest reading counts", func(y yard) {
			y.Supply.Statics = map[plan.ID]plan.StaticReading{"r1": {PSI: 60}, "r2": {PSI: 80}}
		}, plan.Mend, "1 pipe of the main stands at up to 80 psi with nothing running, more than 72 % of the rating of 100 psi."},
		{"a regulator holds it down", func(y yard) {
			y.Supply.StaticPSI, y.Supply.ResidualPSI, y.Supply.Regulator, y.Supply.RegulatorPSI = 90, 80, true, 60
		}, "", ""},
		{"a lower valve stands under more", func(y yard) {
			y.Supply.StaticPSI, y.Supply.ResidualPSI = 71, 61
			y.Elevations["e1"], y.Elevations["e2"] = plan.Elevation{X: 0, Z: 0}, plan.Elevation{X: 20, Z: -10} // 4.3 psi
		}, plan.Mend, "1 pipe of the main stands at up to 75.3 psi with nothing running, more than 72 % of the rating of 100 psi."},
		{"class 200 on a main is no fault", func(y yard) {
			e := y.Pipes["p01"]
			e.Class = "pvc-class200"
			y.Pipes["p01"] = e
		}, "", ""},
	} {
		y := straight(2)
		e := y.Pipes["p01"]
		e.Class = "pe-100"
		y.Pipes["p01"] = e
		c.change(y)
		_, found := Compute(y.Plan, pipework.Of(y.Plan))
		var got plan.Finding
		for _, f := range found {
			if f.Code == plan.ClassUnderPressure {
				got = f
			}
		}
		if got.Rank != c.rank || got.Sentence != c.says {
			t.Errorf("%s: %s %q, want %s %q", c.name, got.Rank, got.Sentence, c.rank, c.says)
		}
	}
}

// A surge is told both ways: of a valve that shuts in a second, and of an instant
// stop. The pipe is made weak, so that its rating lies between the two.
func TestSurgeIsToldBothWays(t *testing.T) {
	for _, c := range []struct {
		rating float64
		rank   plan.Rank
	}{{86, plan.Notice}, {130, ""}} {
		y := straight(2)
		class, _ := catalog.FindPipeClass("pvc-sch40")
		class.Sizes = append([]catalog.PipeSize(nil), class.Sizes...)
		for i := range class.Sizes {
			class.Sizes[i].Rating = units.PSI(c.rating)
		}
		y.PipeClasses["weak"] = class
		e := y.Pipes["p01"]
		e.Class = "weak"
		y.Pipes["p01"] = e
		r, found := Compute(y.Plan, pipework.Of(y.Plan))
		var rank plan.Rank
		for _, f := range found {
			if f.Code == plan.ClassUnderPressure {
				rank = f.Rank
				// 22.0 psi a ft/s for 1 in Schedule 40: reference page, b8.
				v := math.Abs(float64(r.Zones[0].Pipes[0].Velocity))
				if l := newWater(y.Plan, pipework.Of(y.Plan)).loads(r)[0]; math.Abs(float64(l.instant-l.rest)-22*v) > 0.1*v {
					t.Errorf("an instant stop of %.2f ft/s adds %v", v, l.instant-l.rest)
				}
			}
		}
		if rank != c.rank {
			t.Errorf("rated %v: %q, want %q", c.rating, rank, c.rank)
		}
	}
}
