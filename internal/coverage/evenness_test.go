package coverage

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenfall/internal/geom"
)

// counted is the histogram of rates that weigh one cell each.
func counted(rates []float64, unit float64) *histogram {
	s := &sample{grid: make([]int32, len(rates))}
	for i, r := range rates {
		s.grid[i] = int32(math.Round(r * unit))
	}
	s.whole = [][]stretch{{{0, int32(len(rates))}}}
	h := new(histogram)
	h.count(s, new(counter))
	return h
}

func TestUniformityOfPublishedCatches(t *testing.T) {
	for _, c := range []struct {
		name       string
		source     string
		catch      []float64
		cu, du, lh float64 // lh: driest half over the mean
		cuWithin   float64
	}{
		{"four cans", "A. M. Michael, Irrigation: Theory and Practice: CU 82 (81.82)",
			[]float64{10, 12, 14, 8}, 0.81818, 0.727273, 0.818182, 1e-5},
		{"21 cans", "A. M. Michael, ibid., from memory: CU about 90; quarter of 5.25 cans, half of 10.5",
			[]float64{8.9, 7.6, 6.6, 8.1, 7.6, 9.9, 10.2, 8.3, 8.9, 9.1, 9.1, 9.4, 8.9, 9.4, 7.9, 9.1, 8.6, 9.1, 7.9, 6.6, 6.8}, 0.9002, 0.8354, 0.90393, 1e-4},
		{"even steps", "exact: 20, 22, … 50",
			[]float64{20, 22, 24, 26, 28, 30, 32, 34, 36, 38, 40, 42, 44, 46, 48, 50}, 27.0 / 35, 23.0 / 35, 27.0 / 35, 1e-6},
		{"six cans, quarter of 1.5", "exact: (1 + 0.5·2)/1.5/3.5",
			[]float64{1, 2, 3, 4, 5, 6}, 4.0 / 7, 0.380952, 4.0 / 7, 1e-6},
		{"all alike", "exact", []float64{3, 3, 3}, 1, 1, 1, 1e-9},
		{"one dry of four", "exact", []float64{0, 4, 4, 4}, 0.5, 0, 2.0 / 3, 1e-6},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := counted(c.catch, 1e6)
			near(t, "CU, "+c.source, h.christiansen(), c.cu, c.cuWithin)
			near(t, "DU", h.lowQuarter(), c.du, 5e-5)
			near(t, "driest half", ratio(h.lowest(0.5), h.mean()), c.lh, 5e-5)
		})
	}
	// Coefficients of Irrigation Notes 880106: mean 10, 8 and 12 stray by 2 each.
	near(t, "8 and 12", counted([]float64{8, 12}, 1e6).christiansen(), 0.8, 1e-9)
}

func TestNothingToRead(t *testing.T) {
	for name, h := range map[string]*histogram{
		"no ground": counted(nil, 1), "no water": counted([]float64{0, 0, 0}, 1),
	} {
		for what, v := range map[string]float64{
			"mean": h.mean(), "DU": h.lowQuarter(), "CU": h.christiansen(), "lowest": h.lowest(0.02),
		} {
			if v != 0 {
				t.Errorf("%s: %s is %g, want 0", name, what, v)
			}
		}
	}
}

// sorted is the slow way: all rates in order, with weights.
func sorted(s *sample) []atom {
	var all []atom
	for _, w := range s.whole {
		for _, k := range w {
			for _, r := range s.grid[k.cell : k.cell+k.n] {
				all = append(all, atom{float64(r), weightOne})
			}
		}
	}
	for _, p := range s.parts {
		all = append(all, atom{float64(p.rate), float64(p.weight)})
	}
	slices.SortFunc(all, func(a, b atom) int { return cmp.Compare(a.rate, b.rate) })
	return all
}

func lowestOf(all []atom, share float64) (low, mean, cu float64) {
	total, sum := 0.0, 0.0
	for _, a := range all {
		total += a.weight
		sum += a.weight * a.rate
	}
	mean = sum / total
	got, need := 0.0, share*total
	for _, a := range all {
		take := math.Min(a.weight, need-got)
		if take <= 0 {
			break
		}
		got += take
		low += take * a.rate
	}
	stray := 0.0
	for _, a := range all {
		stray += a.weight * math.Abs(a.rate-mean)
	}
	return low / need, mean, 1 - stray/sum
}

