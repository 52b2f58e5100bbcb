package zones

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
)

func wayLength(start orb.Point, at []orb.Point, order []int) float64 {
	sum := 0.0
	for _, i := range order {
		sum += gap(start, at[i])
		start = at[i]
	}
	return sum
}

// shortest is the length of the shortest way through all places, by trying all.
func shortest(start orb.Point, at []orb.Point) float64 {
	best := math.Inf(1)
	order := make([]int, 0, len(at))
	var next func()
	next = func() {
		if len(order) == len(at) {
			best = min(best, wayLength(start, at, order))
			return
		}
		for i := range at {
			if !slices.Contains(order, i) {
				order = append(order, i)
				next()
				order = order[:len(order)-1]
			}
		}
	}
	next()
	return best
}

func TestToursAreNearlyTheShortest(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 4))
	over, least := 0.0, 0.0
	for range 100 {
		at := make([]orb.Point, 1+r.IntN(7))
		for i := range at {
			at[i] = orb.Point{r.Float64() * 100, r.Float64() * 100}
		}
		order := tour(orb.Point{}, at)
		if sorted := slices.Sorted(slices.Values(order)); len(sorted) != len(at) || sorted[0] != 0 || sorted[len(at)-1] != len(at)-1 {
			t.Fatalf("the tour of %d places is %v", len(at), order)
		}
		over += wayLength(orb.Point{}, at, order)
		least += shortest(orb.Point{}, at)
	}
	if over > 1.02*least {
		t.Errorf("tours are %.1f %% longer than need be", 100*(over/least-1))
	}
	t.Logf("tours are %.2f %% longer than the shortest", 100*(over/least-1))
}

func TestTourGoesByIndexWhereEqual(t *testing.T) {
	t.Parallel()
	at := []orb.Point{{1, 0}, {1, 0}, {1, 0}}
	if got := tour(orb.Point{}, at); !slices.Equal(got, []int{0, 1, 2}) {
		t.Errorf("got %v", got)
	}
	if got := tour(orb.Point{}, nil); len(got) != 0 {
		t.Errorf("of nothing: %v", got)
	}
}
