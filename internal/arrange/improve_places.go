package arrange

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
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
	id := m.newID()
	h.Tag = m.newTag(h)
	r := remedy{kind: MendAdd, area: area, of: []adjust{{id: id, added: &h}}, cost: costAdd, step: 1}
	return r, true
}

// newID is an id that no head has or had in this search, and that nothing in the
// plan names.
func (m *mender) newID() plan.ID {
	for n := 1; ; n++ {
		id := plan.ID("m" + strconv.Itoa(n))
		if m.idTaken(id) {
			continue
		}
		return id
	}
}

func (m *mender) idTaken(id plan.ID) bool {
	if _, had := m.was.Heads[id]; had {
		return true
	}
	if _, has := m.p.Heads[id]; has {
		return true
	}
	for _, n := range m.was.Nodes {
		if n.Head == id {
			return true
		}
	}
	ref := plan.RefTo("heads", id)
	for _, a := range m.was.Accepted {
		if slices.Contains(a.About, ref) {
			return true
		}
	}
	return false
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
