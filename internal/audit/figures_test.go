package audit

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"evenfall/internal/coverage"
	"evenfall/internal/units"
	"evenfall/internal/watering"
)

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

func figures(t testing.TB, catches []float64) Figures {
	t.Helper()
	f, err := FiguresOf(catches)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Published catches, by the ids of reference/agronomy.md (b): b-2 A. M. Michael,
// Irrigation Theory and Practice, in a bank of exam questions; b-4 the same author, from
// memory; b-5 Irrigation Notes 880106; b-c1 and b-c3 made for their exact answers.
func TestPublishedCatches(t *testing.T) {
	t.Parallel()
	var steps []float64
	for v := 20.0; v <= 50; v += 2 {
		steps = append(steps, v)
	}
	michael := []float64{8.9, 7.6, 6.6, 8.1, 7.6, 9.9, 10.2, 8.3, 8.9, 9.1, 9.1, 9.4, 8.9, 9.4, 7.9, 9.1, 8.6, 9.1, 7.9, 6.6, 6.8}
	for _, c := range []struct {
		id                  string
		catches             []float64
		mean, cu, quarter   float64
		half, by, sc, mean4 float64 // mean4: of the low quarter
	}{
		{"b-2", []float64{10, 12, 14, 8}, 11, 0.81818, 0.7273, 0.8182, 5e-5, 11.0 / 8, 8},
		{"b-4", michael, 8.476, 0.9002, 0.8354, 0.8966, 1e-4, 8.476 / 6.6, 7.0810},
		{"b-5, 2 and 2", []float64{8, 12}, 10, 0.8, 0.8, 0.8, 1e-12, 1.25, 8},
		{"b-c1", steps, 35, 27.0 / 35, 23.0 / 35, 0.771429, 5e-7, 1.75, 23},
		{"b-c3", []float64{1, 2, 3, 4, 5, 6}, 3.5, 0.571429, 0.380952, 0.571429, 5e-7, 3.5, 4.0 / 3},
	} {
		f := figures(t, c.catches)
		near(t, c.id+" mean", f.Mean, c.mean, max(c.by, 5e-4))
		near(t, c.id+" CU", float64(f.CU), c.cu, c.by)
		near(t, c.id+" low quarter", float64(f.DULowQuarter), c.quarter, c.by)
		// The half of 21 cans is 10 of them and half of the next; the source takes 10.
		if len(c.catches)%2 == 0 {
			near(t, c.id+" low half", float64(f.DULowHalf), c.half, c.by)
		} else {
			near(t, c.id+" low half of ten", lowest(slices.Sorted(slices.Values(c.catches)), 10.0/21)/f.Mean, c.half, c.by)
		}
		near(t, c.id+" driest", float64(f.SC), c.sc, 1e-3)
		near(t, c.id+" mean of the quarter", f.LowQuarterMean, c.mean4, 1e-3)
		if f.N != len(c.catches) {
			t.Errorf("%s: of %d cans", c.id, f.N)
		}
	}
	// The quarter of b-4 and of b-c3 lies between what whole cans would give: five of 21
	// make .8306 and six .8475, one of six .2857 and two .4286.
	sorted := slices.Sorted(slices.Values(michael))
	near(t, "b-4 five cans", lowest(sorted, 5.0/21)/8.47619, 0.8306, 1e-4)
	near(t, "b-4 six cans", lowest(sorted, 6.0/21)/8.47619, 0.8475, 1e-4)
	near(t, "b-c3 one can", lowest([]float64{1, 2, 3, 4, 5, 6}, 1.0/6)/3.5, 0.285714, 1e-6)
	near(t, "b-c3 two cans", lowest([]float64{1, 2, 3, 4, 5, 6}, 2.0/6)/3.5, 0.428571, 1e-6)
	near(t, "b-4 sum", figures(t, michael).Total, 178.0, 1e-9)
}

// Rates as printed: b-3 City of Fort Collins, Water-wise lawn care (1994); b-6 a note on
// a can of 262 ml an inch; c-1, c-2 the auditors' worksheet; c-3 made; c-4 the same in
// metric units; c-5 cups marked in inches; b-7, b-8 what the scheduling coefficient does.
func TestPublishedRates(t *testing.T) {
	t.Parallel()
	rate := func(ml, minutes, in2 float64) float64 {
		r, err := Rate(ml, minutes, in2)
		if err != nil {
			t.Fatal(err)
		}
		return float64(r)
	}
	near(t, "c-1, the printed factor", rate(1, 1, 1), 3.66, 0.005)
	near(t, "c-2", rate(1, 1, 1), 60*0.0610237, 1e-5)
	near(t, "c-3", rate(28, 10, 16.5), 0.621, 5e-4)
	cm2 := 16.5 * 2.54 * 2.54
	near(t, "c-4", units.InchesPerHour(rate(28, 10, 16.5)).MillimetresPerHour(), 600*28/(cm2*10), 1e-9)
	inches, err := Depth(52, 262/MillilitresPerCubicInch)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b-6", float64(inches), 0.1985, 5e-5)
	for _, c := range []struct {
		id            string
		cans          []float64
		minutes, want float64
	}{
		{"b-3", []float64{1. / 8, 2. / 8, 3. / 8, 2. / 8, 3. / 8, 1. / 8}, 15, 1.0},
		{"c-5", []float64{0.3, 0.5}, 20, 0.4 * 60 / 20},
	} {
		r, err := RateOfDepth(units.Inches(figures(t, c.cans).Mean), c.minutes)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.id, float64(r), c.want, 1e-12)
	}
	near(t, "b-3 mean", figures(t, []float64{1. / 8, 2. / 8, 3. / 8, 2. / 8, 3. / 8, 1. / 8}).Mean, 2.0/8, 1e-12)
	// Ten cans that bring a mean of 9, the driest of them 5: SC 1.8, so 30 min are 54.
	sc := float64(figures(t, []float64{5, 9, 9, 9, 13, 9, 9, 9, 9, 9}).SC)
	near(t, "b-7", 30*sc, 54, 1e-9)
	driest := float64(figures(t, []float64{7, 12, 17}).SC)
	near(t, "b-8", driest, 1.714, 5e-4)
	near(t, "b-8, hours a day", 9.0/12*driest, 1.286, 5e-4)

	for _, c := range []struct {
		minutes, in2 float64
		want         error
	}{{0, 16.5, ErrMinutes}, {-3, 16.5, ErrMinutes}, {10, 0, ErrThroat}, {10, math.Inf(1), ErrThroat}, {math.NaN(), 16.5, ErrMinutes}} {
		if _, err := Rate(28, c.minutes, c.in2); !errors.Is(err, c.want) {
			t.Errorf("%g min, %g in²: %v", c.minutes, c.in2, err)
		}
	}
}

