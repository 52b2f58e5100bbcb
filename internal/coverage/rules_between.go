package coverage

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// across finds the two heads on either side of a dry patch, out of openPairs:
// those whose line passes through or along the patch. Of several the closest
// counts: it is the one a head between would mend.
func across(open []wide, g Gap) (wide, bool) {
	near := g.Bound.Pad(edgeHead)
	for _, w := range open {
		line := orb.MultiPoint{w.a.at, w.b.at}
		if line.Bound().Intersects(near) && crosses(g, w.a.at, w.b.at) {
			w.gaps = []Gap{g}
			return w, true
		}
	}
	return wide{}, false
}

// crosses reports whether the line from a to b passes through the patch, or along
// it as near as edge heads stand to their edge.
func crosses(g Gap, a, b orb.Point) bool {
	for _, poly := range g.Outline {
		for _, ring := range poly {
			for i := 1; i < len(ring); i++ {
				if apart(ring[i], geom.NearestOnSegment(ring[i], a, b)) <= edgeHead {
					return true
				}
				if _, meet := geom.SegmentIntersection(a, b, ring[i-1], ring[i]); meet {
					return true
				}
			}
		}
	}
	return false
}

// openPairs are the pairs of heads that stand farther apart than the limit,
// throw at each other and have no head between them, closest first.
func openPairs(heads []spot) []wide {
	var out []wide
	sorted := byEast(heads)
	for i, h := range sorted {
		for _, k := range maybeOpen(h, sorted[i+1:]) {
			d, reach := apart(h.at, k.at), max(h.throw(), k.throw())
			if !over(d, spacingMost*reach) || !h.faces(k.at, 0) || !k.faces(h.at, 0) || anyBetween(sorted, h, k) {
				continue
			}
			w := wide{a: *h, b: *k, distance: d, over: d / reach}
			if w.a.id > w.b.id {
				w.a, w.b = w.b, w.a
			}
			out = append(out, w)
		}
	}
	slices.SortFunc(out, func(x, y wide) int {
		return cmp.Or(cmp.Compare(x.distance, y.distance), cmp.Compare(x.a.id, y.a.id), cmp.Compare(x.b.id, y.b.id))
	})
	return out
}

// maybeOpen are those of the heads to the east of h, sorted, that the nearest
// head in the same eighth of the circle about h does not stand before. Within 45°
// of each other one stands before another that is √2 times as far, so that on a
// large area only the near columns are looked at.
func maybeOpen(h *spot, east []*spot) []*spot {
	var nearest [8]*spot
	far := math.Inf(1)
	least := [8]float64{0: far, 2: far, 4: far, 6: far} // the others lie to the west
	n := 0
	for ; n < len(east) && east[n].at[0]-h.at[0] <= math.Sqrt2*slices.Max(least[:]); n++ {
		k := east[n]
		if e, d := eighth(h.at, k.at), apart(h.at, k.at); d < least[e] {
			nearest[e], least[e] = k, d
		}
	}
	var out []*spot
	for _, k := range east[:n] {
		if !standsBetween(nearest[eighth(h.at, k.at)], h, k) {
			out = append(out, k)
		}
	}
	return out
}

// eighth is the eighth of the circle about one place that another lies in; those
// to the east are even.
func eighth(from, to orb.Point) int {
	x, y := to[0]-from[0], to[1]-from[1]
	n := 0
	if x < 0 {
		x, n = -x, n+1
	}
	if y < 0 {
		y, n = -y, n+2
	}
	if y > x {
		n += 4
	}
	return n
}

// betweenSlack widens the circle in which a head stands between two others, so
// that the diagonal of a square of heads is no pair of neighbours. Chosen.
const betweenSlack = 1.01

// standsBetween reports whether o stands in the circle that has the line from h to k
// for a diameter.
func standsBetween(o, h, k *spot) bool {
	middle, radius := circleOver(h, k)
	return o != h && o != k && apart(o.at, middle) < radius
}

func circleOver(h, k *spot) (middle orb.Point, radius float64) {
	return orb.Point{(h.at[0] + k.at[0]) / 2, (h.at[1] + k.at[1]) / 2}, betweenSlack * apart(h.at, k.at) / 2
}

// anyBetween reports whether any of the heads, sorted from west to east, stands
// between h and k.
func anyBetween(sorted []*spot, h, k *spot) bool {
	middle, radius := circleOver(h, k)
	first, _ := slices.BinarySearchFunc(sorted, middle[0]-radius, func(o *spot, x float64) int { return cmp.Compare(o.at[0], x) })
	for _, o := range sorted[first:] {
		if o.at[0] > middle[0]+radius {
			return false
		}
		if standsBetween(o, h, k) {
			return true
		}
	}
	return false
}

func byEast(heads []spot) []*spot {
	out := make([]*spot, len(heads))
	for i := range heads {
		out[i] = &heads[i]
	}
	slices.SortStableFunc(out, func(a, b *spot) int { return cmp.Compare(a.at[0], b.at[0]) })
	return out
}
