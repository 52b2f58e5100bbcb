package coverage

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// dryStop is the share of an area under half its mean from which building it
// would be wrong; below it, it is worth mending. Chosen.
const dryStop = 0.01

// dryFinding tells of the dry patches of one area that no spacing explains.
func (s *survey) dryFinding(area AreaReading, gaps []Gap) plan.Finding {
	var dry units.SqFeet
	for _, g := range gaps {
		dry += g.AreaSqFt
	}
	text := s.dryWords(area.ID, dry, gaps) + "."
	f := plan.Found(plan.DryPatch, text, plan.RefTo("areas", area.ID)).Looking(largest(gaps).At).Measured("dry_sqft", float64(dry))
	if float64(dry) < dryStop*float64(area.AreaSqFt) {
		f = f.Ranked(plan.Mend)
	}
	return f
}

// largest is the dry patch that speaks for several.
func largest(gaps []Gap) Gap {
	return slices.MaxFunc(gaps, func(a, b Gap) int { return cmp.Compare(a.AreaSqFt, b.AreaSqFt) })
}

// dryWords tells how much of an area is dry and where: of several patches the
// largest, by the words that the readings have for it.
func (s *survey) dryWords(area plan.ID, dry units.SqFeet, gaps []Gap) string {
	top := largest(gaps)
	if len(gaps) == 1 {
		return fmt.Sprintf("%s of %s get less than half the mean, %s", s.p.Show.Area(dry), s.p.AreaName(area), s.p.Whereabouts(top.At))
	}
	return fmt.Sprintf("%s of %s in %d patches get less than half the mean, the largest, %s, %s",
		s.p.Show.Area(dry), s.p.AreaName(area), len(gaps), s.p.Show.Area(top.AreaSqFt), s.p.Whereabouts(top.At))
}

// facingAway finds heads that no other head's water reaches, although one
// stands near enough: its arc faces away.
func facingAway(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, area := range s.r.Areas {
		var alone, away []spot
		for _, h := range s.arcHeads(area.ID) {
			if k := s.awayFrom(h); k != nil {
				alone, away = append(alone, h), append(away, *k)
			}
		}
		if len(alone) == 0 {
			continue
		}
		text := fmt.Sprintf("%s %s within the throw of %s, but the arcs of the near ones face away, so no other head's water comes there.",
			plan.Capital(s.named(alone)), plan.Choose(len(alone), "stands", "stand"), plan.Choose(len(alone), s.p.HeadName(away[0].id), "others"))
		if len(alone) == 1 {
			text = fmt.Sprintf("%s stands within the throw of %s, %s away, but its arc faces the other way, and no other head's water comes there.",
				plan.Capital(s.named(alone)), s.p.HeadName(away[0].id), s.p.Show.Length(units.Feet(apart(alone[0].at, away[0].at))))
		}
		found = append(found, plan.Found(plan.NeighbourFacesAway, text, refs(append(alone, away...))...).Looking(s.p.MiddleOf(refs(alone))))
	}
	return found
}

// awayFrom is the nearest head that would reach h but faces away; nil when some
// head's water reaches h, or none would.
func (s *survey) awayFrom(h spot) *spot {
	var away *spot
	for k := range s.near(h.at, spacingMost*s.reaches) {
		d := apart(h.at, k.at)
		if k.id == h.id || k.strip() || over(d, spacingMost*k.throw()) {
			continue
		}
		if k.faces(h.at, arcSlack) {
			return nil
		}
		if k.reading.Area == h.reading.Area && (away == nil || d < apart(h.at, away.at)) {
			away = k
		}
	}
	return away
}

// Corners: those that turn more than cornerTurn ask for a head within
// cornerReach of both their edges.
const (
	cornerTurn  = 30.0 // degrees; common practice
	turnSlack   = 0.1  // degrees; a polygon of twelve sides, which stands for a circle, turns 30 but for the grid
	cornerReach = 1.0  // feet; common practice
	cornerSlack = 0.1  // feet; heads off a wall are set out by eye
	// A corner that the sides water to bareShare of the mean is let pass: a bed
	// of odd shape has corners that two heads near by reach well. Chosen.
	bareShare = 2.0 / 3
)

// bareCorners finds the corners of areas watered overhead that have no head and
// are drier for it.
func bareCorners(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, l := range s.lands {
		mean := s.means[l.id]
		if mean <= 0 || !s.hasHead(l.id) {
			continue
		}
		var bare []orb.Point
		for _, c := range cornersOf(l.shape[0]) {
			if !s.headAt(c) && s.bareAt(l.id, c, mean) {
				bare = append(bare, c.at)
			}
		}
		if len(bare) == 0 {
			continue
		}
		text := fmt.Sprintf("%s has no head in the corner %s.", plan.Capital(s.p.AreaName(l.id)), s.p.Whereabouts(bare[0]))
		if len(bare) > 1 {
			text = fmt.Sprintf("%s has no head in %d of its corners, the first %s.", plan.Capital(s.p.AreaName(l.id)), len(bare), s.p.Whereabouts(bare[0]))
		}
		found = append(found, plan.Found(plan.CornerBare, text, plan.RefTo("areas", l.id)).Looking(bare[0]).Measured("corners", float64(len(bare))))
	}
	return found
}

