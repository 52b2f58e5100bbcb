package stakeout

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// rank orders fixed points and edges by how sure they are to be found.
type rank int

const (
	ofBuilding rank = iota
	ofPaving
	ofBarrier
	ofLot
	ofFlag  // set before
	ofStake // set by the crew
)

// harder is by how many feet of tape a point of a rank is passed over for a better one.
// Chosen.
var harder = map[rank]float64{ofPaving: 2, ofBarrier: 6, ofLot: 40, ofFlag: 60}

// spot is a fixed point that may be measured from.
type spot struct {
	at   orb.Point
	name string
	of   plan.Ref
	rank rank
	tag  string // of a flag
}

// edge is a straight edge that can be seen, from one fixed point to another.
type edge struct {
	a, b orb.Point
	on   []int // of ground.spots, from a to b
	name string
	rank rank
}

// solid is a building or paving with its outline worked out.
type solid struct {
	id     plan.ID
	poly   orb.Polygon
	bound  orb.Bound
	stands bool // it is there before the work, and stays
}

// ground is what a plan has to measure from and around.
type ground struct {
	p         *plan.Plan
	buildings []solid
	paving    []solid
	walls     *walls
	spots     []spot
	edges     []edge
	cells     map[[2]int][]int // of spots, by place
}

// cornerTurn is how far an outline turns, in degrees, at what a person calls a corner;
// straightTurn how little where its edge runs straight on. Chosen.
const (
	cornerTurn   = 20.0
	straightTurn = 0.5
)

// sameSpot is how near two corners are one, in feet.
const sameSpot = 0.1

func groundOf(p *plan.Plan) *ground {
	g := &ground{p: p, cells: map[[2]int][]int{}}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind != plan.Building && a.Kind != plan.Paving {
			continue
		}
		poly, err := geom.Polygon(a.Outline, a.Holes)
		if err != nil || len(poly) == 0 {
			continue // a shape that cannot be drawn has no corners to measure from
		}
		s := solid{id: id, poly: poly, bound: poly.Bound(), stands: a.Status == plan.Existing}
		if a.Kind == plan.Building {
			g.buildings = append(g.buildings, s)
		} else {
			g.paving = append(g.paving, s)
		}
	}
	g.walls = wallsOf(p, g)
	for _, s := range g.buildings {
		if s.stands {
			g.outlines(s, ofBuilding, g.buildings)
		}
	}
	covers := append(slices.Clone(g.buildings), g.paving...)
	for _, s := range g.paving {
		if s.stands {
			g.outlines(s, ofPaving, covers)
		}
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		if b := p.Barriers[id]; b.Status == plan.Existing && b.Kind != plan.Hedge {
			g.barrier(id, b)
		}
	}
	g.lot()
	g.strung()
	return g
}

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

func (g *ground) barrier(id plan.ID, b plan.Barrier) {
	ref, name := plan.RefTo("barriers", id), g.p.Label(plan.RefTo("barriers", id))
	turns := b.Line.Turns()
	box := b.Line.Points().Bound()
	for i, v := range b.Line {
		at := geom.Snap(v.Point())
		if turns[i] < cornerTurn || hidden(at, g.buildings) {
			continue
		}
		word := " corner of "
		if turns[i] == 180 {
			word = " end of "
		}
		g.spot(at, g.cornerWords(box, at)+word+name, ref, ofBarrier)
	}
	for i := 0; i+1 < len(b.Line); i++ {
		x, y := geom.Snap(b.Line[i].Point()), geom.Snap(b.Line[i+1].Point())
		if b.Line[i].Bulge == 0 && apart(x, y) >= leastEdge {
			g.edges = append(g.edges, edge{a: x, b: y, name: name, rank: ofBarrier})
		}
	}
}

// lot takes the posts of the property line and its straight sides.
func (g *ground) lot() {
	o := g.p.Site.Lot
	if len(o) < 3 {
		return
	}
	turns, box := o.Turns(), o.Bound()
	for i, v := range o {
		if turns[i] >= cornerTurn {
			at := geom.Snap(v.Point())
			g.spot(at, "lot post at the "+g.cornerWords(box, at)+" corner of the lot", plan.RefToLot, ofLot)
		}
	}
	ring := orb.Polygon{o.Ring()}
	for _, r := range runs(o, turns) {
		g.edges = append(g.edges, edge{a: r[0], b: r[1], rank: ofLot,
			name: g.p.Compass(orb.Point{}, outward(ring, r[0], r[1])) + " line of the lot"})
	}
}

// tinyBox keeps a box without width from being divided by.
const tinyBox = 1e-6

// cornerWords says which corner it is, by compass from the middle of the box about the
// thing, taken as square: the ends of a long walk are its corners, too.
func (g *ground) cornerWords(b orb.Bound, at orb.Point) string {
	mid := b.Center()
	wide, high := max(b.Max[0]-b.Min[0], tinyBox), max(b.Max[1]-b.Min[1], tinyBox)
	return g.p.Compass(orb.Point{}, orb.Point{(at[0] - mid[0]) / wide, (at[1] - mid[1]) / high})
}

// spot adds a fixed point unless one is there already: the first is of what is surest.
func (g *ground) spot(at orb.Point, name string, of plan.Ref, r rank) {
	c := [2]int{int(math.Floor(at[0] / sameSpot)), int(math.Floor(at[1] / sameSpot))}
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, i := range g.cells[[2]int{c[0] + dx, c[1] + dy}] {
				if apart(g.spots[i].at, at) < sameSpot {
					return
				}
			}
		}
	}
	g.cells[c] = append(g.cells[c], len(g.spots))
	g.spots = append(g.spots, spot{at: at, name: name, of: of, rank: r})
}

// strung finds the fixed points on every edge, and leaves out edges with fewer than two.
func (g *ground) strung() {
	byX := make([]int, len(g.spots))
	for i := range byX {
		byX[i] = i
	}
	slices.SortStableFunc(byX, func(a, b int) int { return cmp.Compare(g.spots[a].at[0], g.spots[b].at[0]) })
	for i := range g.edges {
		e := &g.edges[i]
		l := apart(e.a, e.b)
		lo, hi := min(e.a[0], e.b[0])-sameSpot, max(e.a[0], e.b[0])+sameSpot
		k, _ := slices.BinarySearchFunc(byX, lo, func(s int, x float64) int { return cmp.Compare(g.spots[s].at[0], x) })
		type strung struct {
			spot int
			t    float64
		}
		var on []strung
		for ; k < len(byX) && g.spots[byX[k]].at[0] <= hi; k++ {
			q := g.spots[byX[k]].at
			t := ((q[0]-e.a[0])*(e.b[0]-e.a[0]) + (q[1]-e.a[1])*(e.b[1]-e.a[1])) / l
			if t > -sameSpot && t < l+sameSpot && math.Abs(cross(e.a, e.b, q))/l < sameSpot/4 {
				on = append(on, strung{byX[k], t})
			}
		}
		slices.SortFunc(on, func(a, b strung) int { return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.spot, b.spot)) })
		for _, s := range on {
			e.on = append(e.on, s.spot)
		}
	}
	g.edges = slices.DeleteFunc(g.edges, func(e edge) bool { return len(e.on) < 2 })
}
