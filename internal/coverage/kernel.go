package coverage

import (
	"math"
	"slices"
)

// A Table gives the rate by u = (distance/throw)²: entry i holds for u from
// i/4,096 to (i+1)/4,096. The upper half, u from 1 to 2, is zero, so that a cell
// whose middle lies a hair beyond the throw gets nothing. The unit is the
// field's (see scale).
type Table [2 * live]int32

const live = 4096

// tableShift leaves the index of the table from u in units of 2^-63.
const tableShift = 64 - 13

// one is u = 1 in the fixed point of the kernel: 2^-63 each.
const one = 1 << 63

// newTable tabulates a profile with the given rate where it is greatest.
func newTable(p *profile, peak float64) *Table {
	t := new(Table)
	for i := range live {
		t[i] = int32(math.Round(peak * p.at(math.Sqrt((float64(i)+0.5)/live))))
	}
	return t
}

// peak is the greatest rate of the table.
func (t *Table) peak() int32 { return slices.Max(t[:live]) }

// reachShare is the share of a head's greatest rate from which a place counts
// as reached by it. Chosen: below it a catch-can shows a few drops.
const reachShare = 0.05

// newReach is 1 where a head reaches, 0 elsewhere.
func newReach(p *profile) *Table {
	t := new(Table)
	for i := range live {
		if p.at(math.Sqrt((float64(i)+0.5)/live)) >= reachShare {
			t[i] = 1
		}
	}
	return t
}

// spare is how many cells past the last a grid must have: add and sub look at the
// cells after a run and leave them as they are.
const spare = 3

// add adds the table's rates to all but the last spare cells of d, of which it
// holds at least one more. u starts at q and follows from differences: u is quadratic along a row,
// so two additions a cell give it without error, in 2^-63 with wrap-around.
//
// The last one to four cells are done together, those past the run masked out: a
// loop over what is left of each row would be guessed wrong by the processor
// nearly every time.
func (t *Table) add(d []int32, q, dq, ddq uint64) {
	for len(d) > 4+spare {
		e := d[:4:4]
		e[0] += t[q>>tableShift]
		q += dq
		dq += ddq
		e[1] += t[q>>tableShift]
		q += dq
		dq += ddq
		e[2] += t[q>>tableShift]
		q += dq
		dq += ddq
		e[3] += t[q>>tableShift]
		q += dq
		dq += ddq
		d = d[4:]
	}
	n := len(d) - spare
	e := d[:4:4]
	e[0] += t[q>>tableShift]
	q += dq
	dq += ddq
	e[1] += t[q>>tableShift] & upTo(2, n)
	q += dq
	dq += ddq
	e[2] += t[q>>tableShift] & upTo(3, n)
	q += dq
	e[3] += t[q>>tableShift] & upTo(4, n)
}

// upTo is all ones when k is at most n, else 0.
func upTo(k, n int) int32 { return ^int32((n - k) >> 63) }

// sub takes away exactly what add added.
func (t *Table) sub(d []int32, q, dq, ddq uint64) {
	for len(d) > 4+spare {
		e := d[:4:4]
		e[0] -= t[q>>tableShift]
		q += dq
		dq += ddq
		e[1] -= t[q>>tableShift]
		q += dq
		dq += ddq
		e[2] -= t[q>>tableShift]
		q += dq
		dq += ddq
		e[3] -= t[q>>tableShift]
		q += dq
		dq += ddq
		d = d[4:]
	}
	n := len(d) - spare
	e := d[:4:4]
	e[0] -= t[q>>tableShift]
	q += dq
	dq += ddq
	e[1] -= t[q>>tableShift] & upTo(2, n)
	q += dq
	dq += ddq
	e[2] -= t[q>>tableShift] & upTo(3, n)
	q += dq
	e[3] -= t[q>>tableShift] & upTo(4, n)
}

// sum is what add would add to n cells.
func (t *Table) sum(n int, q, dq, ddq uint64) int64 {
	s := int64(0)
	for range n {
		s += int64(t[q>>tableShift])
		q += dq
		dq += ddq
	}
	return s
}

// rim is the rate of one cell at u, where a cell that lies partly inside the
// throw but has its middle outside counts as at the throw.
func (t *Table) rim(q uint64) int32 { return t[min(q>>tableShift, live-1)] }

// curve is u over the cells of a frame: xx·dx² + xy·dx·dy + yy·dy², dx and dy
// counted in cells from the place of the head. For a round pattern it is
// (distance/throw)²; for a strip (distance along it/throw)². Its differences
// from cell to cell are kept in fixed point, so that every value is exact.
type curve struct {
	x0, y0        int    // the cell that differences are counted from
	q             uint64 // u at its middle
	dx, dy        uint64 // first differences there
	ddx, ddy, dxy uint64 // second differences
}

// newCurve is the curve about (cx, cy), in cell coordinates.
func newCurve(cx, cy, xx, xy, yy float64) curve {
	c := curve{x0: int(math.Floor(cx)), y0: int(math.Floor(cy))}
	dx, dy := float64(c.x0)+0.5-cx, float64(c.y0)+0.5-cy
	c.q = fixed(float64(xx*dx*dx) + float64(xy*dx*dy) + float64(yy*dy*dy))
	c.dx = fixed(float64(xx*(2*dx+1)) + float64(xy*dy))
	c.dy = fixed(float64(yy*(2*dy+1)) + float64(xy*dx))
	c.ddx, c.ddy, c.dxy = fixed(2*xx), fixed(2*yy), fixed(xy)
	return c
}

// row is u along a row of cells.
type row struct {
	x0         int
	q, dq, ddq uint64
}

// row gives u and its first difference for row y at column x0: the sums of the
// differences up to it, which wrap as they would one by one.
func (c *curve) row(y int) row {
	k := uint64(y - c.y0)
	return row{c.x0, c.q + k*c.dy + halved(k*(k-1))*c.ddy, c.dx + k*c.dxy, c.ddx}
}

// at gives u and its difference at column x.
func (r *row) at(x int) (q, dq uint64) {
	k := uint64(x - r.x0)
	return r.q + k*r.dq + halved(k*(k-1))*r.ddq, r.dq + k*r.ddq
}

// halved is half of an even number; k(k-1) is even and not below zero even where k
// has wrapped.
func halved(v uint64) uint64 { return v >> 1 }

// fixed is a number in units of 2^-63, modulo 2.
func fixed(v float64) uint64 {
	v -= 2 * math.Floor(v/2)
	if v >= 2 {
		v = 0
	}
	return uint64(v * one)
}
