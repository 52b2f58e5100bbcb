package arrange

import (
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// roundMost is how far an arc is turned as a whole, in degrees. Chosen: farther round it
// is another head.
const roundMost = 90.0

// changes are the other settings of a head: as it was, arcs within the one it had or the
// same turned, and throws up to the one it had.
func (s *sparer) changes(id plan.ID) []remedy {
	was, is := s.was.Heads[id], s.p.Heads[id]
	var out []remedy
	if setCost(was, is) > 0 {
		out = append(out, s.one(MendArc, 0, asItWas(id, was)))
	}
	if s.p.Nozzles[is.Nozzle].Family != catalog.Strip {
		for _, arc := range s.arcsOff(id) {
			if r, ok := s.arc(id, arc[0], arc[1]); ok {
				out = append(out, r)
			}
		}
	}
	return append(out, s.throws(id, 0)...)
}

// asItWas sets a head as it was.
func asItWas(id plan.ID, was plan.Head) adjust {
	throw := units.Feet(0)
	if was.ThrowFt != nil {
		throw = *was.ThrowFt
	}
	return adjust{id: id, arc: &[2]units.Degrees{was.StartDeg, was.SweepDeg}, throw: &throw, nozzle: was.Nozzle, body: was.Body}
}

// arcsOff are starts and sweeps that a head may have instead of those it had.
func (s *sparer) arcsOff(id plan.ID) [][2]float64 {
	h := s.was.Heads[id]
	start, sweep := float64(h.StartDeg), float64(h.SweepDeg)
	if !(sweep > 0) {
		return nil
	}
	from, to, sees := s.sector(id)
	marks := s.marks(id)
	if sees {
		marks = append(marks, geom.NormDeg(from), geom.NormDeg(to))
		slices.Sort(marks)
		marks = slices.Compact(marks)
	}
	var out [][2]float64
	add := func(a, b float64) {
		if b-a >= 1 && b-a <= sweep+1e-9 {
			out = append(out, [2]float64{a, b - a})
		}
	}
	if sweep >= 360 {
		if sees {
			for _, a := range onward(marks, to, roundMost) {
				for _, b := range onward(marks, from, -roundMost) {
					if b += 360; b-a < 360 {
						add(a, b)
					}
				}
			}
		}
		return out
	}
	for _, a := range onward(marks, start, sweep) {
		add(a, start+sweep)
	}
	for _, b := range onward(marks, start+sweep, -sweep) {
		add(start, b)
	}
	for _, way := range []float64{-roundMost, roundMost} {
		for _, a := range onward(marks, start, way) {
			add(a, a+sweep)
		}
	}
	return out
}

// onward are the marks from an angle on, anticlockwise, or clockwise where the way is
// below 0; told beside the angle, which is one of them if it is a mark.
func onward(marks []float64, angle, way float64) []float64 {
	var out []float64
	for _, k := range marks {
		d := geom.NormDeg(k - angle)
		if way < 0 && d > 0 {
			d -= 360
		}
		if math.Abs(d) <= math.Abs(way)+1e-6 {
			out = append(out, angle+d)
		}
	}
	return out
}

// sector is the part of the round that the bed takes up as a head sees it, in whole
// degrees anticlockwise and a little wide; false where the head stands on it, or so that
// it lies on both sides.
func (s *sparer) sector(id plan.ID) (from, to float64, ok bool) {
	p := spotOf(s.was.Heads[id])
	ring := s.was.Areas[s.bed].Outline.Ring()
	if len(ring) == 0 {
		return 0, 0, false
	}
	middle := geom.Bearing(p, ring[0])
	right, left, last := 0.0, 0.0, 0.0
	for _, at := range ring {
		// Followed along the outline, so that a bed that reaches round the head shows.
		last += math.Remainder(geom.Bearing(p, at)-middle-last, 360)
		right, left = min(right, last), max(left, last)
	}
	if left-right >= 350 {
		return 0, 0, false
	}
	return math.Floor(middle + right), math.Ceil(middle + left), true
}
