package stakeout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/quadtree"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Aim is how the arc of a head is turned, by what is seen from it. Left and right are as
// one stands at the head and looks out over its arc.
type Aim struct {
	Head  plan.ID
	Whole bool   // a full circle: nothing to turn
	Strip bool   // Left is the way its strip runs ahead
	Left  string // "along the west edge of Drive, going north", "toward head 1-3"
	Right string // the right stop: the first edge of the arc
}

const (
	aimNear  = 3.0  // degrees within which a thing is what is aimed at
	aimEdge  = 2.0  // feet that an edge aimed along may be off
	aimAhead = 3.0  // feet that it must run on
	aimLeast = 4.0  // feet to a head aimed at: nearer ones tell no direction
	aimFar   = 75.0 // feet
	aimHeads = 24   // heads looked at. All chosen.
)

// landmark is something seen from a head.
type landmark struct {
	deg   float64 // towards it
	words string  // "head 1-3", a letter, "along the west edge of Drive, going north"
	rank  int     // the lower is the surer
	along bool
	back  bool // seen behind, so that it serves only for what is right in line
}

// Aims are the aims of all standing heads of a plan that was set out as s.
func Aims(p *plan.Plan, s *Plan) map[plan.ID]Aim {
	g := groundOf(p)
	far := 2 * float64(units.MaxLength)
	box := orb.Bound{Min: orb.Point{-far, -far}, Max: orb.Point{far, far}}
	heads, points := quadtree.New(box), quadtree.New(box)
	ids := plan.SortedIDs(p.Heads)
	ids = slices.DeleteFunc(ids, func(id plan.ID) bool { return !p.Heads[id].Status.Stands() })
	for i, id := range ids {
		_ = heads.Add(planted{headAt(p, id), i}) // inside: no plan reaches farther
	}
	for i, q := range s.Points {
		if !q.Flag {
			_ = points.Add(planted{q.At, i})
		}
	}
	out := make(map[plan.ID]Aim, len(ids))
	for _, id := range ids {
		h, a := p.Heads[id], Aim{Head: id}
		strip := p.Nozzles[h.Nozzle].Family == catalog.Strip
		switch {
		case strip:
			a.Strip = true
			a.Left = toward(p, p.Nozzles[h.Nozzle].Strip, float64(h.StartDeg), g.landmarks(p, s, ids, heads, points, id))
		case h.SweepDeg >= 360:
			a.Whole = true
		default:
			seen := g.landmarks(p, s, ids, heads, points, id)
			a.Left = bearing(p, float64(h.StartDeg+h.SweepDeg), seen)
			a.Right = bearing(p, float64(h.StartDeg), seen)
		}
		out[id] = a
	}
	return out
}

func headAt(p *plan.Plan, id plan.ID) orb.Point {
	return orb.Point{float64(p.Heads[id].X), float64(p.Heads[id].Y)}
}

// landmarks are what is seen from a head that an arc can be turned by.
func (g *ground) landmarks(p *plan.Plan, s *Plan, ids []plan.ID, heads, points *quadtree.Quadtree, id plan.ID) []landmark {
	at := headAt(p, id)
	var out []landmark
	for i := range g.edges {
		out = g.edges[i].aims(p, at, out)
	}
	for _, q := range nearest(heads, at, aimHeads, aimFar) {
		if d := apart(q.at, at); ids[q.i] == id || d < aimLeast || !g.walls.sees(at, q.at) {
			continue
		}
		out = seenBoth(out, geom.Bearing(at, q.at), "head "+p.HeadTag(ids[q.i]), 1)
	}
	for _, q := range nearest(points, at, aimHeads, float64(Reach)) {
		if d := apart(q.at, at); d < aimLeast || !g.walls.sees(at, q.at) {
			continue
		}
		out = seenBoth(out, geom.Bearing(at, q.at), s.Points[q.i].Letter, 2)
	}
	return out
}

