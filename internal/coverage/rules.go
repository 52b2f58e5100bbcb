package coverage

import (
	"iter"
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
	return look(p, r, f).check()
}

// check runs every check.
func (s *survey) check() []plan.Finding {
	checks := []func(*survey) []plan.Finding{
		outsideTable, notFitting, ratesMixed, turnedDown, misting, // how each head is set
		spacing, facingAway, bareCorners, sharedEdges, doubledHeads, // where heads stand to each other
		onPaving, inBands, onGround, onUndrawn, offLot, onWalls, // where water goes that it should not
		thinStrips, closeToPaving, ownSetBacks, shortBodies, thingsInThrow, // where heads stand to things
		mixedPlantings, mixedExposure, steepRates, unwatered, doubledAreas, // what a valve runs
		valvePlaces, digging, sensorPlaces, // where else things stand
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

	places *squares // the heads
	ground *squares // the lands, groundPad wider
	walled *squares // the wall pieces, the set-back from walls wider
	pieces [][2]orb.Point
	landOf map[plan.ID]int  // into lands
	served map[plan.ID]bool // surfaces that get assignedShare of the water of some head, or that one stands on which cannot run

	reaches    float64 // the greatest throw, in feet
	stripReach float64 // the farthest a strip wets, in feet

	heights   *geom.Relief     // see relief
	streets   []land           // see openStreets; nil: not yet asked for
	unmatched map[plan.ID]bool // see odd
}

// groundPad is how far beside an area it is still found by place, in feet: what
// rules about edges look at.
const groundPad = 1.0

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
		served: map[plan.ID]bool{},
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
		for _, surface := range one.assigned() {
			s.served[surface] = true
		}
	}
	for _, a := range r.Areas {
		s.means[a.ID] = a.Mean
	}
	s.sort()
	for i := range s.heads {
		if h := &s.heads[i]; h.reading.FlowGPM == 0 {
			if top := s.surfaceAt(h.at); top != nil {
				s.served[top.id] = true
			}
		}
	}
	return s
}

// sort keeps heads, lands and walls by place, so that no check need hold every
// one against every other.
func (s *survey) sort() {
	s.places = placesOf(s.heads)
	for i := range s.heads {
		h := &s.heads[i]
		s.reaches = max(s.reaches, h.throw())
		if h.strip() {
			s.stripReach = max(s.stripReach, h.farthest())
		}
	}
	s.landOf = make(map[plan.ID]int, len(s.lands))
	bounds := make([]orb.Bound, len(s.lands))
	for i := range s.lands {
		bounds[i] = s.lands[i].bound.Pad(groundPad)
		s.landOf[s.lands[i].id] = i
	}
	s.ground = newSquares(bounds, groundPad)
	bounds = nil
	walled := max(s.rule(plan.SetBackWall), groundPad)
	for _, line := range s.f.lips.walls {
		for i := 1; i < len(line); i++ {
			s.pieces = append(s.pieces, [2]orb.Point{line[i-1], line[i]})
			bounds = append(bounds, orb.MultiPoint{line[i-1], line[i]}.Bound().Pad(walled))
		}
	}
	s.walled = newSquares(bounds, walled)
}

// near gives the heads that may stand within so many feet of a place, by id.
func (s *survey) near(at orb.Point, within float64) iter.Seq[*spot] {
	return s.inside(at.Bound().Pad(within))
}

// inside gives the heads that may stand in a rectangle, by id.
func (s *survey) inside(b orb.Bound) iter.Seq[*spot] {
	return func(yield func(*spot) bool) {
		for _, i := range s.places.touching(b) {
			if !yield(&s.heads[i]) {
				return
			}
		}
	}
}

// farthest is how far from the head its water can come, in feet: a strip's to the
// far corner of its rectangle.
func (h *spot) farthest() float64 {
	if h.nozzle.Strip == nil {
		return h.throw()
	}
	return math.Hypot(h.throw(), max(float64(h.nozzle.Strip.Left), float64(h.nozzle.Strip.Right)))
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

// assignedShare is the part of a head's water that makes an area one of those
// it is there for. Chosen.
const assignedShare = 0.25

// assigned are the surfaces that the head is there for, most watered first.
func (h *spot) assigned() []plan.ID {
	var out []plan.ID
	for _, l := range h.reading.Landed {
		if h.reading.FlowGPM > 0 && float64(l.GPM) >= assignedShare*float64(h.reading.FlowGPM) {
			out = append(out, l.Surface)
		}
	}
	return out
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
