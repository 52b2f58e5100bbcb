package arrange

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// widthSamples is about how many places of an area its typical width is taken
// from. Chosen: a strip of one to twenty still has nine across.
const widthSamples = 1600

// widthTries is the most places looked at for them: a narrow strip that lies aslant
// fills little of its box. Chosen.
const widthTries = 200_000

// widths are the diameter of the greatest circle that fits into a shape, and the
// middle one, over its ground, of the greatest circles that each place lies in:
// of a lawn with two arms it is the width of the larger one.
func widths(shape orb.MultiPolygon) (widest, typical units.Feet) {
	b := shape.Bound()
	box := (b.Max[0] - b.Min[0]) * (b.Max[1] - b.Min[1])
	step := math.Sqrt(max(geom.Area(shape)/widthSamples, box/widthTries))
	if !(step > 0) {
		return 0, 0
	}
	type place struct {
		at orb.Point
		r  float64
	}
	var places []place
	for y := b.Min[1] + step/2; y < b.Max[1]; y += step {
		for x := b.Min[0] + step/2; x < b.Max[0]; x += step {
			at := orb.Point{x, y}
			if geom.Contains(shape, at) {
				places = append(places, place{at, edgeDistance(shape, at)})
			}
		}
	}
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.r, a.r) })
	if len(places) == 0 { // as of a strip that is all side
		thin := units.Feet(2 * geom.Area(shape) / around(shape))
		return thin, thin
	}
	most := 0.0
	for _, p := range places[:min(len(places), 12)] {
		most = max(most, climb(shape, p.at, p.r, step))
	}
	// Largest circles first, each gives its width to the places in it that have
	// none yet, until half the places have one.
	done, left := make([]bool, len(places)), (len(places)+1)/2
	for _, p := range places {
		for k := range places {
			if !done[k] && apart(p.at, places[k].at) <= p.r+step/2 {
				done[k] = true
				left--
			}
		}
		if left <= 0 {
			r := min(climb(shape, p.at, p.r, step), most)
			return units.Feet(2 * most), units.Feet(2 * r)
		}
	}
	return units.Feet(2 * most), units.Feet(2 * most)
}

// around is the length of all edges of a shape, in feet.
func around(shape orb.MultiPolygon) float64 {
	sum := 0.0
	for _, poly := range shape {
		for _, r := range poly {
			for i := 1; i < len(r); i++ {
				sum += apart(r[i-1], r[i])
			}
		}
	}
	return sum
}

// edgeDistance is how far a place in a shape is from its edges, in feet.
func edgeDistance(shape orb.MultiPolygon, at orb.Point) float64 {
	least := math.Inf(1)
	for _, poly := range shape {
		for _, r := range poly {
			d, _, _ := geom.DistanceToEdge(at, r)
			least = min(least, d)
		}
	}
	return least
}

// climb is the greatest distance from the edges near a place: a search by ever
// shorter steps.
func climb(shape orb.MultiPolygon, at orb.Point, r, step float64) float64 {
	for h := step; h > 0.002; {
		better := false
		for _, d := range [8]orb.Point{{h, 0}, {-h, 0}, {0, h}, {0, -h}, {h, h}, {-h, -h}, {h, -h}, {-h, h}} {
			to := orb.Point{at[0] + d[0], at[1] + d[1]}
			if !geom.Contains(shape, to) {
				continue
			}
			if e := edgeDistance(shape, to); e > r+1e-9 {
				at, r, better = to, e, true
			}
		}
		if !better {
			h /= 2
		}
	}
	return r
}
