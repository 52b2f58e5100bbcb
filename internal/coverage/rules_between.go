package coverage

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// opened are openPairs, closest first, with their lines by place.
type opened struct {
	list  []wide
	lines *squares
}

func byPlace(open []wide) opened {
	bounds := make([]orb.Bound, len(open))
	for i, w := range open {
		bounds[i] = orb.MultiPoint{w.a.at, w.b.at}.Bound()
	}
	return opened{open, newSquares(bounds, 1)}
}

// across finds the two heads on either side of a dry patch: those whose line
// passes through or along the patch. Of several the closest counts: it is the one
// a head between would mend.
func (o opened) across(g Gap) (wide, bool) {
	near := g.Bound.Pad(edgeHead)
	for _, i := range o.lines.touching(near) {
		w := o.list[i]
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
// throw at each other and have no head between them, closest first. Heads more
// than farthestNeighbour throws apart make no pair.
// places are those of the heads.
func openPairs(heads []spot, places *squares) []wide {
	most := 0.0
	for i := range heads {
		most = max(most, heads[i].throw())
	}
	var out []wide
	for i := range heads {
		h := &heads[i]
		for _, j := range maybeOpen(heads, places, i, farthestNeighbour*most) {
			k := &heads[j]
			d, reach := apart(h.at, k.at), max(h.throw(), k.throw())
			if d > farthestNeighbour*reach || !over(d, spacingMost*reach) || !h.faces(k.at, 0) || !k.faces(h.at, 0) || anyBetween(heads, places, h, k) {
				continue
			}
			w := wide{a: h, b: k, distance: d, over: d / reach}
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

// placesOf sorts heads by place.
func placesOf(heads []spot) *squares {
	bounds, throws := make([]orb.Bound, len(heads)), 0.0
	for i := range heads {
		bounds[i] = heads[i].at.Bound()
		throws += heads[i].throw()
	}
	return newSquares(bounds, max(throws/float64(max(len(heads), 1)), 1))
}

// maybeOpen are those of the later heads within a distance of the i-th that the
// nearest head in the same eighth of the circle about it does not stand before.
// Within 45° of each other one stands before another that is √2 times as far, so
// that only heads near by are looked at.
func maybeOpen(heads []spot, places *squares, i int, within float64) []int32 {
	h := &heads[i]
	var nearest [8]*spot
	far := math.Inf(1)
	least := [8]float64{far, far, far, far, far, far, far, far}
	var met []int32
	for j, away := range places.outward(h.at, within) {
		if away > math.Sqrt2*slices.Max(least[:]) {
			break
		}
		if int(j) == i {
			continue
		}
		met = append(met, j)
		k := &heads[j]
		if e, d := eighth(h.at, k.at), apart(h.at, k.at); d < least[e] {
			nearest[e], least[e] = k, d
		}
	}
	return slices.DeleteFunc(met, func(j int32) bool {
		k := &heads[j]
		return int(j) < i || standsBetween(nearest[eighth(h.at, k.at)], h, k)
	})
}

// eighth is the eighth of the circle about one place that another lies in.
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

// anyBetween reports whether any of the heads stands between h and k.
func anyBetween(heads []spot, places *squares, h, k *spot) bool {
	middle, radius := circleOver(h, k)
	return slices.ContainsFunc(places.around(middle, radius), func(i int32) bool { return standsBetween(&heads[i], h, k) })
}
