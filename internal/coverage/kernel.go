package coverage

import "math"

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

// add adds the table's rates to a run of cells. u starts at q and follows from
// differences: u is quadratic along a row, so two additions a cell give it
// without error, in 2^-63 with wrap-around.
func (t *Table) add(d []int32, q, dq, ddq uint64) {
	for len(d) >= 4 {
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
	for i := range d {
		d[i] += t[q>>tableShift]
		q += dq
		dq += ddq
	}
}

// sub takes away exactly what add added.
func (t *Table) sub(d []int32, q, dq, ddq uint64) {
	for len(d) >= 4 {
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
	for i := range d {
		d[i] -= t[q>>tableShift]
		q += dq
		dq += ddq
	}
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
// counted in cells from (cx, cy), the place of the head. For a round pattern it
// is (distance/throw)²; for a strip (distance along it/throw)².
type curve struct {
	cx, cy     float64 // cell coordinates of the head
	xx, xy, yy float64
	x0         int    // column that rows start from
	ddq        uint64 // second difference of u along a row
}

func (c *curve) start() {
	c.x0 = int(math.Floor(c.cx))
	c.ddq = fixed(2 * c.xx)
}

// row is u along a row of cells.
type row struct {
	x0         int
	q, dq, ddq uint64
}

// row gives u and its first difference for row y at column x0.
func (c *curve) row(y int) row {
	dx, dy := float64(c.x0)+0.5-c.cx, float64(y)+0.5-c.cy
	q := float64(c.xx*dx*dx) + float64(c.xy*dx*dy) + float64(c.yy*dy*dy)
	dq := float64(c.xx*(2*dx+1)) + float64(c.xy*dy)
	return row{c.x0, fixed(q), fixed(dq), c.ddq}
}

// at gives u and its difference at column x: q + k·dq + k(k-1)/2·ddq, exact
// because it wraps as the running sum does.
func (r row) at(x int) (q, dq uint64) {
	k := int64(x - r.x0)
	return r.q + uint64(k)*r.dq + uint64(k*(k-1)/2)*r.ddq, r.dq + uint64(k)*r.ddq
}

// fixed is a number in units of 2^-63, modulo 2.
func fixed(v float64) uint64 {
	v -= 2 * math.Floor(v/2)
	if v >= 2 {
		v = 0
	}
	return uint64(v * one)
}