// seenBoth adds what is seen in a direction, and that it may be sighted back along.
func seenBoth(out []landmark, deg float64, words string, rank int) []landmark {
	return append(out,
		landmark{deg: deg, words: words, rank: rank},
		landmark{deg: geom.NormDeg(deg + 180), words: words, rank: rank + 2, back: true})
}

// aims adds the ways along an edge beside a head.
func (e *edge) aims(p *plan.Plan, at orb.Point, out []landmark) []landmark {
	if e.rank == ofLot || at[0] < min(e.a[0], e.b[0])-aimEdge || at[0] > max(e.a[0], e.b[0])+aimEdge ||
		at[1] < min(e.a[1], e.b[1])-aimEdge || at[1] > max(e.a[1], e.b[1])+aimEdge {
		return out
	}
	l := apart(e.a, e.b)
	if math.Abs(cross(e.a, e.b, at))/l > aimEdge {
		return out
	}
	t := ((at[0]-e.a[0])*(e.b[0]-e.a[0]) + (at[1]-e.a[1])*(e.b[1]-e.a[1])) / l
	name := edgeWords(e.name)
	for _, way := range [][2]orb.Point{{e.a, e.b}, {e.b, e.a}} {
		ahead := l - t
		if way[0] == e.b {
			ahead = t
		}
		if ahead >= aimAhead {
			out = append(out, landmark{deg: geom.Bearing(way[0], way[1]), along: true,
				words: "along " + name + ", going " + p.Compass(way[0], way[1])})
		}
	}
	return out
}

// bearing says where a direction points: along an edge, toward a head or a lettered
// point, or so many degrees beside the nearest of them; by compass where nothing is seen.
func bearing(p *plan.Plan, deg float64, seen []landmark) string {
	best, off := -1, 0.0
	for i, m := range seen {
		d := math.Remainder(deg-m.deg, 360) // above 0: the direction is to its left
		if m.back && math.Abs(d) > aimNear {
			continue
		}
		if best < 0 || aimCost(m, d, seen[best], off) < 0 {
			best, off = i, d
		}
	}
	if best < 0 {
		return fmt.Sprintf("%s by compass", p.Compass(orb.Point{}, dirOf(deg)))
	}
	m := seen[best]
	degrees := math.Round(math.Abs(off))
	switch {
	case math.Abs(off) <= aimNear && m.along:
		return m.words
	case m.back:
		return "in line with " + m.words + " behind you"
	case math.Abs(off) <= aimNear:
		return "toward " + m.words
	}
	side := "left"
	if off < 0 {
		side = "right"
	}
	if m.along {
		return fmt.Sprintf("%.0f° %s of the way %s", degrees, side, m.words)
	}
	return fmt.Sprintf("%.0f° %s of %s", degrees, side, m.words)
}

// aimCost compares two landmarks by how far beside them a direction points: what is
// aimed at straight comes first, the surer the better; then the nearest.
func aimCost(a landmark, offA float64, b landmark, offB float64) int {
	onA, onB := math.Abs(offA) <= aimNear, math.Abs(offB) <= aimNear
	switch {
	case onA && onB:
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(math.Abs(offA), math.Abs(offB)))
	case onA:
		return -1
	case onB:
		return 1
	}
	return cmp.Or(cmp.Compare(math.Abs(offA), math.Abs(offB)), cmp.Compare(a.rank, b.rank))
}

func dirOf(deg float64) orb.Point {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return orb.Point{cos, sin}
}

// toward says which way a strip runs and on which side of that way it waters.
func toward(p *plan.Plan, shape *catalog.StripShape, deg float64, seen []landmark) string {
	way := bearing(p, deg, seen)
	if shape == nil {
		return way
	}
	out := "ahead " + way
	switch {
	case shape.Ahead && shape.Back:
		out = "both ways; ahead " + way
	case shape.Back:
		out = "to the back of the way " + way
	}
	switch {
	case shape.Left > shape.Right:
		return out + "; water on the left of that"
	case shape.Right > shape.Left:
		return out + "; water on the right of that"
	}
	return out
}
