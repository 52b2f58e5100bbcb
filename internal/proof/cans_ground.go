package proof

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// canGround is where cans may stand on an area: its ground off the edge lip, off heads
// and off what else stands there.
type canGround struct {
	frame geom.Frame
	is    []canCell // by cell of the frame
	cells []int32   // whole cells of the area's ground
	free  int       // of them where a can may stand
	sqft  float64   // of the ground
	along float64   // degrees: the way the rows lie, that of the longest edges
}

// canCell is what a cell of the frame is.
type canCell uint8

const (
	otherGround canCell = iota
	taken               // the area's, and something stands there
	open                // a can may stand there
)

// groundFor reads the ground of an area; false where it is none that cans catch on.
func groundFor(p *plan.Plan, area plan.ID) (*canGround, bool) {
	a, frame, ok := coverage.GroundOf(p, area)
	if !ok {
		return nil, false
	}
	g := &canGround{frame: frame, is: make([]canCell, frame.Size()), sqft: float64(a.SqFt), along: rowsOf(p.Areas[area])}
	for k, cell := range a.Cells {
		if a.Weights[k] == 1 {
			g.is[cell] = open
			g.cells = append(g.cells, cell)
		}
	}
	g.clear(p)
	g.offEdge(float64(p.EdgeLip()))
	for _, cell := range g.cells {
		if g.is[cell] == open {
			g.free++
		}
	}
	return g, true
}

// clear takes the ground about what stands there.
func (g *canGround) clear(p *plan.Plan) {
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.Stands() {
			g.keepOff(h.X, h.Y, offHead)
		}
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		if t := p.Trees[id]; t.Status.Stands() {
			g.keepOff(t.X, t.Y, float64(t.TrunkIn)/24+offThing)
		}
	}
	for _, id := range plan.SortedIDs(p.KeepDry) {
		if k := p.KeepDry[id]; k.Status.Stands() {
			g.keepOff(k.X, k.Y, offThing)
		}
	}
	for _, id := range plan.SortedIDs(p.Boxes) {
		if b := p.Boxes[id]; b.Status.Stands() {
			g.keepOff(b.X, b.Y, offThing)
		}
	}
	for _, id := range plan.SortedIDs(p.Zones) {
		if z := p.Zones[id]; z.ValveAt != nil && z.Status.Stands() {
			g.keepOff(z.ValveAt.X, z.ValveAt.Y, offThing)
		}
	}
}

// offEdge takes the ground within a foot of the area's edge, unless that is most of what
// a strip has: cans of the outer row stand 1 to 2 ft in.
func (g *canGround) offEdge(lip float64) {
	rim := make([]int32, 0, len(g.cells))
	steps := int(math.Round((edgeClear - lip) / g.frame.Cell))
	for _, cell := range g.cells {
		if g.is[cell] == open && steps > 0 && g.nearEdge(int(cell), steps) {
			rim = append(rim, cell)
		}
	}
	if 2*len(rim) > len(g.cells) {
		return
	}
	for _, cell := range rim {
		g.is[cell] = taken
	}
}

// nearEdge reports whether other ground lies within a number of cells across or up.
func (g *canGround) nearEdge(cell, steps int) bool {
	x, y := cell%g.frame.NX, cell/g.frame.NX
	for k := 1; k <= steps; k++ {
		for _, d := range [4][2]int{{k, 0}, {-k, 0}, {0, k}, {0, -k}} {
			i, j := x+d[0], y+d[1]
			if i < 0 || j < 0 || i >= g.frame.NX || j >= g.frame.NY || g.is[j*g.frame.NX+i] == otherGround {
				return true
			}
		}
	}
	return false
}

