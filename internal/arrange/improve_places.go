package arrange

import (
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// wetter are the changes that bring water to what is dry, or to heads that stand
// too far apart: arcs opened or turned, throws and nozzles, heads moved, rows
// moved, a head added.
func (m *mender) wetter(f plan.Finding) []remedy {
	area := m.areaIn(f)
	goals := m.goals(f, area)
	heads := m.headsNear(f, area, goals)
	var out []remedy
	for i, id := range heads {
		if i < 4 {
			out = append(out, m.turns(id, 90, true)...)
			out = append(out, m.about(id)...)
		}
		out = append(out, m.throws(id, 0)...)
		out = append(out, m.moves(id, area, goals)...)
	}
	out = append(out, m.rows(f, area, goals)...)
	out = append(out, m.longer(f)...)
	return append(out, m.additions(area, goals)...)
}

// areaIn is the area a finding is about.
func (m *mender) areaIn(f plan.Finding) plan.ID {
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "areas" {
			return id
		}
	}
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "heads" {
			if area := m.areaOf(id); area != "" {
				return area
			}
		}
	}
	return ""
}

// goals are the places where water is wanted: in the dry patches of the area,
// between the heads told of, and where the finding looks.
func (m *mender) goals(f plan.Finding, area plan.ID) []orb.Point {
	var out []orb.Point
	for _, g := range m.now.result.Gaps {
		if g.Area == area && len(out) < 6 {
			out = append(out, g.At, g.Bound.Center())
		}
	}
	var heads []orb.Point
	for _, r := range f.About {
		if collection, id := r.Split(); collection == "heads" {
			heads = append(heads, spotOf(m.p.Heads[id]))
		}
	}
	for i, a := range heads {
		for _, b := range heads[:i] {
			if len(heads) <= 6 || apart(a, b) < 30 {
				out = append(out, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2})
			}
		}
	}
	if f.At != nil {
		out = append(out, *f.At)
	}
	if len(out) > 16 {
		out = out[:16]
	}
	return out
}

// mostNear is how many heads about a trouble are tried. Chosen.
const mostNear = 7

// headsNear are the heads that may be changed and stand nearest to where water is
// wanted: those told of first.
func (m *mender) headsNear(f plan.Finding, area plan.ID, goals []orb.Point) []plan.ID {
	told := m.byDistance(m.headsIn(f), goals)
	var rest []plan.ID
	for _, h := range m.now.result.Heads {
		if h.Area == area && m.free(h.ID) && !slices.Contains(told, h.ID) {
			rest = append(rest, h.ID)
		}
	}
	out := slices.Concat(told, m.byDistance(rest, goals))
	return out[:min(len(out), mostNear)]
}

// about are turns of a whole arc farther round than its edges are moved: it may
// face away.
func (m *mender) about(id plan.ID) []remedy {
	h := m.p.Heads[id]
	if h.SweepDeg <= 0 || h.SweepDeg >= 360 {
		return nil
	}
	var out []remedy
	for by := 120.0; by <= 240; by += 30 {
		if r, ok := m.arc(id, float64(h.StartDeg)+by, float64(h.SweepDeg)); ok {
			r.cost += 2
			out = append(out, r)
		}
	}
	return out
}

// longer give all heads that a finding is about nozzles that throw farther.
func (m *mender) longer(f plan.Finding) []remedy {
	var out []remedy
	for by := units.Feet(1); by <= 6; by++ {
		var of []adjust
		for _, id := range m.headsIn(f) {
			h := m.p.Heads[id]
			if s, ok := m.fitting(h, h.SweepDeg, whole(m.throwOf(id))+by, m.rateFor(id)); ok {
				of = append(of, setTo(id, h, s))
			}
		}
		if len(of) < 2 {
			continue
		}
		if r, ok := m.alike(MendNozzle, costNozzle, of); ok {
			out = append(out, r)
		}
	}
	return out
}
