package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"
)

// toShape gives the library a copy on the lattice. What snapping leaves without
// area is dropped. A polygon that snapping would fold over itself, as happens to
// corners a lattice step apart in the result of an earlier operation, is handed
// over as it is. A coordinate that is not finite or beyond Limit is refused.
func toShape(mp orb.MultiPolygon) (sf.Geometry, error) {
	polys := make([]sf.Polygon, 0, len(mp))
	for _, poly := range mp {
		if err := onPlan(poly); err != nil {
			return sf.Geometry{}, err
		}
		if p := toLibrary(snapPolygon(poly)); !p.IsEmpty() {
			polys = append(polys, p)
		}
	}
	if len(polys) == 1 {
		return polys[0].AsGeometry(), nil
	}
	return sf.NewMultiPolygon(polys).AsGeometry(), nil
}

// onPlan leaves room beyond Limit for what heads on its edge throw.
func onPlan(poly orb.Polygon) error {
	for _, r := range poly {
		for _, p := range r {
			if !(math.Abs(p[0]) <= 2*Limit) || !(math.Abs(p[1]) <= 2*Limit) {
				return fmt.Errorf("a corner at %v, %v is not on the plan", p[0], p[1])
			}
		}
	}
	return nil
}

// snapPolygon returns the polygon on the lattice, nil when nothing is left of
// it, or itself when it would fold.
func snapPolygon(poly orb.Polygon) orb.Polygon {
	var out orb.Polygon
	var chains []*chain
	for i, r := range poly {
		ring := snapRing(r)
		if len(ring) < 3 {
			if i == 0 {
				return nil
			}
			continue
		}
		c := newChain(ring)
		if c.folds(chains) {
			return poly
		}
		chains = append(chains, c)
		out = append(out, c.closed())
	}
	return out
}

// folds reports whether the ring meets itself, or crosses one of the others. It
// may touch another in a place: a hole in the result of a difference does.
func (c *chain) folds(others []*chain) bool {
	if _, _, kind := c.selfContact(); kind != apart {
		return true
	}
	for _, o := range others {
		if _, _, kind := o.contactWith(c); kind == cross || kind == overlap {
			return true
		}
	}
	return false
}

// snapRing returns the places of a ring on the lattice, not closed, without
// repeats and without spikes. Less than three are left of a ring without area.
func snapRing(r orb.Ring) []spot {
	var ring []spot
	for _, p := range r {
		ring = append(ring, spotOf(p))
		for trimmed := true; trimmed; {
			ring, trimmed = trimEnd(ring)
		}
	}
	for len(ring) > 2 && needless(ring[len(ring)-2], ring[len(ring)-1], ring[0]) {
		ring = ring[:len(ring)-1]
	}
	for len(ring) > 2 && needless(ring[len(ring)-1], ring[0], ring[1]) {
		ring = ring[1:]
	}
	return ring
}

// trimEnd takes out the last place but one when it is a repeat or a spike.
func trimEnd(ring []spot) ([]spot, bool) {
	n := len(ring)
	if n > 1 && ring[n-1] == ring[n-2] {
		return ring[:n-1], true
	}
	if n > 2 && needless(ring[n-3], ring[n-2], ring[n-1]) {
		ring[n-2] = ring[n-1]
		return ring[:n-1], true
	}
	return ring, false
}

// needless reports whether b is a repeat of a neighbour or the tip of a spike.
func needless(a, b, c spot) bool {
	return a == b || b == c || (turn(a, b, c) == 0 && backwards(a, b, c))
}

func toLibrary(poly orb.Polygon) sf.Polygon {
	rings := make([]sf.LineString, 0, len(poly))
	for _, r := range poly {
		coords := make([]float64, 0, 2*len(r))
		for _, p := range r {
			coords = append(coords, p[0], p[1])
		}
		rings = append(rings, sf.NewLineString(sf.NewSequence(coords, sf.DimXY)))
	}
	return sf.NewPolygon(rings)
}

// fromShape keeps the polygons of a result and leaves out the points and lines
// where shapes only touched. Outlines run anticlockwise, holes clockwise, each
// from its westernmost (then southernmost) corner; holes and polygons stand in
// that order too, so that equal ground gives equal bytes.
func fromShape(g sf.Geometry) orb.MultiPolygon {
	out := polygons(g, nil)
	slices.SortFunc(out, func(a, b orb.Polygon) int { return compareRings(a[0], b[0]) })
	return out
}

func polygons(g sf.Geometry, out orb.MultiPolygon) orb.MultiPolygon {
	switch {
	case g.IsPolygon():
		if p := g.MustAsPolygon(); !p.IsEmpty() {
			out = append(out, fromLibrary(p))
		}
	case g.IsMultiPolygon():
		for _, p := range g.MustAsMultiPolygon().Dump() {
			out = polygons(p.AsGeometry(), out)
		}
	case g.IsGeometryCollection():
		for _, part := range g.MustAsGeometryCollection().Dump() {
			out = polygons(part, out)
		}
	}
	return out
}

func fromLibrary(p sf.Polygon) orb.Polygon {
	var poly orb.Polygon
	for i, ls := range p.DumpRings() {
		seq := ls.Coordinates()
		r := make(orb.Ring, seq.Length())
		for k := range r {
			xy := seq.GetXY(k)
			r[k] = orb.Point{xy.X, xy.Y}
		}
		way := orb.Orientation(orb.CCW)
		if i > 0 {
			way = orb.CW
		}
		poly = append(poly, fromLeast(turned(r, way)))
	}
	slices.SortFunc(poly[1:], compareRings)
	return poly
}

// fromLeast is the same closed ring from its least corner.
func fromLeast(r orb.Ring) orb.Ring {
	open := r[:len(r)-1]
	least := 0
	for i, p := range open {
		if comparePlaces(p, open[least]) < 0 {
			least = i
		}
	}
	out := make(orb.Ring, 0, len(r))
	out = append(append(out, open[least:]...), open[:least]...)
	return append(out, out[0])
}

func compareRings(a, b orb.Ring) int { return slices.CompareFunc(a, b, comparePlaces) }

func comparePlaces(p, q orb.Point) int {
	return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
}
