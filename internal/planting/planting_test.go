package planting

import (
	"math"
	"strings"
	"testing"

	"evenfall/internal/units"
)

func near(t *testing.T, what string, got, printed, within float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-printed) > within {
		t.Errorf("%s is %.6g, printed %.6g", what, got, printed)
	}
}

// The months of the table by their sums, and S623 for the year as the table prints it.
func TestTurfByMonth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind      Kind
		sum, year float64
	}{{CoolTurf, 9.45, .80}, {WarmTurf, 7.81, .60}} {
		sum := 0.0
		for m := range 12 {
			v, source, err := InMonth(c.kind, m)
			if err != nil || source != TurfSource {
				t.Fatal(err, source)
			}
			sum += float64(v)
		}
		near(t, string(c.kind)+": sum", sum, c.sum, 1e-9)
		f, err := FactorOf(c.kind)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(c.kind)+": S623", float64(f.Factor), c.year, 1e-12)
	}
	for kind, row := range map[Kind][12]units.Ratio{
		CoolTurf: {.61, .64, .75, 1.04, .95, .88, .94, .86, .74, .75, .69, .60},
		WarmTurf: {.61, .54, .76, .72, .79, .68, .71, .71, .62, .54, .58, .55},
	} {
		for m, printed := range row {
			if v, _, err := InMonth(kind, m); err != nil || v != printed {
				t.Errorf("%s in month %d: %g, printed %g, %v", kind, m+1, float64(v), float64(printed), err)
			}
		}
	}
	for _, m := range []int{-1, 12} {
		if _, _, err := InMonth(CoolTurf, m); err == nil {
			t.Errorf("month %d is taken", m)
		}
	}
}

func TestEveryKindHasAFactorWithItsSource(t *testing.T) {
	t.Parallel()
	seen := map[Kind]bool{}
	for _, f := range Factors {
		if seen[f.Kind] || f.Name == "" || f.Source == "" || f.Low > f.Factor || f.Factor > f.High || f.High > 1 {
			t.Errorf("%+v", f)
		}
		seen[f.Kind] = true
		if v, source, err := InMonth(f.Kind, 6); err != nil || v <= 0 || source == "" {
			t.Errorf("%s in July: %g, %q, %v", f.Kind, float64(v), source, err)
		}
	}
	// Agronomy e-2: S623, and the ranges of WUCOLS.
	for kind, want := range map[Kind][3]units.Ratio{
		CoolTurf: {.8, .8, .8}, WarmTurf: {.6, .6, .6}, Annuals: {.8, .8, .8}, Woody: {.7, .7, .7}, WoodyArid: {.5, .5, .5}, Desert: {.3, .3, .3},
		VeryLow: {.05, 0, .1}, Low: {.2, .1, .3}, Moderate: {.5, .4, .6}, High: {.8, .7, .9},
	} {
		if f, err := FactorOf(kind); err != nil || [3]units.Ratio{f.Factor, f.Low, f.High} != want {
			t.Errorf("%s: %+v, printed %v, %v", kind, f, want, err)
		}
	}
	if len(seen) != 10 {
		t.Errorf("%d kinds", len(seen))
	}
	if _, err := FactorOf("moss"); err == nil || !strings.Contains(err.Error(), "moss") {
		t.Errorf("%v", err)
	}
}

func TestLandscapeCoefficient(t *testing.T) {
	t.Parallel()
	// UC and DWR guide, chapter 3, example 7: a new planting of species of low use.
	kl, err := Landscape(.2, .5, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "KL of a new planting", float64(kl), .1, 1e-12)
	// Moderate species at 6 in a month: 2.4 to 3.6 in (the same guide).
	f, err := FactorOf(Moderate)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least of moderate", 6*float64(f.Low), 2.4, 1e-12)
	near(t, "most of moderate", 6*float64(f.High), 3.6, 1e-12)
	// CIMIS, "Crop coefficients": .25 in a day at .55; a drip manual: .35 at .5, both in
	// the open. Then dense, beside paving: all three tell.
	for _, c := range []struct{ ks, kd, kmc, et, printed, within float64 }{{.55, 1, 1, .25, .1375, 1e-12}, {.5, 1, 1, .35, .175, 1e-12}, {.5, 1.2, 1.25, 1, .75, 1e-12}} {
		kl, err := Landscape(units.Ratio(c.ks), units.Ratio(c.kd), units.Ratio(c.kmc))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "need", c.et*float64(kl), c.printed, c.within)
	}
	for _, c := range [][3]units.Ratio{{-.1, 1, 1}, {1.6, 1, 1}, {.5, 2.1, 1}, {.5, 1, 2.1}, {units.Ratio(math.NaN()), 1, 1}} {
		if v, err := Landscape(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v is taken: %g", c, float64(v))
		}
	}
}

// Worked examples of the ordinance (agronomy e-5) and of EPA's budget (e-7).
func TestE5_BudgetsComeToTheirPrintedGallons(t *testing.T) {
	t.Parallel()
	must := func(v units.Gallons, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return float64(v)
	}
	near(t, "Fresno", must(Allowance(51.1, .7, 50_000, 0)), 1_108_870, .5)
	near(t, "Fresno with 2,000 ft² special", must(Allowance(51.1, .7, 50_000, 2_000)), 1_127_879, .5)
	// With rain taken off, as Vacaville's code has it: 52.3 in less a quarter of 24 in.
	near(t, "Vacaville", must(Allowance(52.3-.25*24, AllowedHome, 1_000, 0)), 46.3*.62*550, 1e-6)
	// Agronomy e-4: the ordinance's figures that budgets are reckoned with.
	if AllowedHome != .55 || AllowedOther != .45 || AllowedSpecial != 1 || OverheadEffect != .75 || DripEffect != .81 {
		t.Error("figures of 23 CCR 492.4")
	}
	baseline, allowance, err := EPA(7, 5_000)
	near(t, "EPA baseline", must(baseline, err), 21_815.5, .05)
	near(t, "EPA allowance", must(allowance, err), 15_270.9, .06)
	// A landscape whose zones have the allowed adjustment as PF/IE uses just its allowance.
	use := must(Use(51.1, []Hydrozone{{Area: 48_000, Factor: .7 * .75, Efficiency: OverheadEffect}, {Area: 2_000, Special: true}}))
	near(t, "use at the allowance", use, must(Allowance(51.1, .7, 50_000, 2_000)), 1e-6)
	// The 2009 form: ET · .62 · (ΣPF·HA/IE + SLA), by hand.
	use = must(Use(43.5, []Hydrozone{{Area: 1_000, Factor: .8, Efficiency: .71}, {Area: 500, Factor: .3, Efficiency: .81}}))
	near(t, "use of two zones", use, 43.5*.62*(1_126.760563+185.185185), .01)
}

func TestBudgetsRefuseWhatCannotBe(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for name, err := range map[string]error{
		"adjustment": second(Allowance(50, 1.2, 100, 0)),
		"special":    second(Allowance(50, .5, 100, 101)),
		"ET":         second(Allowance(units.Inches(nan), .5, 100, 0)),
		"area":       second(Allowance(50, .5, -1, 0)),
		"efficiency": second(Use(50, []Hydrozone{{Area: 1, Factor: .5}})),
		"factor":     second(Use(50, []Hydrozone{{Area: 1, Factor: units.Ratio(nan), Efficiency: 1}})),
	} {
		if err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second(_ units.Gallons, err error) error { return err }
