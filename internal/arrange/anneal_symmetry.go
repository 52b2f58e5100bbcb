package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// symmetry is a way the ground lies on itself: mirrored in a line, or turned half
// round. A search that keeps to it has half as much to seek, and finds layouts
// that are easier to stake.
type symmetry struct {
	about orb.Point // on the line, or the middle
	line  float64   // direction of the line, degrees
	turn  bool      // half round, not mirrored
	// ends are where the line meets the edges: where heads on it may stand.
	ends []pose
}

// symmetricWithin is how far off an edge may lie and count as the same, feet.
const symmetricWithin = 0.05

// symmetries are those of the ground, as far as its own shape goes: none where
// heads stay, which would have no image.
func (s *search) symmetries() []*symmetry {
	if len(s.stays) > 0 || len(s.paths) == 0 || len(s.kit.strips) > 0 {
		return nil
	}
	middle := centre(&s.paths[s.outer()])
	var out []*symmetry
	for _, d := range []float64{0, 90, 45, 135} {
		for _, from := range []float64{s.main, 0} {
			m := &symmetry{about: middle, line: geom.NormDeg(from + d)}
			known := slices.ContainsFunc(out, func(o *symmetry) bool {
				return math.Abs(math.Remainder(o.line-m.line, 180)) < 0.01
			})
			if !known && s.lies(m) {
				m.ends = s.crossings(m)
				out = append(out, m)
			}
		}
	}
	if m := (&symmetry{about: middle, turn: true}); s.lies(m) {
		out = append(out, m)
	}
	return out
}

// outer is the longest path.
func (s *search) outer() int {
	best := 0
	for i := range s.paths {
		if s.paths[i].length() > s.paths[best].length() {
			best = i
		}
	}
	return best
}

// centre is the middle of what a path encloses.
func centre(pa *path) orb.Point {
	var x, y, a float64
	o := pa.pts[0]
	for i, p := range pa.pts {
		q := pa.pts[(i+1)%len(pa.pts)]
		px, py, qx, qy := p[0]-o[0], p[1]-o[1], q[0]-o[0], q[1]-o[1]
		c := float64(px*qy) - float64(py*qx)
		a += c
		x += float64((px + qx) * c)
		y += float64((py + qy) * c)
	}
	if a == 0 {
		return o
	}
	return orb.Point{o[0] + x/(3*a), o[1] + y/(3*a)}
}

// lies reports whether every vertex has its image on an edge.
func (s *search) lies(m *symmetry) bool {
	for i := range s.paths {
		for _, p := range s.paths[i].pts {
			if _, _, off := s.nearestEdge(m.image(p)); off > symmetricWithin {
				return false
			}
		}
	}
	return true
}

// image is where a place lies again.
func (m *symmetry) image(p orb.Point) orb.Point {
	x, y := p[0]-m.about[0], p[1]-m.about[1]
	if m.turn {
		return orb.Point{m.about[0] - x, m.about[1] - y}
	}
	sin, cos := math.Sincos(2 * m.line * math.Pi / 180)
	return orb.Point{m.about[0] + float64(x*cos) + float64(y*sin), m.about[1] + float64(x*sin) - float64(y*cos)}
}

// crossings are where the line meets the edges.
func (s *search) crossings(m *symmetry) []pose {
	sin, cos := math.Sincos(m.line * math.Pi / 180)
	side := func(p orb.Point) float64 { return float64((p[1]-m.about[1])*cos) - float64((p[0]-m.about[0])*sin) }
	var out []pose
	for i := range s.paths {
		pa := &s.paths[i]
		for j, p := range pa.pts {
			q := pa.pts[(j+1)%len(pa.pts)]
			a, b := side(p), side(q)
			if math.Abs(a) < symmetricWithin/10 {
				a = 0
			}
			if math.Abs(b) < symmetricWithin/10 {
				b = 0
			}
			if a == 0 && b != 0 || a*b < 0 {
				t := 0.0
				if a != 0 {
					t = a / (a - b)
				}
				h := s.onEdge(i, pa.far[j]+t*(pa.far[j+1]-pa.far[j]))
				out = append(out, h.pose)
			}
		}
	}
	return out
}

// mate is the image of a head. It reports false when it has none that can be set.
func (s *search) mate(m *symmetry, h *stand) (stand, bool) {
	g := *h
	p := m.image(h.at)
	if h.ring != inside {
		ring, along, off := s.nearestEdge(p)
		if off > 2*symmetricWithin {
			return g, false
		}
		if c, d := s.paths[ring].corner(along); d < 2*symmetricWithin {
			along = c
		}
		e := s.onEdge(ring, along)
		g.at, g.ring, g.along, g.base = e.at, e.ring, e.along, e.base
	} else {
		g.at = geom.Snap(p)
	}
	start := float64(h.start) + 180
	if !m.turn {
		start = 2*m.line - float64(h.start) - float64(h.set.sweep)
	}
	g.pose.turn = int(math.Round(turned(g.base, start) / s.step))
	return g, s.pick(&g)
}

// turned is the turn from one bearing to another, in (-180, 180] degrees.
func turned(from, to float64) float64 {
	t := geom.NormDeg(to - from)
	if t > 180 {
		t -= 360
	}
	return t
}