// What run times make up for by an audit: the table of agronomy.md (c), c-6, c-7 and c-8,
// by the two packages that hold the form.
func TestRunTimesByAnAudit(t *testing.T) {
	t.Parallel()
	table := []struct{ du, times float64 }{
		{0.40, 1.5625}, {0.45, 1.4925}, {0.50, 1.4286}, {0.55, 1.3699}, {0.60, 1.3158}, {0.65, 1.2658}, {0.70, 1.2195},
		{0.75, 1.1765}, {0.80, 1.1364}, {0.85, 1.0989}, {0.90, 1.0638}, {0.95, 1.0309}, {1.0, 1.0},
	}
	for _, c := range table {
		// Four cans whose driest is that share of their mean.
		rest := (4 - c.du) / 3
		du := figures(t, []float64{c.du, rest, rest, rest}).DULowQuarter
		near(t, "DU", float64(du), c.du, 1e-12)
		near(t, "c-6 by the board", coverage.RunTimeMultiplier(du), c.times, 5e-5)
		near(t, "c-6 by the program", watering.Multiplier(du, watering.Half), c.times, 5e-5)
	}
	near(t, "1/DU", watering.Multiplier(0.65, watering.Quarter), 1.538, 5e-4)
	near(t, "1/DU", watering.Multiplier(0.75, watering.Quarter), 1.333, 5e-4)
	// c-8 and the form of the multiplier take the low half from the low quarter: within
	// 0.01 of each other for any system that is worth an audit, and c-7 is one over it.
	for _, c := range table {
		near(t, "c-8", 0.386+0.614*c.du, 1/coverage.RunTimeMultiplier(units.Ratio(c.du)), 0.0141)
	}
	// Where the pattern is strong the forms are light (b-1): one over the true low half is
	// longer than the multiplier of the low quarter.
	if by, of := 1/0.7995, coverage.RunTimeMultiplier(0.7475); by <= of {
		t.Errorf("by the low half %g, by the low quarter %g", by, of)
	}
}

// A paper once printed rates with the 0.866 of a triangle taken twice (a-9 of
// reference/agronomy.md), and another CU above the low half: neither can come out here.
func TestNegativeOracles(t *testing.T) {
	t.Parallel()
	near(t, "a-9", float64(units.SpacingRate(6, 30, 25)), 0.770, 5e-4)
	if r := float64(units.SpacingRate(6, 30, 25)); math.Abs(r-0.89) < 0.05 {
		t.Errorf("a rate of %g: a measured row was taken for a triangle's", r)
	}
	// Leaving out cans that caught nothing would make this even.
	if f := figures(t, []float64{0, 0, 1, 1, 1, 1, 1, 1}); f.DULowQuarter != 0 || f.CU > 0.51 || f.SC != 0 {
		t.Errorf("dry cans are not counted: %+v", f)
	}
}

