package zones

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

const (
	// mostShared is how many valves one box holds: a jumbo box 4 to 5 (common
	// practice, trade B5).
	mostShared = 5
	// sameBox is how near one another two valves stand to be in one box, in feet.
	// Chosen: the longest boxes are about 2 ft, and drawings are not exact.
	sameBox = 4.0
	// boxInset is how far inside its planting a box is set, in feet: the 12 in to
	// paving with something to spare. Chosen.
	boxInset = 1.25
	// halfBox is half the breadth of a box, in feet. Chosen: common boxes are 12 to 20 in
	// wide.
	halfBox = 0.75
	// boxStep is how far apart places along an edge are looked at, in feet; it is
	// more on edges of over mostSteps of them.
	boxStep   = 4.0
	mostSteps = 80
	// boxReach is how far apart the best places of two zones may be for one box to be
	// tried for both, in feet. Chosen.
	boxReach = 150.0
	// besideHead is the least from a head to a valve, in feet: room to dig. Chosen.
	besideHead = 1.0
	// eye is the height over which a wall or fence hides heads, in feet. Chosen.
	eye = 5.0
	// boxPlaces is how many places near a zone are weighed for its valve.
	boxPlaces = 40
)

// What places are weighed by, in feet of pipe. Chosen.
const (
	onLawn    = 8.0  // a box in turf rather than in a bed
	unseen    = 25.0 // none of the heads in sight
	toMiddle  = 0.3  // a foot from the middle of the heads, beside the way to the nearest
	toSupply  = 0.8  // a foot from the connection, once a box
	boxItself = 14.0 // another box
	lowLying  = 20.0 // the low end of a bed; of a lawn it is ruled out
)

// site is a place where a box may stand.
type site struct {
	at   orb.Point
	area plan.ID
	lawn bool
	low  bool
}

// grounds finds places for boxes.
type grounds struct {
	p      *plan.Plan
	rules  *coverage.ValveGround
	heads  []orb.Point
	hides  []geom.Segment // what stands before the eyes of who is at a valve
	supply *orb.Point
	sites  []site
}

func newGrounds(j *job) *grounds {
	g := &grounds{p: j.p, rules: coverage.ValveGroundOf(j.p), hides: slices.Clone(j.walls)}
	for _, id := range plan.SortedIDs(j.p.Heads) {
		if h := j.p.Heads[id]; h.Status.Stands() {
			g.heads = append(g.heads, orb.Point{float64(h.X), float64(h.Y)})
		}
	}
	for _, id := range plan.SortedIDs(j.p.Barriers) {
		b := j.p.Barriers[id]
		if !b.Status.Stands() || float64(b.HeightFt) < eye {
			continue
		}
		line := b.Line.Points()
		for i := 1; i < len(line); i++ {
			g.hides = append(g.hides, geom.Segment{A: line[i-1], B: line[i]})
		}
	}
	for _, s := range []*plan.Spot{j.p.Supply.BackflowAt, j.p.Supply.Connection} {
		if s != nil && g.supply == nil {
			g.supply = &orb.Point{float64(s.X), float64(s.Y)}
		}
	}
	g.find()
	return g
}

// find lists the places: in planting, beside its edges, and in the middle of beds.
func (g *grounds) find() {
	for _, id := range plan.SortedIDs(g.p.Areas) {
		a := g.p.Areas[id]
		if a.Kind != plan.Planting || !a.Status.Stands() {
			continue
		}
		poly, err := geom.Polygon(a.Outline, a.Holes)
		if err != nil || len(poly) == 0 {
			continue // reading the plan refuses it
		}
		lawn := a.Cover() == plan.Turf
		for _, ring := range poly {
			for _, at := range insets(ring) {
				g.add(site{at: at, area: id, lawn: lawn})
			}
		}
		if !lawn {
			g.add(site{at: geom.InsidePoint(poly), area: id, lawn: lawn})
		}
	}
}

func (g *grounds) add(s site) {
	if g.fits(s.at, s.area) && g.stands(s.at) {
		s.low = g.rules.Low(s.at)
		g.sites = append(g.sites, s)
	}
}

// fits reports whether a box lies within an area.
func (g *grounds) fits(at orb.Point, area plan.ID) bool {
	for _, d := range []orb.Point{{0, 0}, {halfBox, 0}, {-halfBox, 0}, {0, halfBox}, {0, -halfBox}} {
		if g.rules.Surface(orb.Point{at[0] + d[0], at[1] + d[1]}) != area {
			return false
		}
	}
	return true
}

// stands reports whether a box may stand at a place.
func (g *grounds) stands(at orb.Point) bool {
	for _, h := range g.heads {
		if gap(h, at) < besideHead {
			return false
		}
	}
	return g.rules.Bad(at) == ""
}

// insets are places beside a ring on its left, where its ground is.
func insets(ring orb.Ring) []orb.Point {
	length := 0.0
	for i := 1; i < len(ring); i++ {
		length += gap(ring[i-1], ring[i])
	}
	step := max(boxStep, length/mostSteps)
	var out []orb.Point
	next := step / 2
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		d := gap(a, b)
		for ; next < d; next += step {
			x, y := (b[0]-a[0])/d, (b[1]-a[1])/d
			out = append(out, orb.Point{a[0] + float64(x*next) - float64(y*boxInset), a[1] + float64(y*next) + float64(x*boxInset)})
		}
		next -= d
	}
	return out
}

// seen is the number of heads in sight of a place.
func (g *grounds) seen(at orb.Point, heads []head) int {
	n := 0
	for _, h := range heads {
		// a head at the very foot of a wall is seen from its own side
		to := orb.Point{h.at[0] + 0.02*(at[0]-h.at[0]), h.at[1] + 0.02*(at[1]-h.at[1])}
		if !crossed(at, to, g.hides) {
			n++
		}
	}
	return n
}

// lateral is what a place costs the valve of some heads.
func (g *grounds) lateral(s site, heads []head) float64 {
	nearest := math.Inf(1)
	for _, h := range heads {
		nearest = min(nearest, gap(h.at, s.at))
	}
	cost := nearest + toMiddle*gap(middle(heads), s.at)
	cost += unseen * (1 - float64(g.seen(s.at, heads))/float64(max(len(heads), 1)))
	if s.lawn {
		cost += onLawn
	}
	if s.low {
		cost += lowLying
	}
	return cost
}

func (g *grounds) box(s site) float64 {
	if g.supply == nil {
		return boxItself
	}
	return boxItself + toSupply*gap(*g.supply, s.at)
}

// nearest are the places near to heads, by index, the best first.
func (g *grounds) nearest(heads []head) []int {
	away := make([]float64, len(g.sites))
	order := make([]int, len(g.sites))
	m := middle(heads)
	for i, s := range g.sites {
		order[i] = i
		away[i] = math.Inf(1)
		for _, h := range heads {
			away[i] = min(away[i], gap(h.at, s.at))
		}
		away[i] += toMiddle * gap(m, s.at)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(away[a], away[b]) })
	return order[:min(boxPlaces, len(order))]
}