// balance makes a layout of n heads that keeps a symmetry, own of them on its
// line, out of one that may not: the heads farthest to one side with their images,
// and those nearest to the line set onto it. mates is each head's image by index,
// itself for one on the line.
func (m *mover) balance(sym *symmetry, from []stand, n, own int) (heads []stand, mates []int, ok bool) {
	order := slices.Clone(from)
	side := 1.0
	if m.rnd.IntN(2) == 0 {
		side = -1
	}
	sin, cos := math.Sincos(sym.line * math.Pi / 180)
	far := func(p orb.Point) float64 {
		if sym.turn {
			return side * (p[0] - sym.about[0] + 1e-3*(p[1]-sym.about[1]))
		}
		return side * (float64((p[1]-sym.about[1])*cos) - float64((p[0]-sym.about[0])*sin))
	}
	slices.SortStableFunc(order, func(a, b stand) int {
		switch fa, fb := far(a.at), far(b.at); {
		case fa > fb:
			return -1
		case fa < fb:
			return 1
		}
		return 0
	})
	pairs := (n - own) / 2
	for i := range order {
		if len(heads) == 2*pairs {
			break
		}
		g, can := m.s.mate(sym, &order[i])
		if !can {
			continue
		}
		k := len(heads)
		heads = append(heads, order[i], g)
		mates = append(mates, k+1, k)
	}
	for range own {
		h := order[m.rnd.IntN(len(order))]
		if !m.center(&h, sym) {
			return nil, nil, false
		}
		mates = append(mates, len(heads))
		heads = append(heads, h)
	}
	return heads, mates, len(heads) == n
}

// center sets a head onto the line of a symmetry: on an edge that it crosses, or
// at a random place inside.
func (m *mover) center(h *stand, sym *symmetry) bool {
	if k := len(sym.ends); k > 0 && m.rnd.IntN(2) == 0 {
		e := sym.ends[m.rnd.IntN(k)]
		h.ring, h.along, h.base = e.ring, e.along, e.base
		h.at = geom.Snap(m.s.paths[e.ring].at(e.along))
		return m.face(h, sym)
	}
	p := sym.about
	if !sym.turn {
		b := m.s.ground.stand.Bound()
		long := math.Hypot(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
		sin, cos := math.Sincos(sym.line * math.Pi / 180)
		d := (m.rnd.Float64() - 0.5) * long
		p = orb.Point{p[0] + float64(d*cos), p[1] + float64(d*sin)}
	}
	return m.centerAt(h, sym, p)
}

func (m *mover) centerAt(h *stand, sym *symmetry, p orb.Point) bool {
	if _, _, off := m.s.nearestEdge(p); off < snapEdge || !geom.Contains(m.s.ground.stand, p) {
		return false
	}
	w := m.s.within(p)
	h.at, h.ring, h.along, h.base = w.at, w.ring, w.along, w.base
	return m.face(h, sym)
}

// face gives a head on the line the best arc that is its own image.
func (m *mover) face(h *stand, sym *symmetry) bool {
	k := m.s.kit
	m.s.lie.look(&m.rays, h.at, h.base, m.s.step, float64(k.throws[h.throw]))
	n := len(m.rays.good)
	strict, most, ok := m.strict(), 0.0, false
	turn, sweep := 0, 0
	for j, w := range k.sweeps {
		if k.set(j, h.throw) == nil {
			continue
		}
		for _, to := range []float64{sym.line, sym.line + 180} {
			first, can := m.s.stepsTo(h.base, to-float64(w)/2)
			if w >= 360 {
				first, can = 0, true
			}
			if !can || sym.turn && w < 360 {
				continue
			}
			v := 0.0
			for i := range min(int(math.Round(float64(w)/m.s.step)), n) {
				at := ((first+i)%n + n) % n
				v += m.rays.good[at] - strict*(hardWorse*m.rays.hard[at]+m.rays.soft[at])
			}
			if v > most {
				most, turn, sweep, ok = v, first, j, true
			}
		}
	}
	if !ok {
		return false
	}
	h.turn, h.sweep = turn, sweep
	return m.s.pick(h)
}

// stepsTo is how many angle steps a direction lies from a base; false when it is
// no whole number.
func (s *search) stepsTo(base, dir float64) (int, bool) {
	n := turned(base, dir) / s.step
	return int(math.Round(n)), math.Abs(n-math.Round(n)) < 0.1
}

// moveOwn changes a head on the line of a symmetry.
func (m *mover) moveOwn(h *stand, sym *symmetry) bool {
	k := m.s.kit
	switch u := m.rnd.Float64(); {
	case u < 0.1:
		return m.center(h, sym)
	case u < 0.4 && h.ring == inside && !sym.turn:
		sin, cos := math.Sincos(sym.line * math.Pi / 180)
		d := m.stride(h)
		if m.rnd.IntN(2) == 0 {
			d = -d
		}
		return m.centerAt(h, sym, orb.Point{h.at[0] + float64(d*cos), h.at[1] + float64(d*sin)})
	case u < 0.75 || h.set.sweep >= 360 && sym.turn:
		return m.throw(h)
	}
	by := 1
	if m.rnd.IntN(2) == 0 {
		by = -1
	}
	mid := float64(h.start) + float64(h.set.sweep)/2
	if h.set.sweep >= 360 {
		mid = sym.line + 180*float64(m.rnd.IntN(2))
	}
	for j := h.sweep + by; j >= 0 && j < len(k.sweeps); j += by {
		if k.set(j, h.throw) == nil {
			continue
		}
		t, ok := m.s.stepsTo(h.base, mid-float64(k.sweeps[j])/2)
		if k.sweeps[j] >= 360 {
			t, ok = 0, true
		}
		if ok {
			h.turn, h.sweep = t, j
			return m.s.pick(h)
		}
	}
	return false
}
