package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

// drift is how far the wind carries water downwind, in feet for each foot that
// it flies: the vector δ·w of the eccentric circles, δ below 1. The zero value
// is calm air.
//
// Water thrown to q from the head lands at P = q + |q|·δ·w. It comes there on
// the straight line from the head, since every part of its way is carried alike:
// that line is what walls are tested against.
//
//	   .--´´--.
//	 .´   .-.   `.        circles of equal throw, each shifted by δ of its
//	/   at + `    \       own radius; the wind blows to the right
//	 `.   `-´   .´
//	   `--..--´
type drift struct{ dx, dy float64 }

func (d drift) calm() bool { return d == drift{} }

// rest is 1 - δ².
func (d drift) rest() float64 { return 1 - float64(d.dx*d.dx) - float64(d.dy*d.dy) }

// spread is √(X² + (1-δ²)Y²) for a place (x, y) from the head, X downwind and Y
// across, as x² + y² - (d × (x, y))²: the same, since Y is the cross product over
// δ.
func (d drift) spread(x, y float64) float64 {
	across := float64(d.dx*y) - float64(d.dy*x)
	return math.Sqrt(max(float64(x*x)+float64(y*y)-float64(across*across), 0))
}

// thrown is the distance s that water which lands at (x, y) from the head was
// thrown, in the units of x and y:
//
//	s = (√(X² + (1-δ²)Y²) - δX)/(1-δ²)
//
// The rate there is f(s/R)·s/√(X² + (1-δ²)Y²): with c = X/s - δ, the cosine
// between the throw and the wind, that is f(s/R)/(1 + δc), and the integral over
// the ground is that of calm air.
func (d drift) thrown(x, y float64) float64 {
	return (d.spread(x, y) - float64(d.dx*x) - float64(d.dy*y)) / d.rest()
}

// lands is where water thrown to q comes down, both from the head.
func (d drift) lands(q orb.Point) orb.Point {
	s := math.Hypot(q[0], q[1])
	return orb.Point{q[0] + float64(s*d.dx), q[1] + float64(s*d.dy)}
}

// path is the direction on the ground, in radians, of water thrown towards φ, and
// the feet it goes for each foot thrown.
func (d drift) path(phi float64) (sin, cos, stretch float64) {
	s, c := math.Sincos(phi)
	if d.calm() {
		return s, c, 1
	}
	x, y := c+d.dx, s+d.dy
	stretch = math.Hypot(x, y)
	return y / stretch, x / stretch, stretch
}

// launch is the direction, in radians, in which water that goes towards ψ on the
// ground is thrown; it is within a quarter turn of ψ.
func (d drift) launch(psi float64) float64 {
	sin, cos := math.Sincos(psi)
	s := d.thrown(cos, sin)
	qx, qy := cos-float64(s*d.dx), sin-float64(s*d.dy)
	return psi + math.Atan2(float64(cos*qy)-float64(sin*qx), float64(cos*qx)+float64(sin*qy))
}

// carried turns an arc of throw into the arc on the ground it waters, in degrees.
func (d drift) carried(start, sweep float64) (float64, float64) {
	if d.calm() {
		return start, sweep
	}
	on := func(deg float64) float64 {
		sin, cos, _ := d.path(deg * math.Pi / 180)
		return math.Atan2(sin, cos) * 180 / math.Pi
	}
	from := on(start)
	if sweep >= 360 {
		return from, 360
	}
	to := math.Mod(on(start+sweep)-from, 360)
	if to <= 0 {
		to += 360
	}
	return from, to
}

// reach is how much farther than in calm air water may land.
func (d drift) reach() float64 { return 1 + math.Hypot(d.dx, d.dy) }

// bentStep is the step in which the sides of a strip's rectangle are bent by the
// wind, in feet: chords of it lie within 0.01 ft of the curve.
const bentStep = 0.5

// bent are the sides of a pattern as the wind carries them.
func (d drift) bent(at orb.Point, sides []geom.Segment) []geom.Segment {
	var out []geom.Segment
	for _, s := range sides {
		a := orb.Point{s.A[0] - at[0], s.A[1] - at[1]}
		b := orb.Point{s.B[0] - at[0], s.B[1] - at[1]}
		n := max(int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])/bentStep)), 1)
		from := d.lands(a)
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			to := d.lands(orb.Point{a[0] + float64(t*(b[0]-a[0])), a[1] + float64(t*(b[1]-a[1]))})
			out = append(out, geom.Segment{
				A: orb.Point{at[0] + from[0], at[1] + from[1]}, B: orb.Point{at[0] + to[0], at[1] + to[1]}, Of: s.Of,
			})
			from = to
		}
	}
	return out
}

// ring joins what is seen into a closed ring, as geom.SightRing does for calm
// air; r is the throw. Steps are such that a chord is within sagitta of the
// curve.
func (d drift) ring(at orb.Point, r float64, seen []geom.Reach, sagitta float64) orb.Ring {
	if len(seen) == 0 {
		return nil
	}
	var ring orb.Ring
	if seen[len(seen)-1].To-seen[0].From < 2*math.Pi-1e-9 {
		ring = append(ring, at)
	}
	step := min(max(math.Sqrt(8*sagitta/(r*d.reach()))*d.rest(), 2*math.Pi/2048), math.Pi/4)
	for _, s := range seen {
		if s.Wall != geom.Circle {
			ring = append(ring, s.P, s.Q)
			continue
		}
		n := max(int(math.Ceil((s.To-s.From)/step)), 1)
		for k := 0; k <= n; k++ {
			sin, cos := math.Sincos(s.From + float64(k)/float64(n)*(s.To-s.From))
			rho := r / d.thrown(cos, sin)
			ring = append(ring, orb.Point{at[0] + float64(rho*cos), at[1] + float64(rho*sin)})
		}
	}
	return append(ring, ring[0])
}
