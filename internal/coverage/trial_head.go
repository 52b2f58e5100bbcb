package coverage

import (
	"math"
	"slices"

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
}

// placedRates is a stretch of places that get rates.
type placedRates struct{ place, n int32 }

// dot is one place and its rate: where an edge crosses the cell.
type dot struct{ place, rate int32 }

func (h *tried) clone() *tried {
	c := *h
	c.rates, c.on, c.dots, c.land = slices.Clone(h.rates), slices.Clone(h.on), slices.Clone(h.dots), slices.Clone(h.land)
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
	h.landed = Landed{}
	n := len(t.land.surfaces)
	if cap(h.land) < n {
		h.land = make([]float64, n)
	}
	h.land = h.land[:n]
	clear(h.land)
	if !s.falls() {
		return
	}
	stopped := t.shape(&s)
	t.tally.size(n)
	w := wetting{t: t, h: h, unit: 1.0 / (1 << tableUnit)}
	w.table, w.peak = t.table(&s)
	for i := range t.shower.mask.Rows() {
		w.row(i)
	}
	t.account(h, stopped)
}

// table is the table of a head and the rate, in steps, where it is greatest.
func (t *Trial) table(s *setting) (*Table, int64) {
	drawn := *s
	if s.throw/t.land.frame.Cell < fewest {
		drawn.fall = flat
	}
	tab, ok := t.tables[drawn.fall]
	if !ok {
		tab = newTable(drawn.fall, 1<<tableUnit)
		t.tables[drawn.fall] = tab
	}
	return tab, int64(math.Round(min(math.Ldexp(drawn.peak(), trialScale), mostPeak)))
}

// shape makes the mask of a head and gives the share of its flow that is stopped.
func (t *Trial) shape(s *setting) (stopped float64) {
	w := &t.shower
	w.setting = *s
	if t.open(s) {
		w.curve = s.curve(t.land.frame)
		t.ring = s.appendRing(t.ring[:0], t.land.frame.Cell)
		t.land.frame.FillWhole(&w.mask, t.ring)
		return 0
	}
	w.walls = wallsOf(s, t.land.obstacles)
	w.fill(t.land.frame)
	for _, st := range w.stopsOf() {
		stopped += st.share
	}
	return min(stopped, 1)
}

