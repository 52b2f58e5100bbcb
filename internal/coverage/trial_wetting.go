package coverage

import (
	"math"
	"slices"

	"evenfall/internal/geom"
)

// wetting is the water of one head as it is laid on the ground, row by row, each
// row from the west.
type wetting struct {
	t     *Trial
	h     *tried
	table *Table
	peak  int64
	faint bool // the rate at the end of the throw is nothing

	y    int
	line row
	runs []run   // of the row; none off the frame
	own  []int32 // their places
	at   int     // the run that was last met
}

// mask lays a mask: of each row the whole cells first.
func (w *wetting) mask(m *geom.Mask) {
	for i := range m.Rows() {
		w.open(m.Y0 + i)
		spans, parts := m.Row(i)
		for _, s := range spans {
			w.span(s)
		}
		w.at = 0
		for _, p := range parts {
			q, _ := w.line.at(int(p.X))
			w.part(p, w.rate(w.table.rim(q)), nil)
		}
	}
}

// open begins a row.
func (w *wetting) open(y int) {
	g := w.t.land
	w.y, w.line, w.at = y, w.t.shower.curve.row(y), 0
	w.runs = nil
	if y >= 0 && y < g.frame.NY {
		from, to := g.rowAt[y], g.rowAt[y+1]
		w.runs, w.own = g.runs[from:to], g.runPlace[from:to]
	}
}

// seek finds the run that holds column x, of which none before was farther east.
func (w *wetting) seek(x int32) {
	for w.runs[w.at].end <= x {
		w.at++
	}
}

// rate is an entry of the table in steps.
func (w *wetting) rate(v int32) int32 {
	return int32((int64(v)*w.peak + 1<<(tableUnit-1)) >> tableUnit)
}

// off tells of the water of whole cells whose rates are not kept.
func (w *wetting) off(of, from, to int32) {
	if from < to {
		q, dq := w.line.at(int(from))
		sum := w.table.sum(int(to-from), q, dq, w.line.ddq)
		w.t.tally.add(of, float64(sum)*float64(w.peak)/(1<<tableUnit))
	}
}

// span lays whole cells on the runs of the ground.
func (w *wetting) span(s geom.Span) {
	a, b := max(s.X0, 0), min(s.X1, int32(w.t.land.frame.NX))
	if len(w.runs) == 0 || a >= b {
		w.off(0, s.X0, s.X1)
		return
	}
	w.off(0, s.X0, a)
	w.off(0, b, s.X1)
	for w.seek(a); a < b; w.at++ {
		r := w.runs[w.at]
		end := min(r.end, b)
		switch place := w.own[w.at]; {
		case r.of < 0:
			w.share(int(^r.of), a)
		case place == none:
			w.off(r.of, a, end)
		default:
			w.keep(r.of, a, end, place+a)
		}
		if a = end; a == b {
			break
		}
	}
}

// keep lays whole cells on places of the area.
func (w *wetting) keep(of, from, to, place int32) {
	q, dq := w.line.at(int(from))
	sum := fillRates(w.extend(place, to-from), w.table, w.peak, q, dq, w.line.ddq)
	w.h.water += sum * weightOne
	w.t.tally.add(of, float64(sum))
}

// extend makes room for the rates of places, in the stretch before them where they
// follow it.
func (w *wetting) extend(place, n int32) []int32 {
	h := w.h
	start := len(h.rates)
	h.rates = slices.Grow(h.rates, int(n))[:start+int(n)]
	if k := len(h.on) - 1; k >= 0 && h.on[k].place+h.on[k].n == place {
		h.on[k].n += n
	} else {
		h.on = append(h.on, placedRates{place, n})
	}
	return h.rates[start:]
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

// part lays a cell of rate v that an edge of the pattern crosses. Its samples are
// those of the disc when there is one: they are wanted only where surfaces share the
// cell.
func (w *wetting) part(p geom.Part, v int32, d *disc) {
	if len(w.runs) == 0 || p.X < 0 || p.X >= int32(w.t.land.frame.NX) {
		w.t.tally.add(0, float64(v)*p.Fraction())
		return
	}
	w.seek(p.X)
	r := w.runs[w.at]
	if r.of < 0 {
		if d != nil {
			p.Bits = d.bits(int(p.X), w.y)
		}
		w.meet(int(^r.of), p, float64(v))
		return
	}
	w.t.tally.add(r.of, float64(v)*p.Fraction())
	if place := w.own[w.at]; place != none {
		rate := portion(v, p.Share)
		w.extend(place+p.X, 1)[0] = rate
		w.h.water += int64(rate) * weightOne
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

// dot gives a part of a shared cell a rate.
func (w *wetting) dot(place, rate int32) {
	if place == none || rate == 0 {
		return
	}
	w.h.dots = append(w.h.dots, dot{place, rate})
	w.h.water += int64(rate) * w.t.land.weights[place-w.t.land.whole]
}
