package zones

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

func TestClasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rates []float64
		most  float64
		want  []int
	}{
		{nil, wide, nil},
		{[]float64{.4}, wide, []int{0}},
		{[]float64{.4, .41, 1.6, 1.61}, wide, []int{0, 2}},
		{[]float64{.40, .44, .48}, narrow, []int{0, 1}}, // {.40}, {.44, .48} spreads less than {.40, .44}
		{[]float64{0, 0, 1}, wide, []int{0, 2}},
	} {
		if got := classes(c.rates, c.most); !slices.Equal(got, c.want) {
			t.Errorf("%v by %g: parted at %v, want %v", c.rates, c.most, got, c.want)
		}
	}
}

// What is narrow matches, whichever of it goes together; what matches is not wider
// than wide.
func TestNarrowRatesAlwaysMatch(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(2, 2))
	matching := 0
	for range 2000 {
		rates := make([]float64, 2+r.IntN(5))
		spread := []float64{narrow - 1, 0.25}[r.IntN(2)]
		for i := range rates {
			rates[i] = 0.4 * (1 + spread*r.Float64())
		}
		off := unmatched(slices.Clone(rates))
		ratio := slices.Max(rates) / slices.Min(rates)
		if ratio <= narrow && off > 0 {
			t.Fatalf("%v are within a tenth and do not match", rates)
		}
		if off == 0 {
			matching++
			if ratio > wide+1e-9 {
				t.Fatalf("%v match, and are %.3f apart", rates, ratio)
			}
		}
	}
	if matching < 500 {
		t.Errorf("only %d match", matching)
	}
}

func ratedJob(rates []float64, stays ...int) *job {
	j := &job{p: &plan.Plan{}, limit: 10, least: 1, closed: map[plan.ID]string{}}
	for n, rate := range rates {
		h := head{id: plan.ID(fmt.Sprintf("h%d", n)), at: orb.Point{float64(10 * n), 0}, flow: 1, rate: rate}
		if slices.Contains(stays, n) {
			h.zone, h.stays = "stay", true
		}
		j.heads = append(j.heads, h)
	}
	return j
}

func TestAZoneThatRatesWouldTearTakesNoPart(t *testing.T) {
	t.Parallel()
	j := ratedJob([]float64{1, 1.21, 1.31, 1.55}, 1, 2)
	g, err := j.group(context.Background(), func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[plan.ID]int{}
	for _, gr := range g.groups {
		for _, h := range gr.heads {
			seen[h.id]++
		}
		if gr.zone == "stay" && len(gr.heads) != 2 {
			t.Errorf("the zone has %d heads", len(gr.heads))
		}
	}
	if len(g.groups) != 3 || len(seen) != 4 {
		t.Errorf("%d groups of %v", len(g.groups), seen)
	}
	for id, n := range seen {
		if n != 1 {
			t.Errorf("head %s is in %d groups", id, n)
		}
	}
}

// Rates that can only match in part are parted as far as need be.
func TestRatesThatDoNotAllMatchArePartedFurther(t *testing.T) {
	t.Parallel()
	var rates []float64
	for n := range 24 {
		rates = append(rates, 0.4+0.004*float64(n)) // .40 to .49: wider than narrow
	}
	j := ratedJob(rates)
	g, err := j.group(context.Background(), func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	heads := 0
	for _, gr := range g.groups {
		heads += len(gr.heads)
		if unmatched(ratesOf(gr.heads)) > 0 {
			t.Errorf("%v do not match", ratesOf(gr.heads))
		}
	}
	if heads != 24 || len(g.groups) > 4 {
		t.Errorf("%d heads in %d zones", heads, len(g.groups))
	}
}