func (g *canGround) keepOff(x, y units.Feet, within float64) {
	at := orb.Point{float64(x), float64(y)}
	c := g.frame.Around(at.Bound().Pad(within)).Within(g.frame)
	for cy := c.Y0; cy < c.Y1; cy++ {
		for cx := c.X0; cx < c.X1; cx++ {
			m := g.frame.Middle(cx, cy)
			if k := cy*g.frame.NX + cx; g.is[k] == open && math.Hypot(m[0]-at[0], m[1]-at[1]) < within {
				g.is[k] = taken
			}
		}
	}
}

// at is what the ground is at a place.
func (g *canGround) at(p orb.Point) canCell {
	x, y, ok := g.frame.CellOf(p)
	if !ok {
		return otherGround
	}
	return g.is[y*g.frame.NX+x]
}

// middle is the middle of a cell.
func (g *canGround) middle(cell int32) orb.Point {
	return g.frame.Middle(int(cell)%g.frame.NX, int(cell)/g.frame.NX)
}

// beside is the place nearest to one at which a can may stand, no farther than within;
// false where there is none. A place that is free stays.
func (g *canGround) beside(p orb.Point, within float64) (orb.Point, bool) {
	if g.at(p) == open {
		return p, true
	}
	best, least := orb.Point{}, within
	c := g.frame.Around(p.Bound().Pad(within)).Within(g.frame)
	for y := c.Y0; y < c.Y1; y++ {
		for x := c.X0; x < c.X1; x++ {
			if g.is[y*g.frame.NX+x] != open {
				continue
			}
			m := g.frame.Middle(x, y)
			if d := math.Hypot(m[0]-p[0], m[1]-p[1]); d < least {
				best, least = m, d
			}
		}
	}
	return best, least < within
}

// some are at most n places spread evenly over the ground in the order of its cells,
// for what need not look at every cell.
func (g *canGround) some(n int) []orb.Point {
	n = min(n, len(g.cells))
	out := make([]orb.Point, n)
	for k := range n {
		out[k] = g.middle(g.cells[k*len(g.cells)/n])
	}
	return out
}

// standShare is the share of a head's water that has to land on an area for cans to be
// set about it. Chosen.
const standShare = 0.25

// standFor are the heads that stand for the area, of those that run.
func (g *canGround) standFor(heads []coverage.Footprint) []int {
	sample := g.some(1500)
	ground := g.sqft / float64(max(len(sample), 1))
	var out []int
	for k := range heads {
		f, sum := &heads[k], 0.0
		far := float64(f.Farthest())
		for _, q := range sample {
			if math.Abs(q[0]-f.At()[0]) < far && math.Abs(q[1]-f.At()[1]) < far {
				sum += float64(f.RateAt(q, nil)) * ground
			}
		}
		if sum >= standShare*float64(units.PrecipitationRate(f.Run.Flow, 1)) {
			out = append(out, k)
		}
	}
	return out
}

// rowsOf is the direction most of an area's outline lies in, or square to: rows of cans
// go along it, for the tape.
func rowsOf(a plan.Area) float64 {
	ring := a.Outline.Ring()
	type side struct{ turn, long float64 }
	var sides []side
	for i := 0; i+1 < len(ring); i++ {
		dx, dy := ring[i+1][0]-ring[i][0], ring[i+1][1]-ring[i][1]
		if l := math.Hypot(dx, dy); l > 0 {
			sides = append(sides, side{math.Mod(geom.NormDeg(math.Atan2(dy, dx)*180/math.Pi), 90), l})
		}
	}
	const alike = 3 // degrees
	best, most := 0.0, 0.0
	for _, s := range sides {
		sum := 0.0
		for _, o := range sides {
			if off := math.Abs(o.turn - s.turn); min(off, 90-off) <= alike {
				sum += o.long
			}
		}
		if sum > most+1e-9 {
			best, most = s.turn, sum
		}
	}
	// Of the two ways the longer one of the ground.
	if b := a.Outline.Bound(); best < 1 && b.Max[1]-b.Min[1] > b.Max[0]-b.Min[0] {
		return best + 90
	}
	return best
}
