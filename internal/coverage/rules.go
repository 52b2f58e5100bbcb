package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Check looks at the heads of p and the water they put down for the mistakes
// that a reviewer of the trade looks for. r and f are what Field.Update made of
// the same plan. The findings come in no particular order.
func Check(p *plan.Plan, r *Result, f *Field) []plan.Finding {
	s := look(p, r, f)
	checks := []func(*survey) []plan.Finding{
		outsideTable, notFitting, ratesMixed, turnedDown, misting, // how each head is set
		spacing, facingAway, bareCorners, sharedEdges, // where heads stand to each other
		onPaving, onGround, offLot, onWalls, // where water goes that it should not
		thinStrips, closeToPaving, shortBodies, thingsInThrow, // where heads stand to things
		mixedPlantings, mixedExposure, steepRates, flowOfZones, unwatered, // what a valve runs
	}
	var found []plan.Finding
	for _, check := range checks {
		found = append(found, check(s)...)
	}
	return found
}

// survey is a plan with its readings, arranged for the checks. Slices are
// sorted by id.
type survey struct {
	p     *plan.Plan
	r     *Result
	f     *Field
	heads []spot
	lands []land
	zones map[plan.ID][]spot // heads with a zone, by zone
	areas map[plan.ID][]spot // heads by the area they stand for: that of most of their water
	means map[plan.ID]units.InchesPerHour
}

// spot is a head that is to be there, with its rows and what it does. A head
// that cannot run (see Running) has no readings.
type spot struct {
	plan.Head
	id      plan.ID
	at      orb.Point
	nozzle  catalog.Nozzle
	body    catalog.Body
	reading HeadReading
}

// land is an area that is to be there, as a polygon.
type land struct {
	plan.Area
	id    plan.ID
	shape orb.Polygon
	bound orb.Bound
	size  float64 // square feet
}

func look(p *plan.Plan, r *Result, f *Field) *survey {
	s := &survey{
		p: p, r: r, f: f, lands: landsOf(p),
		zones: map[plan.ID][]spot{}, areas: map[plan.ID][]spot{}, means: map[plan.ID]units.InchesPerHour{},
	}
	readings := map[plan.ID]HeadReading{}
	for _, h := range r.Heads {
		readings[h.ID] = h
	}
	for _, id := range plan.SortedIDs(p.Heads) {
		head := p.Heads[id]
		if !head.Status.Stands() {
			continue
		}
		one := spot{
			Head: head, id: id, at: orb.Point{float64(head.X), float64(head.Y)},
			nozzle: p.Nozzles[head.Nozzle], body: p.Bodies[head.Body], reading: readings[id],
		}
		s.heads = append(s.heads, one)
		if head.Zone != "" {
			s.zones[head.Zone] = append(s.zones[head.Zone], one)
		}
		if area := one.reading.Area; area != "" {
			s.areas[area] = append(s.areas[area], one)
		}
	}
	for _, a := range r.Areas {
		s.means[a.ID] = a.Mean
	}
	return s
}

// landsOf lists the areas of the plan.
func landsOf(p *plan.Plan) []land {
	var out []land
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if !a.Status.Stands() {
			continue
		}
		shape, err := geom.Polygon(a.Outline, a.Holes)
		if err != nil {
			continue // reading the plan has refused it; a draft has no ground yet
		}
		out = append(out, land{a, id, shape, shape.Bound(), geom.Area(orb.MultiPolygon{shape})})
	}
	return out
}

// strip reports whether the head wets a rectangle.
func (h *spot) strip() bool { return h.nozzle.Family == catalog.Strip }

// throw is the throw as set, in feet.
func (h *spot) throw() float64 { return float64(h.reading.Throw) }

// landed is the flow that the head puts on a surface.
func (h *spot) landed(surface plan.ID) units.GPM {
	for _, l := range h.reading.Landed {
		if l.Surface == surface {
			return l.GPM
		}
	}
	return 0
}

// rateOn is the rate at a place in inches an hour; 0 outside the map.
func (s *survey) rateOn(at orb.Point) float64 {
	reading, _ := s.f.RateAt(at)
	return float64(reading.Rate)
}

// arcSlack is how far outside an arc a neighbour may stand and still be thrown
// to, in degrees: what a crew sets an arc by (chosen).
const arcSlack = 5

// faces reports whether the place lies inside the head's arc, give or take
// slack degrees (which may be negative).
func (h *spot) faces(to orb.Point, slack float64) bool {
	if h.strip() {
		return false
	}
	sweep := float64(h.SweepDeg) + 2*slack
	return sweep >= 360 || sweep > 0 && geom.SweepContains(float64(h.StartDeg)-slack, sweep, geom.Bearing(h.at, to))
}

// apart is the distance between two places in feet.
func apart(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// refs points at heads.
func refs(heads []spot) []plan.Ref {
	out := make([]plan.Ref, len(heads))
	for i, h := range heads {
		out[i] = plan.RefTo("heads", h.id)
	}
	return out
}

// named names heads in a sentence.
func (s *survey) named(heads []spot) string { return s.p.HeadNames(ids(heads)) }

func ids(heads []spot) []plan.ID {
	out := make([]plan.ID, len(heads))
	for i, h := range heads {
		out[i] = h.id
	}
	return out
}

// sortedZones are the zones that are to be there, by id.
func (s *survey) sortedZones() []plan.ID {
	var out []plan.ID
	for _, id := range plan.SortedIDs(s.p.Zones) {
		if s.p.Zones[id].Status.Stands() {
			out = append(out, id)
		}
	}
	return out
}

// over reports whether v is past the limit by more than rounding.
func over(v, limit float64) bool { return v > limit*(1+1e-6)+1e-9 }
