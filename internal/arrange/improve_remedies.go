package arrange

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// remedies are the changes that may cure a finding, each by itself.
func (m *mender) remedies(f plan.Finding) []remedy {
	switch f.Code {
	case plan.HeadsDoubled:
		return m.removals(f)
	case plan.NozzleNotFitting:
		return m.fits(f)
	case plan.OutsideTable:
		return m.intoTable(f)
	case plan.RatesMixed, plan.RotorNozzleByArc:
		return m.matches(f)
	case plan.TurnedDownFar:
		return m.smaller(f)
	case plan.HeadCloseToPaving, plan.NoDigging:
		return m.setBacks(f)
	case plan.ThingInThrow:
		return m.clear(f)
	case plan.NarrowStrip, plan.EdgeShared, plan.NothingAssigned:
		return nil // what it takes is another layout
	case plan.SprayOnWall, plan.BandWetted:
		return append(m.setBacks(f), m.dryer(f)...)
	case plan.SpacingWide, plan.DryPatch, plan.NeighbourFacesAway, plan.CornerBare:
		return m.wetter(f)
	}
	return m.dryer(f)
}

// headsIn are the heads a finding is about that may be changed, by id.
func (m *mender) headsIn(f plan.Finding) []plan.ID {
	var out []plan.ID
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "heads" && m.free(id) {
			out = append(out, id)
		}
	}
	return out
}

// one is a remedy of a single head.
func (m *mender) one(kind string, cost float64, a adjust) remedy {
	return remedy{kind: kind, area: m.areaOf(a.id), of: []adjust{a}, cost: cost}
}

// alike is one remedy of several heads that change in the same way; false
// without any.
func (m *mender) alike(kind string, cost float64, of []adjust) (remedy, bool) {
	if len(of) == 0 {
		return remedy{}, false
	}
	return remedy{kind: kind, area: m.areaOf(of[0].id), of: of, cost: cost + costHead*float64(len(of)-1)}, true
}

// sameSpot is within what distance two heads stand on one spot, in feet, as the
// finding has it.
const sameSpot = 1.0

// removals take away the later of two heads on one spot.
func (m *mender) removals(f plan.Finding) []remedy {
	var all []plan.ID
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "heads" {
			all = append(all, id)
		}
	}
	var out []remedy
	for i, id := range all {
		for _, other := range all[:i] {
			if apart(spotOf(m.p.Heads[id]), spotOf(m.p.Heads[other])) > sameSpot {
				continue
			}
			for _, extra := range []plan.ID{id, other} {
				if m.free(extra) {
					out = append(out, m.one(MendRemove, costRemove, adjust{id: extra, gone: true}))
					break
				}
			}
		}
	}
	return out
}

// rateFor is the rate a head is to be matched to: its zone's, else the middle of
// its area's heads, else its own.
func (m *mender) rateFor(id plan.ID) units.InchesPerHour {
	zone := m.p.Heads[id].Zone
	if zone != "" {
		for _, z := range m.now.result.Zones {
			if z.ID == zone && z.HeadToHead > 0 {
				return z.HeadToHead
			}
		}
	}
	var rates []units.InchesPerHour
	area := m.areaOf(id)
	for _, h := range m.now.result.Heads {
		if h.Area == area && h.OwnRate > 0 {
			rates = append(rates, h.OwnRate)
		}
	}
	if len(rates) == 0 {
		return 0
	}
	slices.Sort(rates)
	return rates[(len(rates)-1)/2]
}

// throwOf is the throw a head has or asks for, in feet.
func (m *mender) throwOf(id plan.ID) units.Feet {
	if h := m.now.head(id); h != nil && h.Throw > 0 {
		return h.Throw
	}
	h := m.p.Heads[id]
	if h.ThrowFt != nil {
		return *h.ThrowFt
	}
	n := m.p.Nozzles[h.Nozzle]
	if table, _, err := n.At(n.BestPSI); err == nil {
		return table
	}
	return 0
}

// fits give heads whose thread is not their body's a nozzle that their body takes,
// or a body that takes their nozzle.
func (m *mender) fits(f plan.Finding) []remedy {
	var nozzles, bodies []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		if s, ok := m.fitting(h, h.SweepDeg, m.throwOf(id), m.rateFor(id)); ok {
			nozzles = append(nozzles, setTo(id, h, s))
		}
		if b := m.bodyLike(h); b != "" {
			bodies = append(bodies, adjust{id: id, body: b})
		}
	}
	var out []remedy
	for _, of := range [][]adjust{nozzles, bodies} {
		if r, ok := m.alike(MendNozzle, costNozzle, of); ok {
			out = append(out, r)
		}
	}
	return out
}

