package arrange

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
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
