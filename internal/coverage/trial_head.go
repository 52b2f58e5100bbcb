package coverage

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// trialScale is the step of a trial's grid: 2^-18 in/h. Coarser than a field's,
// and far below what any reading tells, so that the heads of a whole park on one
// place do not overflow it.
const trialScale = 18

// tableUnit is the greatest rate in the table of a fall-off: heads of any rate share
// one table, so that it stays near the processor.
const tableUnit = 24

// mostPeak bounds the rate at one place of one head, in steps: 512 in/h, far above
// any sprinkler.
const mostPeak = 1 << 27

// faintest is the share of the greatest rate, one in so many, that is nothing at the
// end of a throw: the last entry of a triangular profile is one in 16,000.
const faintest = 8192

// tried is one head on a trial: what it adds to the places of the area, and where
// its water comes down. It depends on the head and the ground alone.
type tried struct {
	setting setting
	rates   []int32 // of the stretches, one after another
	on      []placedRates
	dots    []dot
	water   int64     // on the ground that is read: rate by weight
	land    []float64 // gpm by surface
	landed  Landed
	walled  []walled // by obstacle
}

// placedRates is a stretch of places that get rates.
type placedRates struct{ place, n int32 }

// dot is a part of a shared cell and its rate.
type dot struct{ place, rate int32 }

func (h *tried) clone() *tried {
	c := *h
	c.rates, c.on, c.dots, c.land = slices.Clone(h.rates), slices.Clone(h.on), slices.Clone(h.dots), slices.Clone(h.land)
	c.walled = slices.Clone(h.walled)
	return &c
}

// pour adds a head's rates (sign +1) or takes them away (-1).
func (h *tried) pour(rates []int32, sign int32) {
	from := h.rates
	for _, s := range h.on {
		to := rates[s.place:][:s.n]
		add := from[:s.n]
		from = from[s.n:]
		if sign > 0 {
			for i, v := range add {
				to[i] += v
			}
		} else {
			for i, v := range add {
				to[i] -= v
			}
		}
	}
	for _, d := range h.dots {
		rates[d.place] += sign * d.rate
	}
}

// fill works out a head.
func (t *Trial) fill(h *tried, s setting) {
	h.setting = s
	h.rates, h.on, h.dots, h.water = h.rates[:0], h.on[:0], h.dots[:0], 0
	h.landed, h.walled = Landed{}, h.walled[:0]
	n := len(t.land.surfaces)
	if cap(h.land) < n {
		h.land = make([]float64, n)
	}
	h.land = h.land[:n]
	clear(h.land)
	if !s.falls() {
		return
	}
	t.tally.size(n)
	w := wetting{t: t, h: h}
	w.table, w.peak = t.table(&s)
	w.faint = w.table[live-1] < 1<<tableUnit/faintest
	stopped, open := t.shape(&s, h)
	if open {
		t.shower.curve = s.curve(t.land.frame)
		d := newDisc(&s, t.land.frame)
		d.pour(&w)
	} else {
		w.mask(&t.shower.mask)
	}
	t.account(h, stopped)
}

// table is the table of a head and the rate, in steps, where it is greatest.
func (t *Trial) table(s *setting) (*Table, int64) {
	fall, peak := s.fall, 0.0
	if s.throw/t.land.frame.Cell < fewest {
		drawn := *s
		drawn.fall = flat
		fall, peak = flat, drawn.peak()
	} else {
		peak = s.peak()
	}
	if t.last.fall != fall {
		tab, ok := t.tables[fall]
		if !ok {
			tab = newTable(fall, 1<<tableUnit)
			t.tables[fall] = tab
		}
		t.last.fall, t.last.table = fall, tab
	}
	return t.last.table, int64(math.Round(min(math.Ldexp(peak, trialScale), mostPeak)))
}

// shape looks what stops a head's water. A sector that nothing stops is open; of
// all else it makes the mask, by way of its outline, and gives the share of the
// flow that is stopped.
func (t *Trial) shape(s *setting, h *tried) (stopped float64, open bool) {
	w := &t.shower
	w.setting = *s
	if t.alone(s) {
		if s.isStrip {
			w.curve = s.curve(t.land.frame)
			t.ring = s.appendRing(t.ring[:0])
			t.land.frame.FillWhole(&w.mask, t.ring)
		}
		return 0, !s.isStrip
	}
	w.walls = wallsOf(s, t.land.obstacles)
	seen, r := w.look()
	if !s.isStrip && !slices.ContainsFunc(seen, w.ends) {
		return 0, true
	}
	w.fillSeen(t.land.frame, seen, r)
	for i := range w.seen {
		if w.ends(w.seen[i]) {
			lost := w.beyondNearly(&w.seen[i])
			stopped += lost
			if of := w.walls[w.seen[i].Wall].Of; t.land.obstacles[of].trunk == 0 {
				h.walled = append(h.walled, walled{of, lost / s.volume()})
			}
		}
	}
	return min(stopped/s.volume(), 1), false
}

// beyondNearly is beyond to about 1e-4 of the flow, a tenth of the work.
func (s *shower) beyondNearly(r *geom.Reach) float64 {
	return adaptive(s.past(r), r.From, r.To, 3e-5*s.volume(), 1)
}

// appendRing appends the rectangle of a strip.
func (s *setting) appendRing(ring orb.Ring) orb.Ring {
	ahead, back := 0.0, 0.0
	if s.strip.Ahead {
		ahead = s.throw
	}
	if s.strip.Back {
		back = s.throw
	}
	return append(ring, geom.StripRect(s.at, s.start, ahead, back, float64(s.strip.Left), float64(s.strip.Right))...)
}

// alone reports whether nothing stands anywhere near a head.
func (t *Trial) alone(s *setting) bool {
	reach := s.throw
	if s.isStrip {
		_, _, reach = s.quarters()
	}
	around := s.at.Bound().Pad(reach)
	for i := range t.land.obstacles {
		if t.land.obstacles[i].bound.Intersects(around) {
			return false
		}
	}
	return true
}

// account scales what came down so that with what was stopped it is the flow, and
// empties the tally.
func (t *Trial) account(h *tried, stopped float64) {
	slices.Sort(t.tally.touched)
	sum := 0.0
	for _, of := range t.tally.touched {
		sum += t.tally.of[of]
	}
	lost := stopped * h.setting.flow
	left := h.setting.flow - lost
	h.landed.Stopped = units.GPM(lost)
	for _, v := range h.walled {
		h.landed.Walled += units.GPM(v.share * h.setting.flow)
	}
	h.landed.Walled = min(h.landed.Walled, h.landed.Stopped)
	for _, of := range t.tally.touched {
		v := ratio(t.tally.of[of], sum) * left
		h.land[of] = v
		if t.land.surfaces[of].id == Outside {
			h.landed.Outside += units.GPM(v)
		}
		switch t.land.class[of] {
		case onTarget:
			h.landed.OnTarget += units.GPM(v)
		case onHard:
			h.landed.Hard += units.GPM(v)
		case onBare:
			h.landed.Bare += units.GPM(v)
		default:
			h.landed.Other += units.GPM(v)
		}
		t.tally.of[of] = 0
	}
	t.tally.touched = t.tally.touched[:0]
}
