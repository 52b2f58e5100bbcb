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
	// boxReach is how far apart the best places of two zones may be for one box to be
	// tried for both, in feet. Chosen.
	boxReach = 150.0
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

// grounds finds places for boxes.
type grounds struct {
	p      *plan.Plan
	rules  *coverage.ValveGround
	hides  []geom.Segment // what stands before the eyes of who is at a valve
	supply *orb.Point
	sites  []coverage.ValveSite
}

func newGrounds(j *job) *grounds {
	g := &grounds{p: j.p, rules: coverage.ValveGroundOf(j.p), hides: slices.Clone(j.walls)}
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
	g.sites = g.rules.Sites(g.p)
	return g
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
func (g *grounds) lateral(s coverage.ValveSite, heads []head) float64 {
	nearest := math.Inf(1)
	for _, h := range heads {
		nearest = min(nearest, gap(h.at, s.At))
	}
	cost := nearest + toMiddle*gap(middle(heads), s.At)
	cost += unseen * (1 - float64(g.seen(s.At, heads))/float64(max(len(heads), 1)))
	if s.Lawn {
		cost += onLawn
	}
	if s.Low {
		cost += lowLying
	}
	return cost
}

func (g *grounds) box(s coverage.ValveSite) float64 {
	if g.supply == nil {
		return boxItself
	}
	return boxItself + toSupply*gap(*g.supply, s.At)
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
			away[i] = min(away[i], gap(h.at, s.At))
		}
		away[i] += toMiddle * gap(m, s.At)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(away[a], away[b]) })
	return order[:min(boxPlaces, len(order))]
}
