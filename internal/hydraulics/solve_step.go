package hydraulics

import (
	"math"

	"evenfall/internal/units"
)

// quick makes one step of Newton's method in flows and heads at once, each law
// replaced by its tangent. settled came before.
func (s *Solver) quick() bool {
	if !s.newton() {
		return false
	}
	for i := range s.n.Nodes {
		if s.n.Nodes[i].Source != nil && !s.fixed[i] {
			s.give[i] += (s.lift[i] - s.step[i]) / s.giveSlope[i]
		}
		s.head[i] += s.step[i]
	}
	for i := range s.n.Links {
		l := &s.n.Links[i]
		s.flow[i] += (s.short[i] + s.step[l.From] - s.step[l.To]) / s.slope[i]
	}
	return true
}

// newton finds the change of the heads that brings every node into balance if all
// laws went by their tangents.
func (s *Solver) newton() bool {
	f := s.f
	f.clear()
	clear(s.b)
	for i := range s.n.Nodes {
		k := f.place[i]
		s.b[k] -= s.balance[i]
		f.diag[k] += s.outSlope[i]
		switch {
		case s.n.Nodes[i].Source == nil:
		case s.fixed[i]:
			f.diag[k] += pinned
		default:
			f.diag[k] += 1 / s.giveSlope[i]
			s.b[k] += s.lift[i] / s.giveSlope[i]
		}
	}
	for i := range s.n.Links {
		l, g := &s.n.Links[i], 1/s.slope[i]
		f.add(i, l, g)
		more := g * s.short[i]
		s.b[f.place[l.From]] -= more
		s.b[f.place[l.To]] += more
	}
	if !f.decompose() {
		return false
	}
	f.solve(s.b)
	for i := range s.step {
		s.step[i] = s.b[f.place[i]]
		if s.fixed[i] {
			s.step[i] = 0
		}
	}
	return true
}

// descend makes one step along which the convex function falls: Newton's, or
// less, where that goes too far. The function's slope along the step rises, so
// wherever it is still at or under 0 the function is lower than at the start.
func (s *Solver) descend() (moved, done bool) {
	if !s.newton() {
		return false, false
	}
	copy(s.base, s.head)
	first := s.downhill()
	if !(first < 0) {
		return false, false
	}
	to := func(t float64) float64 {
		for i := range s.head {
			s.head[i] = s.base[i] + t*s.step[i]
		}
		s.solveLaws()
		done = s.settled()
		return s.downhill()
	}
	over := to(1)
	if done || over <= 0 {
		return true, done
	}
	// Between lo, where the function still falls, and hi, where it rises: halve
	// and draw the chord in turn until it has flattened out by half.
	lo, atLo, hi, atHi := 0.0, first, 1.0, over
	for round := range 60 {
		t := (lo + hi) / 2
		if chord := lo + (hi-lo)*atLo/(atLo-atHi); round%2 == 0 && chord > lo && chord < hi {
			t = chord
		}
		at := to(t)
		switch {
		case done:
			return true, true
		case at > 0:
			hi, atHi = t, at
		case at >= first/2:
			return true, false
		default:
			lo, atLo = t, at
		}
	}
	if lo > 0 {
		to(lo)
	}
	return lo > 0, done
}

// downhill is the convex function's slope along the step.
func (s *Solver) downhill() float64 {
	sum := 0.0
	for i, v := range s.balance {
		sum += v * s.step[i]
	}
	return sum
}

// solveLaws gives links and sources the flows that the heads ask for.
func (s *Solver) solveLaws() {
	for i := range s.n.Links {
		l := &s.n.Links[i]
		s.flow[i] = flowFor(s.head[l.From]-s.head[l.To], s.flow[i], func(q float64) (float64, float64) {
			p, slope := l.Law.Loss(units.GPM(q))
			return float64(p), slope
		})
	}
	for i := range s.n.Nodes {
		src := s.n.Nodes[i].Source
		if src == nil || s.fixed[i] {
			continue
		}
		s.give[i] = flowFor(s.rise[i]-s.head[i], s.give[i], func(q float64) (float64, float64) {
			left, fall := pressureLeft(src, q)
			return -left, fall
		})
	}
}

// flowFor is where a rising law has a loss: Newton's method between two bounds
// that close in, halving where its step falls outside.
func flowFor(loss, near float64, law func(q float64) (p, slope float64)) float64 {
	lo, hi := math.Inf(-1), math.Inf(1)
	q, reach := near, 1.0
	if math.IsNaN(q) || math.IsInf(q, 0) {
		q = 0
	}
	for range 200 {
		p, slope := law(q)
		wrong := p - loss
		if math.Abs(wrong) <= 1e-15*math.Abs(loss) {
			return q
		}
		if wrong > 0 {
			hi = q
		} else {
			lo = q
		}
		next := q - wrong/slope
		if !(next > lo && next < hi) || math.IsInf(lo, 0) && math.IsInf(hi, 0) && math.Abs(next-q) > 1e6 {
			switch {
			case math.IsInf(hi, 0):
				next = lo + reach
				reach *= 2
			case math.IsInf(lo, 0):
				next = hi - reach
				reach *= 2
			default:
				next = lo + (hi-lo)/2
			}
		}
		if next == q || next == lo || next == hi {
			return q
		}
		q = next
	}
	return q
}
