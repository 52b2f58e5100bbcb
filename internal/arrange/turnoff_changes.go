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

// bothMost is how far both edges of an arc are turned in at once, in degrees. Chosen:
// farther in, one goes after the other.
const bothMost = 45.0

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

// arcsOff are starts and sweeps that a head may have instead of the one it has: within
// that, and within the one it had, none wider.
func (s *sparer) arcsOff(id plan.ID) [][2]float64 {
	was, is := s.was.Heads[id], s.p.Heads[id]
	if !(was.SweepDeg > 0) {
		return nil
	}
	from, to, sees := s.sector(id)
	marks := s.marks(id)
	if sees {
		marks = append(marks, geom.NormDeg(from), geom.NormDeg(to))
		slices.Sort(marks)
		marks = slices.Compact(marks)
	}
	if was.SweepDeg >= 360 && is.SweepDeg >= 360 {
		if !sees {
			return nil
		}
		return openRound(marks, from, to)
	}
	out := turnedIn(marks, float64(is.StartDeg), float64(is.SweepDeg))
	if was.SweepDeg < 360 && (is.StartDeg != was.StartDeg || is.SweepDeg != was.SweepDeg) {
		out = append(out, turnedIn(marks, float64(was.StartDeg), float64(was.SweepDeg))...)
	}
	return out
}

// openRound are arcs of a head of a full circle that leave out a sector of it.
func openRound(marks []float64, from, to float64) (out [][2]float64) {
	for _, a := range onward(marks, to, roundMost) {
		for _, b := range onward(marks, from, -roundMost) {
			if sweep := b + 360 - a; sweep >= 1 && sweep < 360 {
				out = append(out, [2]float64{a, sweep})
			}
		}
	}
	return out
}

// turnedIn are arcs with either edge turned in, both a little, or turned as a whole.
func turnedIn(marks []float64, start, sweep float64) (out [][2]float64) {
	end := start + sweep
	add := func(a, b float64) {
		if b-a >= 1 && b-a <= sweep+1e-9 {
			out = append(out, [2]float64{a, b - a})
		}
	}
	rights, lefts := onward(marks, start, sweep), onward(marks, end, -sweep)
	for _, a := range rights {
		add(a, end)
		for _, b := range lefts {
			if a-start <= bothMost && end-b <= bothMost {
				add(a, b)
			}
		}
	}
	for _, b := range lefts {
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
