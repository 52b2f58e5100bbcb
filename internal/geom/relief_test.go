package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
)

// reliefs are sets of places of every kind: scattered, on a lattice (many on one
// circle), in columns, on one line, twice at one place.
func reliefs(r *rand.Rand, round int) []orb.Point {
	n := 1 + r.IntN(60)
	at := make([]orb.Point, n)
	for i := range at {
		switch round % 4 {
		case 0:
			at[i] = orb.Point{200*r.Float64() - 100, 90 * r.Float64()}
		case 1:
			at[i] = orb.Point{float64(r.IntN(6)) * 10, float64(r.IntN(6)) * 10}
		case 2:
			at[i] = orb.Point{float64(r.IntN(3)), 50 * r.Float64()}
		default:
			at[i] = orb.Point{float64(i), 2 * float64(i)}
			if r.IntN(10) == 0 {
				at[i][0] += 5
			}
		}
	}
	return at
}

// A plane stays a plane, whatever the places: what lies between them is exact.
func TestReliefOfAPlaneIsThePlane(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	for round := range 400 {
		at := reliefs(rng, round)
		plane := func(p orb.Point) float64 { return 7 + 0.0225*p[1] - 0.01*p[0] }
		z := make([]float64, len(at))
		for i := range at {
			at[i] = spotOf(at[i]).point()
			z[i] = plane(at[i])
		}
		r := NewRelief(at, z)
		for range 40 {
			p, sum := orb.Point{}, 0.0
			for range 3 { // somewhere between three of the places
				w := rng.Float64()
				q := at[rng.IntN(len(at))]
				p[0], p[1], sum = p[0]+w*q[0], p[1]+w*q[1], sum+w
			}
			p = spotOf(orb.Point{p[0] / sum, p[1] / sum}).point()
			got, ok := r.Height(p)
			if !ok || math.Abs(got-plane(p)) > 1e-3 {
				t.Fatalf("round %d: %v at %v, want %v", round, got, p, plane(p))
			}
		}
	}
}

// The faces cover the hull of the places once: Euler's count, areas that sum to
// the hull's, and no place inside the circle of a face.
func TestReliefFacesAreDelaunay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 59))
	for round := range 400 {
		at := reliefs(rng, round)
		r := NewRelief(at, make([]float64, len(at)))
		if len(r.faces) == 0 {
			continue
		}
		if want := 2*len(r.at) - 2 - len(r.rim); len(r.faces) != want {
			t.Fatalf("round %d: %d faces of %d places with %d on the rim, want %d", round, len(r.faces), len(r.at), len(r.rim), want)
		}
		sum, hull := int64(0), int64(0)
		for _, f := range r.faces {
			size := turn(r.at[f.corner[0]], r.at[f.corner[1]], r.at[f.corner[2]])
			if size <= 0 {
				t.Fatalf("round %d: a face is turned over or flat", round)
			}
			sum += size
			for d := range r.at {
				if int32(d) != f.corner[0] && int32(d) != f.corner[1] && int32(d) != f.corner[2] && r.inCircle(f.corner[0], f.corner[1], f.corner[2], int32(d)) {
					t.Fatalf("round %d: a place lies in the circle of a face", round)
				}
			}
		}
		for _, e := range r.rim {
			hull += turn(r.at[0], r.at[e[0]], r.at[e[1]])
		}
		if sum != hull {
			t.Fatalf("round %d: the faces sum to %d, the hull is %d", round, sum, hull)
		}
	}
}

func TestReliefBeyondAndBetween(t *testing.T) {
	if _, ok := NewRelief(nil, nil).Height(orb.Point{1, 2}); ok {
		t.Error("ground without a height has one")
	}
	one := NewRelief([]orb.Point{{1, 1}}, []float64{4})
	line := NewRelief([]orb.Point{{0, 0}, {10, 0}, {20, 0}}, []float64{0, 1, 5})
	// A roof: its ridge runs along x = 10.
	roof := NewRelief([]orb.Point{{0, 0}, {0, 10}, {10, 0}, {10, 10}, {20, 0}, {20, 10}, {20, 10}}, []float64{0, 0, 3, 3, 0, 1, -1})
	for _, c := range []struct {
		r    *Relief
		at   orb.Point
		want float64
	}{
		{one, orb.Point{50, 50}, 4},
		{line, orb.Point{5, 7}, 0.5}, {line, orb.Point{15, -3}, 3}, {line, orb.Point{90, 0}, 5},
		{roof, orb.Point{5, 5}, 1.5}, {roof, orb.Point{10, 4}, 3}, {roof, orb.Point{15, 5}, 1.5},
		{roof, orb.Point{15, -20}, 1.5}, {roof, orb.Point{-9, 5}, 0}, // flat beyond
	} {
		if got, ok := c.r.Height(c.at); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("at %v: %v, want %v", c.at, got, c.want)
		}
	}
}