// bodyLike is the body most like a head's that takes its nozzle: one of the plan
// first, then by height, regulation and check valve.
func (m *mender) bodyLike(h plan.Head) plan.ID {
	n, had := m.p.Nozzles[h.Nozzle], m.p.Bodies[h.Body]
	ids := plan.SortedIDs(m.was.Bodies)
	for _, e := range catalog.Bodies() {
		ids = append(ids, plan.ID(e.ID))
	}
	best, least := plan.ID(""), math.Inf(1)
	for _, id := range ids {
		b, ok := bodyRow(m.was, id)
		if !ok || !b.Fits(n) {
			continue
		}
		cost := math.Abs(float64(b.Height-had.Height)) + 10*differs(b.CheckValve, had.CheckValve) + 5*differs(b.Regulated > 0, had.Regulated > 0)
		if _, inPlan := m.was.Bodies[id]; !inPlan {
			cost += 0.5
		}
		if cost < least {
			best, least = id, cost
		}
	}
	return best
}

// intoTable brings heads to what their nozzle's table holds.
func (m *mender) intoTable(f plan.Finding) []remedy {
	var throws, arcs, nozzles []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		_, err := coverage.Running(m.p, id)
		var out *catalog.OutsideError
		if errors.As(err, &out) {
			nearest := units.Feet(out.Nearest)
			switch out.Quantity {
			case "throw":
				throws = append(throws, adjust{id: id, throw: &nearest})
			case "arc":
				arcs = append(arcs, adjust{id: id, arc: &[2]units.Degrees{h.StartDeg, units.Degrees(out.Nearest)}})
			}
		}
		if s, ok := m.fitting(h, h.SweepDeg, whole(m.throwOf(id)), m.rateFor(id)); ok {
			nozzles = append(nozzles, setTo(id, h, s))
		}
	}
	var out []remedy
	for _, c := range []struct {
		kind string
		cost float64
		of   []adjust
	}{{MendThrow, costThrow, throws}, {MendArc, costTurn, arcs}, {MendNozzle, costNozzle, nozzles}} {
		if r, ok := m.alike(c.kind, c.cost, c.of); ok {
			out = append(out, r)
		}
	}
	return out
}

// matches give the heads off their zone's rate nozzles of that rate, all in one:
// with their throws as they are, and longer or shorter by whole feet alike. Or
// they give the others nozzles of theirs.
func (m *mender) matches(f plan.Finding) []remedy {
	odd := m.headsIn(f)
	if len(odd) == 0 {
		return nil
	}
	var rest []plan.ID
	zone := m.p.Heads[odd[0]].Zone
	for _, h := range m.now.result.Heads {
		if m.p.Heads[h.ID].Zone == zone && !slices.Contains(f.About, plan.RefTo("heads", h.ID)) && m.free(h.ID) {
			rest = append(rest, h.ID)
		}
	}
	out := m.matchedTo(odd, m.rateFor(odd[0]))
	if is := m.now.head(odd[0]); is != nil {
		out = append(out, m.matchedTo(rest, is.OwnRate)...)
	}
	return out
}

// matchedTo give heads nozzles of a rate.
func (m *mender) matchedTo(heads []plan.ID, rate units.InchesPerHour) []remedy {
	var out []remedy
	for longer := units.Feet(-4); longer <= 12; longer++ {
		var of []adjust
		foot := 0.3 // what is another family throws otherwise; else another throw is another layout
		set := 0.0
		for _, id := range heads {
			h := m.p.Heads[id]
			s, ok := m.fitting(h, h.SweepDeg, whole(m.throwOf(id))+longer, rate)
			if !ok || s.nozzle == h.Nozzle {
				continue
			}
			of = append(of, setTo(id, h, s))
			if row, _ := nozzleRow(m.p, s.nozzle); row.Family == m.p.Nozzles[h.Nozzle].Family {
				foot = 1.5
			}
			set += 0.5 * differs(s.turned, false) // a screw left alone is one thing less to set
		}
		if r, ok := m.alike(MendNozzle, costNozzle+foot*math.Abs(float64(longer))+set, of); ok {
			out = append(out, r)
		}
	}
	return out
}

