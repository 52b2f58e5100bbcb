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