// open reports whether nothing stands within the throw of a head.
func (t *Trial) open(s *setting) bool {
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

// wetting is the water of one head as it is laid on the ground, row by row.
type wetting struct {
	t     *Trial
	h     *tried
	table *Table
	peak  int64
	unit  float64
	line  row
	y     int
}

// rate is an entry of the table in steps.
func (w *wetting) rate(v int32) int32 {
	return int32((int64(v)*w.peak + 1<<(tableUnit-1)) >> tableUnit)
}

func (w *wetting) row(i int) {
	mask, g := &w.t.shower.mask, w.t.land
	spans, parts := mask.Row(i)
	w.y = mask.Y0 + i
	w.line = w.t.shower.curve.row(w.y)
	if w.y < 0 || w.y >= g.frame.NY {
		for _, s := range spans {
			w.off(0, s.X0, s.X1)
		}
		for _, p := range parts {
			w.t.tally.add(0, w.rim(p.X)*p.Fraction())
		}
		return
	}
	for _, s := range spans {
		w.span(s)
	}
	if len(parts) > 0 {
		w.parts(parts)
	}
}

// rim is the rate of a part cell at its middle.
func (w *wetting) rim(x int32) float64 {
	q, _ := w.line.at(int(x))
	return float64(w.rate(w.table.rim(q)))
}

// off tells of the water of whole cells whose rates are not kept.
func (w *wetting) off(of, from, to int32) {
	if from < to {
		q, dq := w.line.at(int(from))
		w.t.tally.add(of, float64(w.table.sum(int(to-from), q, dq, w.line.ddq))*float64(w.peak)*w.unit)
	}
}

// span lays whole cells on the runs of the ground.
func (w *wetting) span(s geom.Span) {
	g := w.t.land
	a, b := max(s.X0, 0), min(s.X1, int32(g.frame.NX))
	if a >= b {
		w.off(0, s.X0, s.X1)
		return
	}
	w.off(0, s.X0, a)
	w.off(0, b, s.X1)
	first := g.rowAt[w.y]
	for i := first + int32(runAt(g.row(w.y), a)); a < b; i++ {
		r := g.runs[i]
		end := min(r.end, b)
		switch {
		case r.of < 0:
			w.share(int(^r.of), a)
		case g.runPlace[i] == none:
			w.off(r.of, a, end)
		default:
			w.keep(r.of, a, end, g.runPlace[i]+a)
		}
		a = end
	}
}

// keep lays whole cells on places of the area.
func (w *wetting) keep(of, from, to, place int32) {
	h := w.h
	n := int(to - from)
	start := len(h.rates)
	h.rates = slices.Grow(h.rates, n)[:start+n]
	q, dq := w.line.at(int(from))
	sum := fillRates(h.rates[start:], w.table, w.peak, q, dq, w.line.ddq)
	h.on = append(h.on, placedRates{place, int32(n)})
	h.water += sum * weightOne
	w.t.tally.add(of, float64(sum))
}

// fillRates writes a table's rates times peak, and gives their sum.
func fillRates(d []int32, t *Table, peak int64, q, dq, ddq uint64) int64 {
	sum := int64(0)
	for i := range d {
		v := (int64(t[q>>tableShift])*peak + 1<<(tableUnit-1)) >> tableUnit
		d[i] = int32(v)
		sum += v
		q += dq
		dq += ddq
	}
	return sum
}

// share lays one whole cell on ground of several surfaces.
func (w *wetting) share(i int, x int32) {
	q, _ := w.line.at(int(x))
	v := w.rate(w.table[q>>tableShift])
	from, pieces := w.t.land.piecesOf(i)
	for k, p := range pieces {
		w.t.tally.add(p.of, float64(v)*float64(p.size)/geom.Whole)
		w.dot(w.t.land.piecePlace[from+k], v)
	}
}

// parts lays the cells of one row that an edge of the pattern crosses.
func (w *wetting) parts(parts []geom.Part) {
	g := w.t.land
	runs, first := g.row(w.y), g.rowAt[w.y]
	at := -1
	for _, p := range parts {
		v := w.rim(p.X)
		if p.X < 0 || p.X >= int32(g.frame.NX) {
			w.t.tally.add(0, v*p.Fraction())
			continue
		}
		if at < 0 {
			at = runAt(runs, p.X)
		}
		for runs[at].end <= p.X {
			at++
		}
		r := runs[at]
		if r.of < 0 {
			w.meet(int(^r.of), p, v)
			continue
		}
		w.t.tally.add(r.of, v*p.Fraction())
		if place := g.runPlace[first+int32(at)]; place != none {
			w.dot(place+p.X, portion(int32(v), p.Share))
		}
	}
}

// meet lays a part cell on ground of several surfaces: each gets by the samples it
// has in common with it, as a field's does with its amendments.
func (w *wetting) meet(i int, p geom.Part, v float64) {
	from, pieces := w.t.land.piecesOf(i)
	if p.Bits == 0 {
		l := ledgerRow{t: &w.t.tally}
		l.sliver(pieces, v*p.Fraction())
	}
	for k, piece := range pieces {
		if p.Bits != 0 {
			w.t.tally.add(piece.of, v*p.Fraction()*geom.Together(p.Bits, piece.bits))
		}
		if place := w.t.land.piecePlace[from+k]; place != none {
			w.dot(place, int32(math.Round(v*geom.Together(piece.bits, p.Bits))))
		}
	}
}

// dot gives one place a rate.
func (w *wetting) dot(place, rate int32) {
	if place == none || rate == 0 {
		return
	}
	w.h.dots = append(w.h.dots, dot{place, rate})
	weight := int64(weightOne)
	if g := w.t.land; place >= g.whole {
		weight = g.weights[place-g.whole]
	}
	w.h.water += int64(rate) * weight
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
	for _, of := range t.tally.touched {
		v := ratio(t.tally.of[of], sum) * left
		h.land[of] = v
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
