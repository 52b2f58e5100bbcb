package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// shifted moves every edge of the polygon d feet to its left, closes the gapes
// with arcs and cuts the overlaps at the crossing of the moved edges. It reports
// false when an edge vanishes or the moved rings meet or change places; then
// pieces of ground merge or part, and only the full way will do. Otherwise the
// moved rings bound the offset exactly, at a thousandth of the cost.
//
//	┌───────────┐
//	│ ┌───────┐ │   no edge turned round, no ring crossed:
//	│ │       │ │   the inner ring is the inset
//	│ └───────┘ │
//	└───────────┘
func shifted(poly orb.Polygon, d float64) (orb.Polygon, bool) {
	var out orb.Polygon
	var chains []*chain
	for i, r := range poly {
		moved, ok := shiftedRing(r, d)
		if !ok {
			return nil, false
		}
		ring := snapRing(moved)
		if len(ring) < 3 || (twiceArea(ring) > 0) != (i == 0) {
			return nil, false
		}
		c := newChain(ring)
		if _, _, kind := c.selfContact(); kind != apart || !c.keepsPlace(chains) {
			return nil, false
		}
		chains = append(chains, c)
		out = append(out, c.closed())
	}
	return out, true
}

// keepsPlace reports whether the ring of a hole lies in the first ring and
// clear of the other holes.
func (c *chain) keepsPlace(others []*chain) bool {
	for i, o := range others {
		if _, _, kind := o.contactWith(c); kind != apart {
			return false
		}
		if o.holds(c.ring[0]) != (i == 0) || c.holds(o.ring[0]) {
			return false
		}
	}
	return true
}

func (c *chain) closed() orb.Ring {
	r := make(orb.Ring, 0, len(c.ring)+1)
	for _, s := range c.ring {
		r = append(r, s.point())
	}
	return append(r, r[0])
}

// shiftedRing is the moved ring, not closed, or false when an edge turns round.
func shiftedRing(r orb.Ring, d float64) (orb.Ring, bool) {
	n := len(r) - 1
	var out orb.Ring
	starts := make([]int, 0, n+1) // where in out the places of each corner begin
	for i := range n {
		starts = append(starts, len(out))
		var ok bool
		if out, ok = appendCorner(out, r[(i+n-1)%n], r[i], r[i+1], d); !ok {
			return nil, false
		}
	}
	starts = append(starts, len(out))
	for i := range n {
		from := out[starts[i+1]-1] // last place of corner i
		to := out[starts[(i+1)%n]] // first place of the next
		ex, ey := r[i+1][0]-r[i][0], r[i+1][1]-r[i][1]
		if float64((to[0]-from[0])*ex)+float64((to[1]-from[1])*ey) <= 0 {
			return nil, false
		}
	}
	return slices.Clip(out), true
}

// appendCorner adds the places that corner b moves to.
func appendCorner(out orb.Ring, a, b, c orb.Point, d float64) (orb.Ring, bool) {
	n1x, n1y := leftNormal(a, b, d)
	n2x, n2y := leftNormal(b, c, d)
	from := math.Atan2(n1y, n1x)
	swing := math.Remainder(math.Atan2(n2y, n2x)-from, 2*math.Pi)
	if math.Abs(swing) > math.Pi*0.95 {
		return nil, false // a needle: its mitre is far off
	}
	if (swing > 0) == (d > 0) { // the moved edges overlap: cut them
		k := 1 / (1 + math.Cos(swing)) // |d|/cos(swing/2) along the middle
		return append(out, orb.Point{b[0] + float64(k*(n1x+n2x)), b[1] + float64(k*(n1y+n2y))}), true
	}
	r := math.Abs(d)
	n := roundSteps(r, swing)
	for k := 0; k <= n; k++ {
		sin, cos := math.Sincos(from + swing*float64(k)/float64(n))
		out = append(out, orb.Point{b[0] + float64(r*cos), b[1] + float64(r*sin)})
	}
	return out, true
}

// roundSteps is the number of chords for a swing about a corner.
func roundSteps(r, swing float64) int {
	if !(r > sagitta) {
		return 1
	}
	return int(max(1, math.Ceil(math.Abs(swing)/(2*math.Acos(1-sagitta/r)))))
}