// smaller give heads turned down too far nozzles that throw as far by
// themselves, or turn them up to what is usual.
func (m *mender) smaller(f plan.Finding) []remedy {
	var nozzles, throws []adjust
	for _, id := range m.headsIn(f) {
		h := m.p.Heads[id]
		throw := m.throwOf(id)
		for _, t := range []units.Feet{throw, whole(throw), whole(throw) + 1, whole(throw) - 1} {
			if s, ok := m.fitting(h, h.SweepDeg, t, m.rateFor(id)); ok && s.nozzle != h.Nozzle {
				nozzles = append(nozzles, setTo(id, h, s))
				break
			}
		}
		n := m.p.Nozzles[h.Nozzle]
		if r := m.now.head(id); r != nil {
			usual := units.Feet(math.Ceil(float64(n.TurnDown.UsualShare) * float64(r.TableThrow)))
			if usual <= r.TableThrow {
				throws = append(throws, adjust{id: id, throw: &usual})
			}
		}
	}
	var out []remedy
	if r, ok := m.alike(MendNozzle, costNozzle, nozzles); ok {
		out = append(out, r)
	}
	if r, ok := m.alike(MendThrow, costThrow, throws); ok {
		out = append(out, r)
	}
	return out
}

// setBacks move heads that stand too near to something back to where they may
// stand: all in one where they go the same way.
func (m *mender) setBacks(f plan.Finding) []remedy {
	var all []adjust
	for _, id := range m.headsIn(f) {
		g := m.groundOf(m.areaOf(id))
		if g == nil {
			continue
		}
		from := spotOf(m.p.Heads[id])
		to, ok := nearestStand(g, from)
		for axis := range 2 {
			if math.Abs(to[axis]-from[axis]) < 0.02 {
				to[axis] = from[axis]
			}
		}
		if ok && apart(from, to) > 0.01 && apart(from, to) < 4 {
			all = append(all, adjust{id: id, to: &to})
		}
	}
	var out []remedy
	for _, a := range all {
		var together []adjust
		for _, b := range all {
			if m.sameWay(a, b) {
				together = append(together, b)
			}
		}
		if r, ok := m.alike(MendMove, costMove, together); ok && together[0].id == a.id {
			out = append(out, r)
		}
	}
	if r, ok := m.alike(MendMove, costMove+costMove/2, all); ok {
		out = append(out, r)
	}
	return out
}

// clear are the changes that take a thing out of the throw of heads: arcs turned
// off it, heads moved.
func (m *mender) clear(f plan.Finding) []remedy {
	var out []remedy
	heads := m.headsIn(f)
	for _, id := range heads[:min(len(heads), 6)] {
		p := spotOf(m.p.Heads[id])
		all := []orb.Point{{p[0] + 1, p[1]}, {p[0] - 1, p[1]}, {p[0], p[1] + 1}, {p[0], p[1] - 1}}
		out = append(out, m.turns(id, 2*turnMost, true)...)
		out = append(out, m.moves(id, m.areaOf(id), all)...)
	}
	return out
}

// sameWay reports whether two heads are moved nearly alike.
func (m *mender) sameWay(a, b adjust) bool {
	p, q := spotOf(m.p.Heads[a.id]), spotOf(m.p.Heads[b.id])
	return apart(orb.Point{a.to[0] - p[0], a.to[1] - p[1]}, orb.Point{b.to[0] - q[0], b.to[1] - q[1]}) < 0.5
}

// nearestStand is the nearest place to p where a head may stand.
func nearestStand(g *ground, p orb.Point) (orb.Point, bool) {
	if geom.Contains(g.stand, p) {
		return p, true
	}
	best, least := orb.Point{}, math.Inf(1)
	for _, poly := range g.stand {
		for _, ring := range poly {
			if d, at, _ := geom.DistanceToEdge(p, ring); d < least {
				best, least = at, d
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// standSlack is how far outside of where heads may stand one may be left that
// stands there as it is, in feet: half an inch, as stakes are set out.
const standSlack = 0.5 / 12

// mayStand reports whether a head may stand at a place on an area.
func (m *mender) mayStand(g *ground, p orb.Point) bool {
	if g == nil {
		return false
	}
	to, ok := nearestStand(g, p)
	return ok && apart(p, to) <= standSlack
}

// byDistance orders heads by how near they stand to any of some places.
func (m *mender) byDistance(ids []plan.ID, to []orb.Point) []plan.ID {
	far := map[plan.ID]float64{}
	for _, id := range ids {
		far[id] = math.Inf(1)
		for _, p := range to {
			far[id] = min(far[id], apart(spotOf(m.p.Heads[id]), p))
		}
	}
	out := slices.Clone(ids)
	slices.SortStableFunc(out, func(a, b plan.ID) int { return cmp.Or(cmp.Compare(far[a], far[b]), cmp.Compare(a, b)) })
	return slices.Compact(out)
}
