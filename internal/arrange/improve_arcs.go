package arrange

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// turnMost is how far both edges of an arc are turned at once, in degrees: farther
// round one of them goes alone, or the whole turns. Chosen: what is set wrong.
const turnMost = 30.0

// dryer are the changes that keep the water of heads off what must stay dry: an
// arc turned in first, then its throw, then a nozzle that throws less far.
func (m *mender) dryer(f plan.Finding) []remedy {
	heads := m.headsIn(f)
	slices.SortStableFunc(heads, func(a, b plan.ID) int {
		x, y := m.strays(a), m.strays(b)
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	if len(heads) > 6 {
		heads = heads[:6]
	}
	var out []remedy
	for _, id := range heads {
		out = append(out, m.turns(id, 3*turnMost, false)...)
		out = append(out, m.throws(id, -1)...)
	}
	if len(heads) > 0 {
		if area := m.areaOf(heads[0]); m.groundOf(area) != nil {
			out = append(out, m.rows(f, area, []orb.Point{m.groundOf(area).shape.Bound().Center()})...)
		}
	}
	return out
}

// strays is the water of a head that lands off planting watered overhead, gpm.
func (m *mender) strays(id plan.ID) float64 {
	h := m.now.head(id)
	if h == nil {
		return 0
	}
	return float64(h.FlowGPM - h.OnTarget)
}

// turns are other arcs of a head: either edge at most so far round, or the whole
// turned. Edges go to whole steps of the arc and along the edges of the ground
// near by. With open the arc may grow.
func (m *mender) turns(id plan.ID, most float64, open bool) []remedy {
	h := m.p.Heads[id]
	if n := m.p.Nozzles[h.Nozzle]; n.Family == catalog.Strip || h.SweepDeg <= 0 {
		return nil
	}
	start, end := float64(h.StartDeg), float64(h.StartDeg+h.SweepDeg)
	marks := m.marks(id)
	from, to := marksNear(marks, start, most), marksNear(marks, end, most)
	var out []remedy
	add := func(a, b float64, cost float64) {
		sweep := b - a
		if sweep > 360+1e-6 || sweep < 1 || !open && sweep > float64(h.SweepDeg)+1e-6 {
			return
		}
		if r, ok := m.arc(id, a, min(sweep, 360)); ok {
			r.cost += cost + 0.01*(math.Abs(a-start)+math.Abs(b-end))
			out = append(out, r)
		}
	}
	for _, a := range from {
		add(a, end, 0)
		if h.SweepDeg < 360 {
			add(a, a+float64(h.SweepDeg), 0)
		}
		for _, b := range to {
			if math.Abs(a-start) <= turnMost+1e-6 && math.Abs(b-end) <= turnMost+1e-6 {
				add(a, b, 0.5)
			}
		}
	}
	for _, b := range to {
		add(start, b, 0)
	}
	return out
}

// marksNear are the marks at most so far round from an angle, told beside it: beyond 0
// and 360 too.
func marksNear(marks []float64, angle, most float64) []float64 {
	var out []float64
	for _, k := range marks {
		d := math.Remainder(k-angle, 360)
		if math.Abs(d) <= most+1e-6 && math.Abs(d) > 0.5 {
			out = append(out, angle+d)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// besideEdge is how near an edge of the ground must run for a head's arc to be laid
// along it, in feet. Chosen.
const besideEdge = 2.0

// marks are the directions that the edges of a head's arc may go to, in degrees
// from 0 to 360.
func (m *mender) marks(id plan.ID) []float64 {
	var out []float64
	step := float64(m.o.AngleStep)
	if step <= 0 {
		step = 15
	}
	for a := 0.0; a < 360-1e-9; a += step {
		out = append(out, a)
	}
	if g := m.groundOf(m.areaOf(id)); g != nil {
		p := spotOf(m.p.Heads[id])
		for _, poly := range g.shape {
			for _, ring := range poly {
				for i := 1; i < len(ring); i++ {
					a, b := ring[i-1], ring[i]
					if apart(a, b) >= 2 && apart(p, geom.NearestOnSegment(p, a, b)) <= besideEdge {
						along := math.Round(geom.Bearing(a, b))
						out = append(out, geom.NormDeg(along), geom.NormDeg(along+180))
					}
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// arc is the remedy that gives a head another arc, with another nozzle where its
// own does not take it or would come off the rate.
func (m *mender) arc(id plan.ID, start, sweep float64) (remedy, bool) {
	h := m.p.Heads[id]
	a := adjust{id: id, arc: &[2]units.Degrees{units.Degrees(geom.NormDeg(start)), units.Degrees(sweep)}}
	if sweep >= 360 {
		a.arc[0] = 0
	}
	n := m.p.Nozzles[h.Nozzle]
	if n.ArcAllowed(a.arc[1]) == nil && (n.FlowFollowsArc || math.Abs(sweep-float64(h.SweepDeg)) < 0.5) {
		return m.one(MendArc, costTurn, a), true
	}
	s, ok := m.fitting(h, a.arc[1], m.throwOf(id), m.rateFor(id))
	if !ok || s.nozzle == h.Nozzle {
		return m.one(MendArc, costTurn, a), ok
	}
	set := setTo(id, h, s)
	set.arc = a.arc
	return m.one(MendArc, costTurn+costNozzle, set), true
}

// throws are other throws of a head by whole feet, shorter (-1), longer (1) or
// either (0): by its screw as far as is usual, else by another nozzle.
func (m *mender) throws(id plan.ID, way int) []remedy {
	h := m.p.Heads[id]
	is, n := m.now.head(id), m.p.Nozzles[h.Nozzle]
	if is == nil || is.Throw <= 0 {
		return nil
	}
	var out []remedy
	for by := units.Feet(-6); by <= 8; by++ {
		t := whole(is.Throw) + by
		d := float64(t - is.Throw)
		if math.Abs(d) < 0.25 || t < 3 || way < 0 && d > 0 || way > 0 && d < 0 {
			continue
		}
		usual := units.Feet(float64(n.TurnDown.UsualShare) * float64(is.TableThrow))
		if n.Family != catalog.Strip && t >= usual-1e-9 && t <= is.TableThrow+1e-9 {
			set := t
			if math.Abs(float64(t-is.TableThrow)) < 1e-6 {
				set = 0
			}
			out = append(out, m.one(MendThrow, costThrow+0.02*math.Abs(d), adjust{id: id, throw: &set}))
			continue
		}
		if s, ok := m.fitting(h, h.SweepDeg, t, m.rateFor(id)); ok && s.nozzle != h.Nozzle {
			out = append(out, m.one(MendNozzle, costNozzle+0.02*math.Abs(d), setTo(id, h, s)))
		}
	}
	return out
}

// arcAt is the arc that a head at a place may best have: where most of a throw lies
// on the ground, from whole step to whole step; 360 where it does all round. It is
// false where there is none to speak of.
func (m *mender) arcAt(g *ground, p orb.Point, throw float64) (start, sweep float64, ok bool) {
	const rays, radii = 72, 8
	step := float64(m.o.AngleStep)
	if step <= 0 {
		step = 15
	}
	var on [rays]bool
	all := true
	for k := range rays {
		sin, cos := math.Sincos((float64(k) + 0.5) * 2 * math.Pi / rays)
		in := 0.0
		for j := range radii {
			d := throw * (float64(j) + 0.5) / radii
			if geom.Contains(g.wet, orb.Point{p[0] + float64(d*cos), p[1] + float64(d*sin)}) {
				in += coneShare(j, radii)
			}
		}
		on[k] = in >= 0.6
		all = all && on[k]
	}
	if all {
		return 0, 360, true
	}
	from, most := 0, 0
	for k := range rays {
		n := 0
		for n < rays && on[(k+n)%rays] {
			n++
		}
		if n > most {
			from, most = k, n
		}
	}
	wide := 360.0 / rays
	start = math.Round(float64(from)*wide/step) * step
	end := math.Round(float64(from+most)*wide/step) * step
	sweep = min(end-start, 360)
	return geom.NormDeg(start), sweep, sweep >= 30
}

// coneShare is the share of a cone's water that falls on the j-th of n rings of one
// width.
func coneShare(j, n int) float64 {
	at := func(r float64) float64 { return float64(r*r)*3 - float64(r*r*r)*2 }
	return at(float64(j+1)/float64(n)) - at(float64(j)/float64(n))
}
