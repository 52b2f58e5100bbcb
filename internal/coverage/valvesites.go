package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

const (
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
	// besideHead is the least from a head to a valve, in feet: room to dig. Chosen.
	besideHead = 1.0
	// besideValve is how near one another two valves of a box may be put, in feet.
	besideValve = 0.9
)

// ValveSite is a place where a valve box may stand.
type ValveSite struct {
	At   orb.Point
	Area plan.ID
	Lawn bool
	Low  bool // in the lowest part of its planting's fall
}

// Sites lists places for boxes: in planting, beside its edges, and in the middle of
// beds, clear of the standing heads.
func (g *ValveGround) Sites(p *plan.Plan) []ValveSite {
	heads := standingHeads(p)
	var out []ValveSite
	add := func(s ValveSite) {
		if g.Fits(s.At, s.Area) && g.stands(s.At, heads) {
			s.Low = g.Low(s.At)
			out = append(out, s)
		}
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
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
				add(ValveSite{At: at, Area: id, Lawn: lawn})
			}
		}
		if !lawn {
			add(ValveSite{At: geom.InsidePoint(poly), Area: id, Lawn: lawn})
		}
	}
	return out
}

func standingHeads(p *plan.Plan) []orb.Point {
	var out []orb.Point
	for _, id := range plan.SortedIDs(p.Heads) {
		if h := p.Heads[id]; h.Status.Stands() {
			out = append(out, orb.Point{float64(h.X), float64(h.Y)})
		}
	}
	return out
}

// Fits reports whether a box lies within an area.
func (g *ValveGround) Fits(at orb.Point, area plan.ID) bool {
	for _, d := range []orb.Point{{0, 0}, {halfBox, 0}, {-halfBox, 0}, {0, halfBox}, {0, -halfBox}} {
		if g.Surface(orb.Point{at[0] + d[0], at[1] + d[1]}) != area {
			return false
		}
	}
	return true
}

// stands reports whether a box may stand at a place.
func (g *ValveGround) stands(at orb.Point, heads []orb.Point) bool {
	for _, h := range heads {
		if valveGap(h, at) < besideHead {
			return false
		}
	}
	return g.Bad(at) == ""
}

// Beside is a place for one more valve in a box at a site, a foot from those that
// are taken where there is room.
func (g *ValveGround) Beside(p *plan.Plan, s ValveSite, taken []orb.Point) orb.Point {
	heads := standingHeads(p)
	place := s.At
	for _, d := range besides {
		q := orb.Point{s.At[0] + d[0], s.At[1] + d[1]}
		free := true
		for _, t := range taken {
			free = free && valveGap(t, q) >= besideValve
		}
		if free && g.Fits(q, s.Area) && g.stands(q, heads) {
			place = q
			break
		}
	}
	place = orb.Point{math.Round(place[0]*8) / 8, math.Round(place[1]*8) / 8} // what a tape is read to in a bed
	if !g.stands(place, heads) {
		return s.At
	}
	return place
}

// besides are places in a box, by their distance from its middle.
var besides = []orb.Point{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}, {1, -1}, {-1, 1}, {2, 0}, {-2, 0}, {0, 2}, {0, -2}}

func valveGap(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// insets are places beside a ring on its left, where its ground is.
func insets(ring orb.Ring) []orb.Point {
	length := 0.0
	for i := 1; i < len(ring); i++ {
		length += valveGap(ring[i-1], ring[i])
	}
	step := max(boxStep, length/mostSteps)
	var out []orb.Point
	next := step / 2
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		d := valveGap(a, b)
		for ; next < d; next += step {
			x, y := (b[0]-a[0])/d, (b[1]-a[1])/d
			out = append(out, orb.Point{a[0] + float64(x*next) - float64(y*boxInset), a[1] + float64(y*next) + float64(x*boxInset)})
		}
		next -= d
	}
	return out
}
