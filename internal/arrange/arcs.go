package arrange

import (
	"math"

	"github.com/paulmach/orb"
)

// rays is what the rays from one place meet: for each angle step from a base
// direction the water on the ground wanted and what it costs elsewhere.
type rays struct {
	good, hard, soft []float64 // by angle step; soft is bare ground and other planting
	score, sum       []float64 // scratch
}

// A ray is scored at radii from the head to its throw, each by how much water
// falls about there: (1-ρ)ρ for the linear profile (reference, section 7 step 2).
const radii = 14

var ringShare = func() (w [radii]float64) {
	sum := 0.0
	for i := range w {
		rho := (float64(i) + 0.5) / radii
		w[i] = (1 - rho) * rho
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}()

// rayApart is about how far apart rays are, degrees: steps wider than that are
// scored by several.
const rayApart = 5

// look sends rays from p, by angle steps from base, as far as throw.
func (l *lie) look(r *rays, p orb.Point, base, step, throw float64) {
	n := int(math.Round(360 / step))
	sub := max(1, int(math.Round(step/rayApart)))
	r.good, r.hard, r.soft = resized(r.good, n), resized(r.hard, n), resized(r.soft, n)
	f := &l.frame
	px, py := f.Place(p)
	reach := throw / f.Cell
	for k := range n {
		for j := range sub {
			sin, cos := math.Sincos((base + step*(float64(k)+(float64(j)+0.5)/float64(sub))) * math.Pi / 180)
			sees := radii
			if len(l.walls) > 0 {
				sees = int(l.sight(p, sin, cos, throw) / throw * radii)
			}
			for i := sees; i < radii; i++ { // what a wall stops runs down it
				r.hard[k] += ringShare[i] / float64(sub)
			}
			for i := range sees {
				d := reach * (float64(i) + 0.5) / radii
				x, y := int(px+float64(d*cos)), int(py+float64(d*sin))
				is := onBare
				if uint(x) < uint(f.NX) && uint(y) < uint(f.NY) {
					is = l.is[y*f.NX+x]
				}
				switch w := ringShare[i] / float64(sub); is {
				case onTarget:
					r.good[k] += w
				case onHard:
					r.hard[k] += w
				default:
					r.soft[k] += w
				}
			}
		}
	}
}

func resized(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	v = v[:n]
	clear(v)
	return v
}

// hardWorse is how much worse water on paving and the like is than on bare
// ground when an arc is chosen; chosen, by their usual limits of 2 % and 5 %.
const hardWorse = 3

// best is the arc that the rays score best at a throw: the angle step it starts
// at and its sweep in the kit. strict is how many times worse water past the
// edge is than the same on the ground is good; arcs start at every so many-th step. It
// reports false when no arc is any good.
//
// The best run of steps of any length is found first, then the arcs the stock has
// that are next to it in length are tried at every start.
func (s *search) best(r *rays, throw, every int, strict float64) (turn, sweep int, ok bool) {
	n := len(r.good)
	worse := 1.0
	if s.o.Hard < s.o.Bare {
		worse = hardWorse
	}
	r.score, r.sum = resized(r.score, n), resized(r.sum, 2*n+1)
	for k := range n {
		r.score[k] = r.good[k] - strict*(worse*r.hard[k]+r.soft[k])
	}
	for i := range 2 * n {
		r.sum[i+1] = r.sum[i] + r.score[i%n]
	}
	wide := float64(longestRun(r.score)) * s.step
	most := 1e-9
	try := func(j int) {
		steps, from := int(math.Round(float64(s.kit.sweeps[j])/s.step)), n
		if steps >= n {
			steps, from = n, 1
		}
		for i := 0; i < from; i += every {
			if v := r.sum[i+steps] - r.sum[i]; v > most+1e-9 {
				most, turn, sweep, ok = v, i, j, true
			}
		}
	}
	above, below := -1, -1
	for j, w := range s.kit.sweeps {
		switch {
		case s.kit.set(j, throw) == nil:
		case float64(w) <= wide+1e-6:
			below = j
		case above < 0:
			above = j
		}
	}
	if below >= 0 {
		try(below)
	}
	if above >= 0 && (below < 0 || float64(s.kit.sweeps[below]) < wide-1e-6) {
		try(above)
	}
	return turn, sweep, ok
}

// longestRun is the length of the run of a ring of scores with the greatest sum; of
// equals the longest that is found.
func longestRun(v []float64) int {
	n := len(v)
	total, most, least := 0.0, math.Inf(-1), math.Inf(1)
	long, short := 0, n
	up, down := 0.0, 0.0 // the best and the worst run that ends here
	upLen, downLen := 0, 0
	for _, x := range v {
		total += x
		if up < 0 {
			up, upLen = 0, 0
		}
		if down > 0 {
			down, downLen = 0, 0
		}
		up, upLen = up+x, upLen+1
		down, downLen = down+x, downLen+1
		if up > most {
			most, long = up, upLen
		}
		if down < least {
			least, short = down, downLen
		}
	}
	if least >= 0 { // none costs anything
		return n
	}
	if total-least > most {
		return n - short
	}
	return long
}

// aim gives a head the best arc at its place.
func (s *search) aim(h *stand, r *rays, strict float64) bool {
	s.lie.look(r, h.at, h.base, s.step, float64(s.kit.throws[h.throw]))
	turn, sweep, ok := s.best(r, h.throw, 1, strict)
	if !ok {
		return false
	}
	h.turn, h.sweep = turn, sweep
	return s.pick(h)
}
