package stakeout

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// outlines takes the corners and edges of an area that are not hidden by another.
func (g *ground) outlines(s solid, r rank, over []solid) {
	a := g.p.Areas[s.id]
	var near []solid
	for _, o := range over {
		if o.id != s.id && o.stands && o.bound.Intersects(s.bound) {
			near = append(near, o)
		}
	}
	for k, o := range append([]geom.Outline{a.Outline}, a.Holes...) {
		g.outline(o, k > 0, s, r, near)
	}
}

func (g *ground) outline(o geom.Outline, hole bool, s solid, r rank, near []solid) {
	ref, name := plan.RefTo("areas", s.id), g.p.AreaName(s.id)
	turns := o.Turns()
	what, box := " corner of ", o.Bound()
	if hole {
		what = " inner corner of "
	}
	for i, v := range o {
		at := geom.Snap(v.Point())
		if turns[i] >= cornerTurn && !hidden(at, near) {
			g.spot(at, g.cornerWords(box, at)+what+name, ref, r)
		}
	}
	word := " edge of "
	if r == ofBuilding {
		word = " wall of "
	}
	for _, run := range runs(o, turns) {
		out := outward(s.poly, run[0], run[1])
		words := g.p.Compass(orb.Point{}, out)
		for _, part := range uncovered(run, near) {
			for k, end := range part {
				if cover := coverAt(end, near); cover >= 0 && end != run[k] {
					g.spot(end, "where the "+words+word+name+" meets "+g.p.AreaName(near[cover].id), ref, r)
				}
			}
			g.edges = append(g.edges, edge{a: part[0], b: part[1], name: words + word + name, rank: r})
		}
	}
}

// runs are the straight edges of an outline, those that run on straight joined.
func runs(o geom.Outline, turns []float64) [][2]orb.Point {
	n := len(o)
	first := -1
	for i := range o {
		if turns[i] > straightTurn || o[(i+n-1)%n].Bulge != 0 {
			first = i
			break
		}
	}
	if first < 0 {
		return nil
	}
	var out [][2]orb.Point
	open := false
	for k := range n {
		i := (first + k) % n
		v, next := o[i], o[(i+1)%n]
		if v.Bulge != 0 {
			open = false
			continue
		}
		if open && turns[i] <= straightTurn {
			out[len(out)-1][1] = geom.Snap(next.Point())
			continue
		}
		out = append(out, [2]orb.Point{geom.Snap(v.Point()), geom.Snap(next.Point())})
		open = true
	}
	return slices.DeleteFunc(out, func(r [2]orb.Point) bool { return apart(r[0], r[1]) < leastEdge })
}

// leastEdge is the shortest edge a tape is laid along, in feet. Chosen.
const leastEdge = 1.0

// outward is square to an edge, away from its area.
func outward(poly orb.Polygon, a, b orb.Point) orb.Point {
	l := apart(a, b)
	n := orb.Point{(b[1] - a[1]) / l, -(b[0] - a[0]) / l}
	mid := orb.Point{(a[0]+b[0])/2 + n[0]*0.05, (a[1]+b[1])/2 + n[1]*0.05}
	if geom.PolygonContains(poly, mid) {
		return orb.Point{-n[0], -n[1]}
	}
	return n
}

// hidden reports whether a place lies well inside one of the solids.
func hidden(at orb.Point, over []solid) bool {
	return slices.ContainsFunc(over, func(s solid) bool { return s.holds(at) })
}

// holds reports whether a place lies inside, more than a corner's width from any edge.
func (s *solid) holds(at orb.Point) bool {
	if !s.bound.Contains(at) || !geom.PolygonContains(s.poly, at) {
		return false
	}
	return !s.edgeNear(at, sameSpot)
}

// edgeNear reports whether an edge of the solid is nearer to a place than d, in feet.
func (s *solid) edgeNear(at orb.Point, d float64) bool {
	for _, r := range s.poly {
		for i := 0; i+1 < len(r); i++ {
			a, b := r[i], r[i+1]
			if at[0] < min(a[0], b[0])-d || at[0] > max(a[0], b[0])+d || at[1] < min(a[1], b[1])-d || at[1] > max(a[1], b[1])+d {
				continue // outlines may have ten thousand corners
			}
			if apart(at, geom.NearestOnSegment(at, a, b)) < d {
				return true
			}
		}
	}
	return false
}

// coverAt is which solid has a place on its outline; -1 none.
func coverAt(at orb.Point, over []solid) int {
	return slices.IndexFunc(over, func(s solid) bool { return s.edgeNear(at, sameSpot/2) })
}

// uncovered are the parts of a run that lie in none of the solids.
func uncovered(run [2]orb.Point, over []solid) [][2]orb.Point {
	l := apart(run[0], run[1])
	cuts := []float64{0, l}
	box := orb.MultiPoint{run[0], run[1]}.Bound()
	for _, s := range over {
		if !s.bound.Intersects(box) {
			continue
		}
		for _, r := range s.poly {
			for i := 0; i+1 < len(r); i++ {
				if max(r[i][0], r[i+1][0]) < box.Min[0] || min(r[i][0], r[i+1][0]) > box.Max[0] ||
					max(r[i][1], r[i+1][1]) < box.Min[1] || min(r[i][1], r[i+1][1]) > box.Max[1] {
					continue
				}
				if at, meet := geom.SegmentIntersection(run[0], run[1], r[i], r[i+1]); meet {
					cuts = append(cuts, apart(run[0], at))
				}
			}
		}
	}
	slices.Sort(cuts)
	place := func(d float64) orb.Point {
		switch d {
		case 0:
			return run[0]
		case l:
			return run[1]
		}
		return geom.Snap(orb.Point{run[0][0] + (run[1][0]-run[0][0])*d/l, run[0][1] + (run[1][1]-run[0][1])*d/l})
	}
	var out [][2]orb.Point
	open := false
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1]-cuts[i] < 1e-3 {
			continue
		}
		mid := place((cuts[i] + cuts[i+1]) / 2)
		if hiddenMid(mid, over) {
			open = false
			continue
		}
		if open {
			out[len(out)-1][1] = place(cuts[i+1])
			continue
		}
		out = append(out, [2]orb.Point{place(cuts[i]), place(cuts[i+1])})
		open = true
	}
	return slices.DeleteFunc(out, func(r [2]orb.Point) bool { return apart(r[0], r[1]) < leastEdge })
}

// onEdge is how near a place lies on an edge, in feet.
const onEdge = 1e-2

// hiddenMid is hidden for the middle of a cut piece, which may be short: only what lies
// on an edge itself is not hidden.
func hiddenMid(at orb.Point, over []solid) bool {
	return slices.ContainsFunc(over, func(s solid) bool {
		return s.bound.Contains(at) && geom.PolygonContains(s.poly, at) && !s.edgeNear(at, onEdge)
	})
}
