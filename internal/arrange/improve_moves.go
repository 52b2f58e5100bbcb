package arrange

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// nearEdge is how far off the edge that heads stand along one still counts as an
// edge head, in feet. Chosen: past the set-backs in use.
const nearEdge = 1.0

// edgePath is the edge a place lies along, and how far along it is; nil inside.
func edgePath(g *ground, p orb.Point) (*path, float64) {
	var best *path
	at, least := 0.0, nearEdge
	for i := range g.edges {
		pa, ok := newPath(&g.edges[i])
		if !ok {
			continue
		}
		if along, off := pa.nearest(p); off < least {
			best, at, least = &pa, along, off
		}
	}
	return best, at
}

// moves are other places of a head: an edge head along its edge, one inside by
// whole feet, both towards where water is wanted.
func (m *mender) moves(id, area plan.ID, goals []orb.Point) []remedy {
	g := m.groundOf(area)
	if g == nil || m.areaOf(id) != area {
		return nil
	}
	from := spotOf(m.p.Heads[id])
	most := 1.1 * float64(m.throwOf(id))
	var out []remedy
	pa, along := edgePath(g, from)
	for _, by := range []float64{1, 2, 3, 4, 6, 8, 10, 12, 15, 18, 22} {
		if by > most {
			break
		}
		if pa != nil {
			for _, way := range []float64{by, -by} {
				if r, ok := m.slide(id, g, pa, along, way); ok {
					out = append(out, r)
				}
			}
			continue
		}
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			dx, dy := math.Round(by*cos), math.Round(by*sin)
			to := orb.Point{from[0] + dx, from[1] + dy}
			if !towards(from, to, goals) {
				continue
			}
			if r, ok := m.moved(id, g, to); ok {
				r.step = 1
				out = append(out, r)
			}
		}
	}
	return out
}

// towards reports whether a move leads nearer to any goal, give or take 60°.
func towards(from, to orb.Point, goals []orb.Point) bool {
	way := geom.Bearing(from, to)
	for _, g := range goals {
		if math.Abs(math.Remainder(geom.Bearing(from, g)-way, 360)) <= 60 {
			return true
		}
	}
	return false
}

// moved is the remedy that moves a head to a place, if it may stand there.
func (m *mender) moved(id plan.ID, g *ground, to orb.Point) (remedy, bool) {
	from := spotOf(m.p.Heads[id])
	far := apart(from, to)
	if far < 0.25 || !m.mayStand(g, to) || m.crowded(id, to) {
		return remedy{}, false
	}
	return m.one(MendMove, costMove+costFoot*far, adjust{id: id, to: &to}), true
}

// crowded reports whether another head stands within three feet of a place: no
// move leads there.
func (m *mender) crowded(id plan.ID, p orb.Point) bool {
	for _, other := range m.now.result.Heads {
		if other.ID != id && apart(spotOf(m.p.Heads[other.ID]), p) < 3 && other.Area == m.areaOf(id) {
			return true
		}
	}
	return false
}

// slide moves an edge head along its edge, as far off it as it stands; its arc
// goes with the edge's direction. A corner near by is taken.
func (m *mender) slide(id plan.ID, g *ground, pa *path, along, by float64) (remedy, bool) {
	from := spotOf(m.p.Heads[id])
	base := pa.at(along)
	target := pa.wrap(along + by)
	to := pa.at(target)
	if c, off := pa.corner(target); c >= 0 && off <= 1.5 {
		to, target = pa.at(c), c
	} else {
		to[0], to[1] = to[0]+from[0]-base[0], to[1]+from[1]-base[1]
	}
	turn := math.Remainder(pa.direction(target)-pa.direction(along), 360)
	if math.Abs(turn) > 60 {
		turn = 0 // round a corner the arc is another matter
	}
	r, ok := m.moved(id, g, to)
	if !ok {
		return r, false
	}
	h := m.p.Heads[id]
	if turn = math.Round(turn/5) * 5; turn != 0 && h.SweepDeg > 0 && h.SweepDeg < 360 {
		r.of[0].arc = &[2]units.Degrees{units.Degrees(geom.NormDeg(float64(h.StartDeg) + turn)), h.SweepDeg}
	}
	r.step = 1
	return r, true
}

// shifts are a remedy's neighbours: what it moves or adds a foot to each side.
func (m *mender) shifts(r remedy) []remedy {
	if len(r.of) != 1 || r.step == 0 {
		return nil
	}
	a := r.of[0]
	g := m.groundOf(r.area)
	if g == nil {
		return nil
	}
	var out []remedy
	if a.added != nil {
		for k := range 4 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 2)
			h := *a.added
			h.X, h.Y = h.X+units.Feet(math.Round(cos)), h.Y+units.Feet(math.Round(sin))
			if to := spotOf(h); m.mayStand(g, to) && !m.crowded(a.id, to) {
				s := r
				s.of = []adjust{{id: a.id, added: &h}}
				out = append(out, s)
			}
		}
		return out
	}
	from := spotOf(m.p.Heads[a.id])
	if pa, along := edgePath(g, from); pa != nil {
		target, _ := pa.nearest(*a.to)
		by := pa.between(along, target)
		for _, d := range []float64{-1, 1} {
			if s, ok := m.slide(a.id, g, pa, along, math.Round(by+d)); ok {
				out = append(out, s)
			}
		}
		return out
	}
	for k := range 8 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 4)
		if s, ok := m.moved(a.id, g, orb.Point{a.to[0] + math.Round(cos), a.to[1] + math.Round(sin)}); ok {
			s.step = 1
			out = append(out, s)
		}
	}
	return out
}

// rows move heads that stand in one line, all alike and square to it, towards
// where water is wanted.
func (m *mender) rows(f plan.Finding, area plan.ID, goals []orb.Point) []remedy {
	g := m.groundOf(area)
	if g == nil {
		return nil
	}
	var out []remedy
	seen := map[string]bool{}
	for _, id := range m.headsIn(f) {
		p := spotOf(m.p.Heads[id])
		for axis := range 2 {
			var row []plan.ID
			for _, h := range m.now.result.Heads {
				if h.Area == area && m.free(h.ID) && math.Abs(spotOf(m.p.Heads[h.ID])[axis]-p[axis]) < 0.5 {
					row = append(row, h.ID)
				}
			}
			key := fmt.Sprint(axis, row)
			if len(row) < 3 || seen[key] {
				continue
			}
			seen[key] = true
			for by := -6.0; by <= 6; by++ {
				var of []adjust
				leads := false
				for _, id := range row {
					from := spotOf(m.p.Heads[id])
					to := from
					to[axis] += by
					if m.mayStand(g, to) {
						leads = leads || towards(from, to, goals)
						of = append(of, adjust{id: id, to: &to})
					}
				}
				if r, ok := m.alike(MendMove, costMove+costFoot*math.Abs(by), of); ok && leads && by != 0 && len(of) == len(row) {
					out = append(out, r)
				}
			}
		}
	}
	return out
}
