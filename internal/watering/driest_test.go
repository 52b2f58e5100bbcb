package watering

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// The constructed vectors b-c1 and b-c3 of agronomy (b), a quarter in part.
func TestDriestQuarterAsPrinted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, step, to float64
		share, du      float64
	}{{20, 2, 50, .25, .657143}, {1, 1, 6, .25, .380952}, {20, 2, 50, .5, .771429}, {1, 1, 6, 1, 1}} {
		var v []float64
		for x := c.from; x <= c.to; x += c.step {
			v = append(v, x)
		}
		rand.New(rand.NewPCG(1, 2)).Shuffle(len(v), func(i, j int) { v[i], v[j] = v[j], v[i] })
		order := make([]int32, len(v))
		whole, part := driest(v, make([]float64, len(v)), order, c.share)
		sum := 0.0
		for _, x := range v {
			sum += x
		}
		within(t, "DU", meanOf(v, order, whole, part)/(sum/float64(len(v))), c.du, 5e-7)
	}
}

// Selection finds what sorting does, ties and noughts among the cells.
func TestSelectionIsSorting(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 3))
		v := make([]float64, 1+rng.IntN(90))
		for i := range v {
			v[i] = float64(rng.IntN(1 + rng.IntN(40)))
		}
		order := make([]int32, len(v))
		share := []float64{.25, .5, 1}[seed%3]
		whole, part := driest(v, make([]float64, len(v)), order, share)
		got := meanOf(v, order, whole, part)
		if mean := driestMean(slices.Clone(v), share); math.Abs(mean-got) > 1e-9*(1+got) {
			t.Fatalf("seed %d: %g by their values, %g by which they are", seed, mean, got)
		}
		slices.Sort(v)
		sum, left := 0.0, share*float64(len(v))
		for _, x := range v {
			sum += x * min(1, left)
			left -= min(1, left)
		}
		if want := sum / (share * float64(len(v))); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("seed %d: %g by selection, %g by sorting", seed, got, want)
		}
	}
}

func TestSameQuestionSameProgram(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		one, err := Plan(context.Background(), yard(seed, 6, 50, week("xxxxxxx")), 6)
		if err != nil {
			t.Fatal(err)
		}
		two, err := Plan(context.Background(), yard(seed, 6, 50, week("xxxxxxx")), 6)
		if err != nil || !reflect.DeepEqual(one.Programs, two.Programs) || one.Gallons != two.Gallons {
			t.Errorf("seed %d: asked twice, two programs: %v", seed, err)
		}
	}
}

// Patterns are as many as there are ways to part a week, turns and mirror images once;
// runs are those found by trying all.
func TestPatternsOfAWeek(t *testing.T) {
	t.Parallel()
	if n := len(patterns(week("x......"), 3)); n != 1 {
		t.Errorf("%d patterns of one day", n)
	}
	all := patterns(week("xxxxxxx"), 1)
	if len(all) != 17 { // necklaces that may be turned over, of seven beads in two colours, but the empty one
		t.Errorf("%d patterns of one program", len(all))
	}
	for _, p := range patterns(week("xx.xx.x"), 3) {
		for from, c := range p.class {
			if c < 0 {
				continue
			}
			var waterings [classes]int
			for days := 1; days <= 7; days++ {
				next := p.class[(from+days)%7]
				if next < 0 {
					continue
				}
				if r := (run{days, waterings}); !slices.ContainsFunc(p.runs, func(o run) bool {
					return o.days >= r.days && o.waterings[0] <= r.waterings[0] && o.waterings[1] <= r.waterings[1] && o.waterings[2] <= r.waterings[2]
				}) {
					t.Fatalf("%v: run %v is lost", p.class, r)
				}
				waterings[next]++
			}
		}
	}
}

func BenchmarkDriestOf5000Cells(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	v := make([]float64, 5000)
	for i := range v {
		v[i] = rng.Float64()
	}
	scratch, order := make([]float64, len(v)), make([]int32, len(v))
	for b.Loop() {
		driest(v, scratch, order, .25)
	}
}
