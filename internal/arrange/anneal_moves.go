package arrange

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// mover makes the moves of one run.
type mover struct {
	s    *search
	rnd  *rand.Rand
	late float64 // how far the run has come, 0 to 1
	rays rays

	sym   *symmetry
	mates []int

	one, other    int // the heads last tried; -1 for no other
	was, wasOther stand
}

// Shares of the moves: reference, section 7 step 3. The rest relocates, less and
// less.
const (
	moveShare     = 0.42
	throwShare    = 0.24
	arcShare      = 0.26
	relocateShare = 0.08
)

// move changes a head. It reports false when nothing came of it.
func (m *mover) move(h *stand, b *bench) bool {
	u := m.rnd.Float64()
	if u < relocateShare*(1-m.late) {
		return m.relocate(h, b)
	}
	switch u = m.rnd.Float64() * (moveShare + throwShare + arcShare); {
	case u < moveShare:
		return m.shift(h)
	case u < moveShare+throwShare:
		return m.throw(h)
	}
	return m.arc(h)
}

// stride is how far a head moves: from a third of its throw to a few inches.
func (m *mover) stride(h *stand) float64 {
	long := 0.33 * float64(h.set.throw)
	return long * math.Pow(0.25/long, m.late) * math.Abs(m.rnd.NormFloat64())
}

// shift slides an edge head along its edge, now and then into the ground; an
// inside head drifts, and stands on the edge when it comes near.
func (m *mover) shift(h *stand) bool {
	d := m.stride(h)
	if h.ring == inside || m.rnd.Float64() < 0.04*(1-m.late) {
		sin, cos := math.Sincos(2 * math.Pi * m.rnd.Float64())
		if h.ring != inside {
			d += snapEdge
		}
		return m.stand(h, orb.Point{h.at[0] + float64(d*cos), h.at[1] + float64(d*sin)})
	}
	if m.rnd.IntN(2) == 0 {
		d = -d
	}
	return m.slide(h, h.along+d)
}

// slide sets an edge head to a place along its edge, on the corner when near.
func (m *mover) slide(h *stand, along float64) bool {
	pa := &m.s.paths[h.ring]
	along = pa.wrap(along)
	c, off := pa.corner(along)
	_, had := pa.corner(h.along)
	if off < snapEdge {
		if had == 0 { // it was there: out of the corner's reach, or not at all
			if off < snapEdge/2 {
				return false
			}
			along = pa.wrap(c + math.Copysign(snapEdge, pa.between(c, along)))
		} else {
			along = c
		}
	}
	_, off = pa.corner(along)
	was := *h
	next := m.s.onEdge(h.ring, along)
	h.at, h.pose.along, h.base = next.at, next.along, next.base
	if h.at == was.at {
		return false
	}
	if (off == 0) != (had == 0) || m.rnd.Float64() < 0.1 {
		return m.s.aim(h, &m.rays, m.strict())
	}
	return m.s.pick(h)
}

// strict is how strict arcs are chosen: as seeds are, and all between.
func (m *mover) strict() float64 { return 0.5 * math.Pow(10, m.rnd.Float64()) }

// stand sets a head to a place: on the edge when near to one.
func (m *mover) stand(h *stand, p orb.Point) bool {
	next, ok := m.s.headAt(p)
	if !ok {
		return false
	}
	moved := next.ring != h.ring
	h.at, h.ring, h.along = next.at, next.ring, next.along
	if moved {
		h.base = next.base
		return m.s.aim(h, &m.rays, m.strict())
	}
	if h.ring != inside {
		h.base = next.base
	}
	return m.s.pick(h)
}

// headAt is a head at a place of the ground or, near an edge or a corner, on it;
// false for places it may not stand.
func (s *search) headAt(p orb.Point) (stand, bool) {
	ring, along, off := s.nearestEdge(p)
	in := geom.Contains(s.ground.stand, p)
	if !in && off > 4*snapEdge {
		return stand{}, false
	}
	if off < snapEdge || !in {
		if c, d := s.paths[ring].corner(along); d < snapEdge {
			along = c
		}
		return s.onEdge(ring, along), true
	}
	return s.within(p), true
}

// throw changes the throw by a step or two.
func (m *mover) throw(h *stand) bool {
	k := m.s.kit
	by := 1
	if m.rnd.Float64() < 0.5*(1-m.late) {
		by = 2
	}
	if m.rnd.IntN(2) == 0 {
		by = -by
	}
	for t := h.throw + by; t >= 0 && t < len(k.throws); t += sign(by) {
		if k.set(h.sweep, t) != nil {
			h.throw = t
			return m.s.pick(h)
		}
	}
	return false
}

func sign(v int) int {
	if v < 0 {
		return -1
	}
	return 1
}

// arc moves one edge of the arc by a step of what can be set, or turns all of it;
// now and then it is aimed anew.
func (m *mover) arc(h *stand) bool {
	k := m.s.kit
	u := m.rnd.Float64()
	if u < 0.15 {
		return m.s.aim(h, &m.rays, m.strict())
	}
	by := 1
	if m.rnd.IntN(2) == 0 {
		by = -1
	}
	if u < 0.4 && k.sweeps[h.sweep] < 360 {
		h.turn += by
		return m.s.pick(h)
	}
	for j := h.sweep + by; j >= 0 && j < len(k.sweeps); j += by {
		if k.set(j, h.throw) == nil {
			continue
		}
		wider := int(math.Round(float64(k.sweeps[j]-k.sweeps[h.sweep]) / m.s.step))
		switch m.rnd.IntN(3 - wider&1) {
		case 0: // the side it starts at, the other stays
			h.turn -= wider
		case 2: // both
			h.turn -= wider / 2
		}
		h.sweep = j
		return m.s.pick(h)
	}
	return false
}

// relocate sets a head to a place on the edge, now and then a corner, or where it is
// driest.
func (m *mover) relocate(h *stand, b *bench) bool {
	var p orb.Point
	switch u := m.rnd.Float64(); {
	case u < 0.3:
		p = b.trial.Dry(m.rnd)
	case u < 0.8:
		pa := &m.s.paths[m.anyRing()]
		p = pa.at(m.rnd.Float64() * pa.length())
		if n := len(pa.corners); u < 0.4 && n > 0 {
			p = pa.at(pa.corners[m.rnd.IntN(n)])
		}
	default:
		bd := m.s.ground.stand.Bound()
		p = orb.Point{bd.Min[0] + m.rnd.Float64()*(bd.Max[0]-bd.Min[0]), bd.Min[1] + m.rnd.Float64()*(bd.Max[1]-bd.Min[1])}
	}
	next, ok := m.s.headAt(p)
	if !ok {
		return false
	}
	h.at, h.ring, h.along, h.base = next.at, next.ring, next.along, next.base
	return m.s.aim(h, &m.rays, m.strict())
}

// anyRing is a path, each as likely as it is long.
func (m *mover) anyRing() int {
	all := 0.0
	for i := range m.s.paths {
		all += m.s.paths[i].length()
	}
	u := m.rnd.Float64() * all
	for i := range m.s.paths {
		if u -= m.s.paths[i].length(); u < 0 {
			return i
		}
	}
	return len(m.s.paths) - 1
}
