package arrange

import (
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// site is what of a plan decides where heads may stand.
type site struct {
	p *plan.Plan
}

// newSite gathers it.
func newSite(p *plan.Plan) (*site, error) { return &site{p: p}, nil }

// ground is one planting area as a search sees it.
type ground struct {
	id    plan.ID
	name  string
	cover plan.Cover
	shape orb.MultiPolygon // the area, less what lies on it
	// wet is where overhead water is wanted: shape less the bands without spray.
	wet orb.MultiPolygon
	// stand is where a head may stand: shape less every set-back, trunk, no-dig
	// ground and whatever else keeps heads off. Empty: nowhere.
	stand  orb.MultiPolygon
	edges  []edge // the boundary of stand, where edge heads go
	widest units.Feet
	// widest and typical are widths of the area: the greatest circle's diameter,
	// and the middle one along its skeleton.
	typical units.Feet
	walls   []geom.Segment // what stops water near it
	trunks  []trunk
	stays   []plan.ID // heads that stand for it and stay: locked, existing
	goes    []plan.ID // heads that stand for it and make room
	refuses string    // why no overhead water may be planned, in a sentence; "" when it may
}

// trunk is a tree's trunk near an area.
type trunk struct {
	at     orb.Point
	radius float64 // feet
}

// edge is one closed path along which edge heads stand.
type edge struct {
	ring    orb.Ring  // anticlockwise about the ground
	along   []float64 // distance to each vertex from the first, feet
	corners []int     // vertices that turn more than 30°, rising; none on a smooth ring
}

// ground makes the ground of an area.
func (s *site) ground(area plan.ID) (*ground, error) { return &ground{id: area}, nil }
