package coverage

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// stop is the share of a head's flow that one thing catches.
type stop struct {
	of    int // index of the obstacle
	share float64
}

// stopsOf reckons what each thing catches: over the directions in which it ends
// the sight, the water that would have gone farther. The integral over the
// distance is exact for the profile; that over the direction is numerical,
// to about 1e-8 of the flow.
func (s *shower) stopsOf() []stop {
	var out []stop
	whole := s.volume()
	for i := range s.seen {
		r := &s.seen[i]
		if r.Wall == geom.Circle || s.walls[r.Wall].Of < 0 {
			continue
		}
		lost := s.beyond(r) / whole
		of := s.walls[r.Wall].Of
		if k := slices.IndexFunc(out, func(t stop) bool { return t.of == of }); k >= 0 {
			out[k].share += lost
		} else {
			out = append(out, stop{of, lost})
		}
	}
	slices.SortFunc(out, func(a, b stop) int { return a.of - b.of })
	return out
}

// beyond is the water past the wall of one piece of sight, in units of the
// greatest rate: square feet.
func (s *shower) beyond(r *geom.Reach) float64 {
	from, to := r.From, r.To
	if !s.air.calm() {
		from, to = s.air.launch(from), s.air.launch(to)
	}
	return adaptive(s.past(r), from, to, 1e-9*s.volume(), 0)
}

// past is the water past the wall of a piece of sight in each direction it is
// thrown.
func (s *shower) past(r *geom.Reach) func(phi float64) float64 {
	px, py := r.P[0]-s.at[0], r.P[1]-s.at[1]
	dx, dy := r.Q[0]-r.P[0], r.Q[1]-r.P[1]
	turn := px*dy - py*dx
	return func(phi float64) float64 {
		sin, cos, stretch := s.air.path(phi)
		d := s.wallAt(turn, cos*dy-sin*dx, r) / stretch
		return s.water(phi, s.pattern(phi)) - s.water(phi, d)
	}
}

// wallAt is the distance to the wall in a direction, never past its ends.
func (s *shower) wallAt(turn, across float64, r *geom.Reach) float64 {
	p := math.Hypot(r.P[0]-s.at[0], r.P[1]-s.at[1])
	q := math.Hypot(r.Q[0]-s.at[0], r.Q[1]-s.at[1])
	if across <= 0 {
		return max(p, q)
	}
	return min(turn/across, max(p, q))
}

// pattern is how far the pattern reaches in a direction when nothing stops it.
func (s *setting) pattern(phi float64) float64 {
	if !s.isStrip {
		return s.throw
	}
	sin, cos := math.Sincos(phi - s.start*math.Pi/180)
	d := math.Inf(1)
	if c := math.Abs(cos); c > 0 {
		d = s.throw / c
	}
	side := float64(s.strip.Left)
	if sin < 0 {
		side = float64(s.strip.Right)
	}
	if a := math.Abs(sin); a > 0 {
		d = min(d, side/a)
	}
	return d
}

// water is the integral of the profile along a direction up to a distance, each
// place weighted by its distance: what falls there in a narrow sector.
func (s *setting) water(phi, d float64) float64 {
	c := 1.0
	if s.isStrip {
		c = math.Abs(math.Cos(phi - s.start*math.Pi/180))
	}
	x := d * c / s.throw
	if x < 1e-9 {
		return d * d / 2 * s.fall.at(0)
	}
	return d * d / (x * x) * s.fall.upTo(x)
}

// adaptive is the integral of f from a to b by three-point Gauss, halved until
// the halves agree.
func adaptive(f func(float64) float64, a, b, tolerance float64, depth int) float64 {
	m := (a + b) / 2
	whole, halves := gauss3(f, a, b), gauss3(f, a, m)+gauss3(f, m, b)
	if depth >= 24 || (depth >= 2 && math.Abs(whole-halves) <= tolerance) {
		return halves
	}
	return adaptive(f, a, m, tolerance/2, depth+1) + adaptive(f, m, b, tolerance/2, depth+1)
}

func gauss3(f func(float64) float64, a, b float64) float64 {
	h, m := (b-a)/2, (a+b)/2
	d := h * math.Sqrt(0.6)
	return h * (5*f(m-d) + 8*f(m) + 5*f(m+d)) / 9
}

// sees reports whether nothing stands between a head and a place in its arc.
func (s *shower) sees(to orb.Point) bool {
	if s.seen == nil {
		return true
	}
	dx, dy := to[0]-s.at[0], to[1]-s.at[1]
	phi := math.Atan2(dy, dx)
	for i := range s.seen {
		r := &s.seen[i]
		turn := math.Mod(phi-r.From, 2*math.Pi)
		if turn < 0 {
			turn += 2 * math.Pi
		}
		if turn > r.To-r.From || r.Wall == geom.Circle || s.walls[r.Wall].Of < 0 {
			continue
		}
		ex, ey := r.Q[0]-r.P[0], r.Q[1]-r.P[1]
		side := float64(ex*(to[1]-r.P[1])) - float64(ey*(to[0]-r.P[0]))
		return side >= -1e-6 // left of P→Q is the eye's side
	}
	return true
}