// corner is a corner of an outline that points outwards.
type corner struct {
	at         orb.Point
	prev, next orb.Point
	inward     orb.Point // unit vector along its bisector
	half       float64   // half its inside angle, radians
}

// cornersOf are the outward corners of an anticlockwise ring that turn more
// than cornerTurn at one place. Flattened arcs turn less at each.
func cornersOf(r orb.Ring) []corner {
	var out []corner
	n := len(r) - 1 // the last repeats the first
	for i := range n {
		prev, at, next := r[(i+n-1)%n], r[i], r[(i+1)%n]
		turn := geom.NormDeg(geom.Bearing(at, next) - geom.Bearing(prev, at))
		if turn <= cornerTurn+turnSlack || turn >= 180 {
			continue
		}
		half := (180 - turn) / 2 * math.Pi / 180
		mid := geom.Bearing(at, next)*math.Pi/180 + half
		out = append(out, corner{at, prev, next, orb.Point{math.Cos(mid), math.Sin(mid)}, half})
	}
	return out
}

// cornerReach is how far from the edges a head may stand in a corner of this plan:
// as far as its own rules keep heads and water off, if that is more.
func (s *survey) cornerReach() float64 { return max(cornerReach, keptOff(s.p)) }

// keptOff is the farthest that the rules of a plan keep heads or water off anything.
func keptOff(p *plan.Plan) float64 {
	far := 0.0
	for _, id := range []plan.RuleID{plan.SetBackPaving, plan.SetBackStreet, plan.SetBackWall, plan.SetBackLot, plan.SetBackOther, plan.BandPaving} {
		d, _ := p.LocalRule(id)
		far = max(far, float64(d))
	}
	return far
}

// headAt reports whether a head stands in the corner: within cornerReach of
// both edges, which in a sharp corner is farther from its tip. A strip nozzle
// whose rectangle holds the corner stands for a head there.
func (s *survey) headAt(c corner) bool {
	reach := s.cornerReach() + cornerSlack
	inCorner := reach/math.Sin(c.half) + 0.1
	for h := range s.near(c.at, max(inCorner, s.stripReach+0.5)) {
		if h.strip() {
			if h.wets(towards(c.at, orb.Point{c.at[0] + c.inward[0], c.at[1] + c.inward[1]}, 0.5)) {
				return true
			}
			continue
		}
		if c.has(h.at, reach) {
			return true
		}
	}
	return false
}

// has reports whether a place lies within reach of both edges of the corner.
func (c *corner) has(at orb.Point, reach float64) bool {
	if apart(at, c.at) > reach/math.Sin(c.half)+0.1 {
		return false
	}
	a := apart(at, geom.NearestOnSegment(at, c.prev, c.at))
	b := apart(at, geom.NearestOnSegment(at, c.at, c.next))
	return !over(max(a, b), reach)
}

// wets reports whether a place lies in the rectangle of a strip nozzle.
func (h *spot) wets(at orb.Point) bool {
	shape := h.nozzle.Strip
	if shape == nil {
		return false
	}
	ahead, back := 0.0, 0.0
	if shape.Ahead {
		ahead = h.throw()
	}
	if shape.Back {
		back = h.throw()
	}
	return geom.RingContains(geom.StripRect(h.at, float64(h.StartDeg), ahead, back, float64(shape.Left), float64(shape.Right)), at)
}

// bareAt reports whether the corner gets less than bareShare of the mean.
func (s *survey) bareAt(area plan.ID, c corner, mean units.InchesPerHour) bool {
	if top := s.surfaceAt(s.insideCorner(c)); top == nil || top.id != area {
		return false // the corner lies under something else
	}
	return s.cornerShare(c, mean) < bareShare
}

// insideCorner is a place inside a corner where a head in the corner would
// water: half a foot past the lip of its edges.
func (s *survey) insideCorner(c corner) orb.Point {
	lip := float64(s.r.LipFt)
	for _, along := range []orb.Point{c.prev, c.next} {
		if s.wallWithin(towards(c.at, along, min(1, apart(c.at, along)/2)), 0.1) {
			lip = max(lip, float64(s.r.WallLipFt))
		}
	}
	return c.inside(lip)
}

// inside is the place half a foot past a lip of both edges.
func (c *corner) inside(lip float64) orb.Point {
	inside := (lip + 0.5) / math.Sin(c.half)
	return orb.Point{c.at[0] + float64(c.inward[0]*inside), c.at[1] + float64(c.inward[1]*inside)}
}

// cornerShare is the rate there over the area's mean.
func (s *survey) cornerShare(c corner, mean units.InchesPerHour) float64 {
	return s.rateOn(s.insideCorner(c)) / float64(mean)
}
