package arrange

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// additions are single heads added: where water is wanted, and on the edge near
// by, of the rate and in the body of the nearest head.
func (m *mender) additions(area plan.ID, goals []orb.Point) []remedy {
	g := m.groundOf(area)
	if g == nil {
		return nil
	}
	var own []plan.ID
	for _, h := range m.now.result.Heads {
		if h.Area == area && m.p.Nozzles[m.p.Heads[h.ID].Nozzle].Strip == nil {
			own = append(own, h.ID)
		}
	}
	var out []remedy
	for _, p := range m.placesToAdd(g, goals) {
		if len(own) == 0 || m.crowded("", p) {
			continue
		}
		like := m.byDistance(own, []orb.Point{p})[0]
		p = m.inRow(g, own, p)
		var throws []units.Feet
		for _, id := range m.byDistance(own, []orb.Point{p}) {
			if t := whole(m.throwOf(id)); !slices.Contains(throws, t) && len(throws) < 3 {
				throws = append(throws, t)
			}
		}
		for _, t := range throws {
			start, sweep, ok := m.arcAt(g, p, float64(t))
			if !ok {
				continue
			}
			if r, ok := m.addition(area, like, p, start, sweep, t); ok {
				out = append(out, r)
			}
		}
	}
	return out
}

// inRow brings a place into line with the heads whose row it is nearly in.
func (m *mender) inRow(g *ground, own []plan.ID, p orb.Point) orb.Point {
	for axis := range 2 {
		for _, id := range own {
			q := p
			q[axis] = spotOf(m.p.Heads[id])[axis]
			if math.Abs(q[axis]-p[axis]) < 0.5 && m.mayStand(g, q) {
				p = q
				break
			}
		}
	}
	return p
}

// placesToAdd are the goals themselves, moved to where a head may stand, and the
// places of the edge nearest to them, each once to the half foot.
func (m *mender) placesToAdd(g *ground, goals []orb.Point) []orb.Point {
	var out []orb.Point
	seen := map[[2]int]bool{}
	add := func(p orb.Point) {
		key := [2]int{int(math.Round(2 * p[0])), int(math.Round(2 * p[1]))}
		if !seen[key] {
			seen[key] = true
			out = append(out, p)
		}
	}
	for _, goal := range goals {
		goal = orb.Point{math.Round(goal[0]), math.Round(goal[1])}
		if p, ok := nearestStand(g, goal); ok {
			add(p)
		}
		for i := range g.edges {
			pa, ok := newPath(&g.edges[i])
			if !ok {
				continue
			}
			along, _ := pa.nearest(goal)
			if c, off := pa.corner(along); c >= 0 && off <= 3 {
				add(pa.at(c))
			}
			add(pa.at(along))
		}
	}
	return out
}

// addition is the remedy that adds a head like another.
func (m *mender) addition(area, like plan.ID, p orb.Point, start, sweep float64, throw units.Feet) (remedy, bool) {
	h := m.p.Heads[like]
	h.X, h.Y, h.StartDeg, h.SweepDeg = units.Feet(p[0]), units.Feet(p[1]), units.Degrees(start), units.Degrees(sweep)
	h.Status, h.Locked, h.SetBack, h.ThrowFt = plan.New, false, nil, nil
	s, ok := m.fitting(h, h.SweepDeg, throw, m.rateFor(like))
	if !ok {
		return remedy{}, false
	}
	h.Nozzle = s.nozzle
	if s.turned {
		h.ThrowFt = &s.throw
	}
	id := m.newID(area)
	h.Tag = m.newTag(h)
	r := remedy{kind: MendAdd, area: area, of: []adjust{{id: id, added: &h}}, cost: costAdd, step: 1}
	return r, true
}

// newID is an id for a head added on an area: of the ids that layouts give, the
// first that no head has.
func (m *mender) newID(area plan.ID) plan.ID {
	if m.names == nil {
		m.names = newNamer(m.was)
	}
	for n := 0; ; n++ {
		id := m.names.fresh(area, n)
		if _, has := m.p.Heads[id]; !has {
			return id
		}
	}
}

// newTag is the next number of a head's zone, as the others of it have them; ""
// where they have none.
func (m *mender) newTag(h plan.Head) string {
	prefix, last := "", 0
	for _, id := range plan.SortedIDs(m.p.Heads) {
		k := m.p.Heads[id]
		if k.Zone != h.Zone {
			continue
		}
		i := strings.LastIndex(k.Tag, "-")
		if n, err := strconv.Atoi(k.Tag[i+1:]); err == nil && i > 0 && n >= last {
			prefix, last = k.Tag[:i+1], n
		}
	}
	if prefix == "" {
		return ""
	}
	for {
		last++
		tag := prefix + strconv.Itoa(last)
		if !m.tagTaken(tag) {
			return tag
		}
	}
}

func (m *mender) tagTaken(tag string) bool {
	for _, h := range m.p.Heads {
		if h.Tag == tag {
			return true
		}
	}
	return false
}
