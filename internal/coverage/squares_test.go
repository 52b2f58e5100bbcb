package coverage

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// Boxes by place are those that a look at every box gives.
func TestSquaresGiveWhatEveryBoxTriedGives(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	for round := range 80 {
		boxes := make([]orb.Bound, r.IntN(60))
		for i := range boxes {
			at := orb.Point{200*r.Float64() - 100, 50*r.Float64() - 20}
			boxes[i] = at.Bound().Pad(r.Float64() * 8 * float64(r.IntN(2)))
			if r.IntN(20) == 0 {
				boxes[i] = boxes[i].Pad(500) // wide
			}
		}
		q := newSquares(boxes, 1+5*r.Float64())
		look := orb.Point{220*r.Float64() - 110, 60*r.Float64() - 25}.Bound().Pad(10 * r.Float64())
		got := q.touching(look)
		for i, b := range boxes {
			if b.Intersects(look) && !slices.Contains(got, int32(i)) {
				t.Fatalf("round %d: box %d touches but is not given", round, i)
			}
		}
		if !slices.IsSorted(got) || len(slices.Compact(slices.Clone(got))) != len(got) {
			t.Fatalf("round %d: %v is not rising", round, got)
		}
	}
}

// Looking outward, what is left is never nearer than was said, and everything
// within the distance comes.
func TestSquaresLookOutward(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	for round := range 80 {
		places := make([]orb.Point, 1+r.IntN(80))
		boxes := make([]orb.Bound, len(places))
		for i := range places {
			places[i] = orb.Point{100 * r.Float64(), 10 * r.Float64() * float64(r.IntN(10))}
			boxes[i] = places[i].Bound()
		}
		q, at, within := newSquares(boxes, 2), orb.Point{120*r.Float64() - 10, 100 * r.Float64()}, 40*r.Float64()
		given, far := map[int32]bool{}, 0.0
		for i, away := range q.outward(at, within) {
			if d := apart(at, places[i]); d < far-1e-9 {
				t.Fatalf("round %d: a place %.2f away comes after %.2f was said", round, d, far)
			}
			if away < far || given[i] {
				t.Fatalf("round %d: the distance falls, or a place comes twice", round)
			}
			given[i], far = true, away
		}
		for i, p := range places {
			if apart(at, p) <= within && !given[int32(i)] {
				t.Fatalf("round %d: a place %.2f away, within %.2f, does not come", round, apart(at, p), within)
			}
		}
	}
}

// Four times the heads are four times the work, not sixteen: each head looks at
// as many others, however many there are. Counted, not timed.
func TestChecksGoWithTheNumberOfHeads(t *testing.T) {
	lattice := func(across, up int, apart float64) *yard {
		w, h := float64(across)*apart, float64(up)*apart
		y := newYard().lip(0.5).area("lawn", plan.Planting, 0, 0, w, 0, w, h, 0, h)
		y.area("walk", plan.Paving, 0, -4, w, -4, w, 0, 0, 0)
		y.nozzle("n", 10, 1.5, linear)
		for i := range across {
			for j := range up {
				y.head("n", (float64(i)+0.5)*apart, (float64(j)+0.5)*apart, 0, 360)
			}
		}
		return y
	}
	for _, shape := range []struct {
		name  string
		apart float64
		size  func(grow int) (int, int)
	}{
		{"head to head", 10, func(g int) (int, int) { return 12 * g, 12 * g }},
		{"too far apart, dry between", 15, func(g int) (int, int) { return 12 * g, 12 * g }},
		{"one column", 10, func(g int) (int, int) { return 1, 144 * g * g }},
	} {
		t.Run(shape.name, func(t *testing.T) {
			var each [2]float64
			for k, grow := range []int{1, 2} {
				across, up := shape.size(grow)
				y := lattice(across, up, shape.apart)
				f := New()
				r, _, err := f.Update(context.Background(), &y.Plan)
				if err != nil {
					t.Fatal(err)
				}
				s := look(&y.Plan, r, f)
				if found := s.check(); len(found) == 0 {
					t.Fatal("nothing was found, so nothing was looked for")
				}
				open := placesOf(s.heads)
				openPairs(s.heads, open)
				beside := placesOf(s.heads)
				for i := range f.showers {
					nearestOf(f.showers, beside, i)
				}
				seen := s.places.seen + s.ground.seen + s.walled.seen + open.seen + beside.seen
				each[k] = float64(seen) / float64(len(s.heads))
			}
			if each[1] > 1.35*each[0] || each[1] > 400 {
				t.Errorf("a head looks at %.0f others where there are four times as many, and at %.0f before", each[1], each[0])
			}
			t.Logf("a head looks at %.0f and %.0f others", each[0], each[1])
		})
	}
}
