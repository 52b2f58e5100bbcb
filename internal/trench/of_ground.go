package trench

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// land is the ground of a plan: its areas, its root zones and its property line.
type land struct {
	areas []area
	edges [][2]orb.Point // of all areas and of the property line
	near  *squares       // of the edges
	roots []roots
	lot   orb.Ring // empty: not drawn
}

type area struct {
	plan.Area
	id    plan.ID
	shape orb.Polygon
	bound orb.Bound
	size  float64 // square feet
}

// roots is the ground about one trunk that digging should keep out of.
type roots struct {
	tree   plan.ID
	at     orb.Point
	radius float64
	clear  float64 // by its trunk alone
}

// spotted is what the ground is at one place.
type spotted struct {
	ground Ground
	area   plan.ID // that has it; the area not to be dug where one lies over it
	paving int     // of land.areas; -1: none
	tree   plan.ID
}

func newLand(p *plan.Plan) *land {
	l := &land{}
	bound, some := orb.Bound{}, false
	for _, id := range plan.SortedIDs(p.Areas) {
		v := p.Areas[id]
		if !v.Status.Stands() {
			continue
		}
		a := area{Area: v, id: id, shape: orb.Polygon{v.Outline.Ring()}}
		a.size = geom.RingArea(a.shape[0])
		for _, hole := range v.Holes {
			r := hole.Ring()
			a.shape, a.size = append(a.shape, r), a.size-geom.RingArea(r)
		}
		a.bound = a.shape[0].Bound()
		if !some {
			bound, some = a.bound, true
		}
		bound = bound.Union(a.bound)
		l.areas = append(l.areas, a)
		for _, r := range a.shape {
			l.addEdges(r)
		}
	}
	// The strongest first, of equals the smaller: the first that holds a place has it.
	slices.SortStableFunc(l.areas, func(a, b area) int {
		return cmp.Or(cmp.Compare(b.Kind.Strength(), a.Kind.Strength()), cmp.Compare(a.size, b.size))
	})
	if len(p.Site.Lot) > 2 {
		l.lot = p.Site.Lot.Ring()
		if !some {
			bound = l.lot.Bound()
		}
		bound = bound.Union(l.lot.Bound())
		l.addEdges(l.lot)
	}
	l.near = newSquares(bound.Pad(1), len(l.edges))
	for i, e := range l.edges {
		l.near.add(i, boundOf(e[0], e[1]))
	}
	perInch, _ := p.Figure(plan.RootsPerInch)
	for _, id := range plan.SortedIDs(p.Trees) {
		t := p.Trees[id]
		if !t.Status.Stands() {
			continue
		}
		r := roots{tree: id, at: orb.Point{float64(t.X), float64(t.Y)}, clear: float64(t.TrunkIn) * perInch}
		r.radius = cmp.Or(float64(t.RootZoneFt), r.clear)
		l.roots = append(l.roots, r)
	}
	return l
}

func (l *land) addEdges(r orb.Ring) {
	for i := 0; i+1 < len(r); i++ {
		l.edges = append(l.edges, [2]orb.Point{r[i], r[i+1]})
	}
}

// soft is the order in which a line along an edge between two grounds is taken to
// lie in the one or the other: whoever digs keeps to what is easier.
var soft = []Ground{Lawn, Bed, Loose, Undrawn, Street, OffLot, Roots, NotToDig, Paved, Wet, Indoors}

// bothSides is how far to both sides of a line its ground is looked at, in feet.
const bothSides = tiny

// of is what the middle of a straight piece lies in. Where the ground differs to
// its left and right the piece runs along an edge.
func (l *land) of(a, b orb.Point) spotted {
	mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	nx, ny := -(b[1]-a[1])/length*bothSides, (b[0]-a[0])/length*bothSides
	left := l.at(orb.Point{mid[0] + nx, mid[1] + ny})
	right := l.at(orb.Point{mid[0] - nx, mid[1] - ny})
	s := left
	if slices.Index(soft, right.ground) < slices.Index(soft, left.ground) {
		s = right
	}
	switch s.ground {
	case Lawn, Bed, Loose, Undrawn, Street:
		for _, r := range l.roots {
			if math.Hypot(mid[0]-r.at[0], mid[1]-r.at[1]) < r.radius-tiny {
				s.ground, s.tree = Roots, r.tree
				break
			}
		}
	}
	return s
}

// at is what a place is, roots left out.
func (l *land) at(at orb.Point) spotted {
	s := spotted{ground: Undrawn, paving: -1}
	if len(l.lot) > 0 && !geom.RingContains(l.lot, at) {
		s.ground = OffLot
	}
	found := false
	for i := range l.areas {
		a := &l.areas[i]
		if found && a.Kind != plan.NoDig || !a.bound.Contains(at) || !geom.PolygonContains(a.shape, at) {
			continue
		}
		if a.Kind == plan.NoDig {
			if s.ground != Indoors {
				s.ground, s.area = NotToDig, a.id
			}
			break
		}
		found, s.area, s.ground = true, a.id, groundOf(a.Area)
		if s.ground == Paved {
			s.paving = i
		}
	}
	return s
}

// groundOf is what an area's ground is to dig.
func groundOf(a plan.Area) Ground {
	switch a.Kind {
	case plan.Building:
		return Indoors
	case plan.NoDig:
		return NotToDig
	case plan.Water:
		return Wet
	case plan.Paving:
		return Paved
	case plan.Ground:
		return Loose
	case plan.RightOfWay:
		return Street
	}
	if a.Cover() == plan.Turf {
		return Lawn
	}
	return Bed
}

// cutByGround cuts the lines where they come from one ground into another.
func (w *work) cutByGround() {
	for i := range w.lines {
		l := &w.lines[i]
		if w.strands[l.strand].indoors {
			continue
		}
		b := boundOf(l.a, l.b)
		w.land.near.visit(b, func(e int) {
			c, d := w.land.edges[e][0], w.land.edges[e][1]
			if !b.Intersects(boundOf(c, d)) {
				return
			}
			if at, ok := geom.SegmentIntersection(l.a, l.b, c, d); ok {
				t, _ := l.foot(at)
				w.cutAt(i, t)
			}
		})
		for _, r := range w.land.roots {
			ux, uy := (l.b[0]-l.a[0])/l.length, (l.b[1]-l.a[1])/l.length
			t, off := (r.at[0]-l.a[0])*ux+(r.at[1]-l.a[1])*uy, (r.at[1]-l.a[1])*ux-(r.at[0]-l.a[0])*uy
			if math.Abs(off) >= r.radius {
				continue
			}
			half := math.Sqrt(r.radius*r.radius - off*off)
			for _, x := range []float64{t - half, t + half} {
				if x > 0 && x < l.length {
					w.cutAt(i, x)
				}
			}
		}
	}
}
