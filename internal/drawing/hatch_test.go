package drawing

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Hatching a square with a hole: as many lines as the raster has, their length the
// area over their distance.
func TestHatchCoversWhatLiesInOddRings(t *testing.T) {
	t.Parallel()
	rings := [][]orb.Point{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}, {{20, 20}, {60, 20}, {60, 60}, {20, 60}}}
	box := orb.Bound{Max: orb.Point{100, 100}}
	for _, deg := range []float64{0, 45, 90, 135, 17, -60} {
		sum := 0.0
		for _, s := range hatch(rings, deg, 0.5, box) {
			sum += math.Hypot(s[1][0]-s[0][0], s[1][1]-s[0][1])
			for _, share := range []float64{0.01, 0.5, 0.99} {
				x, y := s[0][0]+share*(s[1][0]-s[0][0]), s[0][1]+share*(s[1][1]-s[0][1])
				if x < -1e-9 || y < -1e-9 || x > 100+1e-9 || y > 100+1e-9 || x > 20+1e-9 && x < 60-1e-9 && y > 20+1e-9 && y < 60-1e-9 {
					t.Fatalf("%v°: a line at %v, %v", deg, x, y)
				}
			}
		}
		if want := (100*100 - 40*40) / 0.5; math.Abs(sum/want-1) > 0.01 {
			t.Errorf("%v°: %.0f long, want about %.0f", deg, sum, want)
		}
	}
	if n := len(hatch(rings, 45, 1e-9, box)); n != 0 {
		t.Errorf("%d lines of a hatch that would be solid", n)
	}
}

// Areas that touch are hatched by one raster: every line of a half lies on a line of
// the whole.
func TestHatchRunsOnOverTouchingAreas(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		deg := rapid.Float64Range(0, 180).Draw(r, "deg")
		every := rapid.Float64Range(0.7, 9).Draw(r, "every")
		x, y := rapid.Float64Range(-500, 500).Draw(r, "x"), rapid.Float64Range(-500, 500).Draw(r, "y")
		square := func(x0, x1 float64) [][]orb.Point {
			return [][]orb.Point{{{x0, y}, {x1, y}, {x1, y + 30}, {x0, y + 30}}}
		}
		sum := func(rings [][]orb.Point) (long float64) {
			for _, s := range hatch(rings, deg, every, orb.MultiPoint(rings[0]).Bound()) {
				long += math.Hypot(s[1][0]-s[0][0], s[1][1]-s[0][1])
			}
			return long
		}
		whole, halves := sum(square(x, x+40)), sum(square(x, x+17))+sum(square(x+17, x+40))
		// A line that runs along the seam itself belongs to one half alone.
		if math.Abs(whole-halves) > 1e-6*whole+1e-6 {
			r.Errorf("whole %.6f, in halves %.6f", whole, halves)
		}
	})
}