// The histogram against a full sort, on rates of every kind: smooth, in steps,
// with zeros, with far outliers, whole cells and parts.
func TestHistogramAgainstSort(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 41))
	kinds := []struct {
		name   string
		within float64
		rate   func() float64
	}{
		{"smooth", 2e-6, func() float64 { return 6e6 * (1 + 0.3*r.NormFloat64()) }},
		{"steps", 1e-4, func() float64 { return 1.1e6 * float64(r.IntN(5)) }},
		{"half dry", 2e-6, func() float64 { return math.Max(0, 4e6*r.NormFloat64()) }},
		{"outliers", 2e-4, func() float64 { return 3e6 * math.Exp(r.NormFloat64()) }},
		{"tiny", 1e-9, func() float64 { return float64(r.IntN(9)) }},
		{"one rate", 1e-9, func() float64 { return 7654321 }},
	}
	var c counter
	h := new(histogram)
	for _, k := range kinds {
		for range 20 {
			n := 5000 + r.IntN(5000)
			s := &sample{grid: make([]int32, n)}
			for i := range s.grid {
				s.grid[i] = int32(math.Max(0, math.Min(k.rate(), math.MaxInt32)))
			}
			a := int32(r.IntN(n))
			s.whole = [][]stretch{{{0, a}}, {{a, int32(n) - a}}}
			for range 300 {
				s.parts = append(s.parts, weighed{uint32(math.Max(0, math.Min(k.rate(), math.MaxInt32))), int64(1 + r.IntN(weightOne-1))})
			}
			h.count(s, &c) // reused: what was there before must not matter
			all := sorted(s)
			for _, share := range []float64{0.02, 0.25, 0.5} {
				low, mean, cu := lowestOf(all, share)
				near(t, k.name+" mean", h.mean()/mean, 1, 1e-12)
				near(t, k.name+" lowest", h.lowest(share)/mean, low/mean, k.within)
				near(t, k.name+" CU", h.christiansen(), cu, k.within)
			}
			fresh := new(histogram)
			fresh.count(s, &c)
			if fresh.shift != h.shift || fresh.lowest(0.25) != h.lowest(0.25) {
				t.Fatalf("%s: a histogram used before differs from a fresh one", k.name)
			}
		}
	}
}

// Identities that hold for any catch: 1 - CU is twice the share below the mean
// times what it falls short; the driest quarter is not wetter than the driest
// half; and CU is at most the driest half over the mean.
func TestUniformityIdentities(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 47))
	for range 2000 {
		n := 2 * (1 + r.IntN(60))
		catch := make([]float64, n)
		for i := range catch {
			catch[i] = math.Round(1e6 * math.Exp(r.NormFloat64()))
		}
		h := counted(catch, 1)
		m := h.mean()
		below, sum := 0.0, 0.0
		for _, c := range catch {
			if c < m {
				below++
				sum += c
			}
		}
		if below == 0 {
			continue
		}
		cu, half := h.christiansen(), ratio(h.lowest(0.5), m)
		near(t, "1 - CU", 1-cu, 2*below/float64(n)*(1-sum/below/m), 1e-3)
		if h.lowQuarter() > half+1e-9 {
			t.Fatalf("driest quarter %.6f above driest half %.6f", h.lowQuarter(), half)
		}
		if cu > half+1e-3 {
			t.Fatalf("CU %.6f above driest half %.6f", cu, half)
		}
	}
}

// Two histograms together are the histogram of both grounds.
func TestHistogramPlus(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 59))
	for range 50 {
		var catch [2][]float64
		for i := range catch {
			scale := math.Exp(10 * r.Float64())
			for range 500 {
				catch[i] = append(catch[i], math.Round(1000*scale*r.Float64()))
			}
		}
		both := counted(catch[0], 1).plus(counted(catch[1], 1))
		want := counted(slices.Concat(catch[0], catch[1]), 1)
		near(t, "mean", both.mean()/want.mean(), 1, 1e-12)
		near(t, "DU", both.lowQuarter(), want.lowQuarter(), 1e-3)
		near(t, "CU", both.christiansen(), want.christiansen(), 1e-3)
	}
}

// The scheduling coefficient as CSU Fresno's Irrigation Notes 880802 give it:
// mean over the driest window. A lawn at 12 mm/h with one dry spot of 7 has 1.7.
func TestSchedulingCoefficient(t *testing.T) {
	f := geom.Frame{Cell: 1, NX: 100, NY: 40}
	var b blocks
	b.open(f.All())
	water := 0.0
	for y := range f.NY {
		row := make([]int32, f.NX)
		for x := range row {
			row[x] = 1200
			if x >= 30 && x < 50 && y >= 10 && y < 30 {
				row[x] = 700
			}
			water += float64(row[x])
		}
		b.put(y, 0, row, 1)
	}
	b.sumUp()
	mean := water / 4000
	sc, at := b.schedule(windowShare, 4000, mean, f) // 5 % of 4,000: a window of 14 by 14
	near(t, "SC", sc, mean/700, 1e-9)
	if at == nil || at[0] < 36 || at[0] > 44 || at[1] < 16 || at[1] > 24 {
		t.Errorf("the driest window is at %v, not in the dry spot", at)
	}
	near(t, "12 over 7", 12.0/7, 1.714, 5e-4)
	if n := b.windowSide(4000, 0.01); n != 6 {
		t.Errorf("a window of 1 %% of 4,000 cells is %d wide, want 6", n)
	}
}