// The identities of agronomy.md (b), on sets drawn at random: CU by the cans below the
// mean, CU no more than the low half for even numbers of cans, the low quarter no more
// than the low half; and what a unit, an order and a copy of all cans change: nothing.
func TestIdentities(t *testing.T) {
	t.Parallel()
	equal := 0
	for seed := range uint64(2000) {
		rng := rand.New(rand.NewPCG(seed, 3))
		catches := make([]float64, 2+rng.IntN(60))
		for i := range catches {
			catches[i] = rng.ExpFloat64()
			if rng.IntN(3) == 0 {
				catches[i] = float64(rng.IntN(4))
			}
		}
		catches[0] += 0.1
		f := figures(t, catches)
		low, n := 0.0, 0
		for _, c := range catches {
			if c < f.Mean {
				low += c
				n++
			}
		}
		under := 0.0
		if n > 0 {
			under = 2 * float64(f.Under) * (1 - low/float64(n)/f.Mean)
		}
		near(t, "1 − CU", 1-float64(f.CU), under, 1e-9)
		if len(catches)%2 == 0 {
			if f.CU > f.DULowHalf+1e-12 {
				t.Errorf("seed %d: CU %g above the low half %g", seed, f.CU, f.DULowHalf)
			}
			if 2*n == len(catches) {
				equal++
				near(t, "CU of halves", float64(f.CU), float64(f.DULowHalf), 1e-9)
			}
		}
		if f.DULowQuarter > f.DULowHalf+1e-12 || f.DULowHalf > 1+1e-12 || f.DULowQuarter < 0 {
			t.Errorf("seed %d: low quarter %g, half %g", seed, f.DULowQuarter, f.DULowHalf)
		}
		if f.CU < f.DULowQuarter-1e-12 && 2*n <= len(catches) && len(catches)%4 == 0 {
			t.Errorf("seed %d: CU %g below the low quarter %g without a skew", seed, f.CU, f.DULowQuarter)
		}
		other := slices.Clone(catches)
		rng.Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
		for i := range other {
			other[i] *= 25.4
		}
		g := figures(t, append(other, other...))
		for i, pair := range [][2]units.Ratio{{f.CU, g.CU}, {f.DULowQuarter, g.DULowQuarter}, {f.DULowHalf, g.DULowHalf}, {f.SC, g.SC}, {f.Under, g.Under}} {
			near(t, []string{"CU", "low quarter", "low half", "SC", "under"}[i], float64(pair[1]), float64(pair[0]), 1e-9*max(1, float64(f.SC)))
		}
	}
	if equal < 50 {
		t.Errorf("only %d sets with half of their cans below the mean", equal)
	}
}

func TestCatchesThatAreNone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		catches []float64
		want    string
	}{
		{nil, "at least 2 cans"},
		{[]float64{3}, "at least 2 cans"},
		{[]float64{0, 0, 0}, "none of the cans caught water"},
		{[]float64{1, -2}, "can 2: a catch of -2 is below nothing"},
		{[]float64{math.NaN(), 2}, "can 1: NaN is no amount"},
		{[]float64{1, 2, math.Inf(1)}, "can 3: +Inf is no amount"},
		{[]float64{1, 1e300}, "can 2: 1e+300 is no amount"},
	} {
		if _, err := FiguresOf(c.catches); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.catches, err)
		}
	}
}

func FuzzFigures(f *testing.F) {
	f.Add([]byte{10, 12, 14, 8}, 1.0)
	f.Add([]byte{0, 0, 0}, 1.0)
	f.Add([]byte{1, 2, 3, 4, 5, 6}, 1e-300)
	f.Add([]byte{255, 0}, 1e300)
	f.Add([]byte{7}, -1.0)
	f.Fuzz(func(t *testing.T, b []byte, unit float64) {
		catches := make([]float64, len(b))
		for i, v := range b {
			catches[i] = float64(v) * unit
		}
		got, err := FiguresOf(catches)
		if err != nil {
			if got != (Figures{}) {
				t.Errorf("refused, and yet %+v", got)
			}
			return
		}
		for _, v := range []units.Ratio{got.DULowQuarter, got.DULowHalf, got.Under} {
			if !(v >= 0 && v <= 1+1e-9) {
				t.Errorf("%v: %+v", catches, got)
			}
		}
		if !(got.CU <= 1 && got.CU >= -1) || !(got.SC == 0 || got.SC >= 1-1e-9) || math.IsInf(float64(got.SC), 0) {
			t.Errorf("%v: %+v", catches, got)
		}
	})
}

func BenchmarkFigures(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 4))
	catches := make([]float64, 200)
	for i := range catches {
		catches[i] = rng.ExpFloat64()
	}
	for b.Loop() {
		figures(b, catches)
	}
}
