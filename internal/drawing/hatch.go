package drawing

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// mostHatch is how many lines an area is hatched with at most: past it they would be
// solid on any paper. Chosen.
const mostHatch = 4000

// hatch is the lines of a hatch, cut to what lies in an odd number of rings and near
// box. They stand on one raster of the whole page, so that the hatches of areas that
// touch run on.
func hatch(rings [][]orb.Point, deg, every float64, box orb.Bound) [][2]orb.Point {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	turned := func(p orb.Point) orb.Point { return orb.Point{p[0]*cos + p[1]*sin, p[1]*cos - p[0]*sin} }
	back := func(p orb.Point) orb.Point { return orb.Point{p[0]*cos - p[1]*sin, p[0]*sin + p[1]*cos} }

	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range [4]orb.Point{box.Min, {box.Max[0], box.Min[1]}, box.Max, {box.Min[0], box.Max[1]}} {
		y := turned(c)[1]
		lo, hi = min(lo, y), max(hi, y)
	}
	first, last := math.Ceil(lo/every), math.Floor(hi/every)
	if !(last >= first) || last-first > mostHatch || max(math.Abs(first), math.Abs(last)) > 1<<50 {
		return nil // the last: steps too fine to be counted
	}
	at := make([][]float64, int(last-first)+1) // where each line meets an outline
	for _, ring := range rings {
		for i, p := range ring {
			a, b := turned(p), turned(ring[(i+1)%len(ring)])
			if a[1] > b[1] {
				a, b = b, a
			}
			// A line takes an edge in from its lower end up to, not with, its upper one.
			from, to := max(math.Ceil(a[1]/every), first), min(math.Ceil(b[1]/every)-1, last)
			for k := from; k <= to; k++ {
				share := (k*every - a[1]) / (b[1] - a[1])
				at[int(k-first)] = append(at[int(k-first)], a[0]+share*(b[0]-a[0]))
			}
		}
	}
	var out [][2]orb.Point
	for i, xs := range at {
		slices.Sort(xs)
		y := (first + float64(i)) * every
		for k := 0; k+1 < len(xs); k += 2 {
			if xs[k+1]-xs[k] > 1e-9 {
				out = append(out, [2]orb.Point{back(orb.Point{xs[k], y}), back(orb.Point{xs[k+1], y})})
			}
		}
	}
	return out
}
