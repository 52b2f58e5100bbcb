package geom

import "math/bits"

// Whole is the Share of a cell that lies wholly inside: shares are whole numbers
// of 2^-30, so that sums of them are exact in any order.
const Whole = 1 << 30

// Span is a run of whole cells of one row: x in [X0, X1).
type Span struct{ X0, X1 int32 }

// Part is a cell that lies partly inside.
type Part struct {
	X     int32  // the cell
	Share int32  // how much of it is inside, in 2^-30 of a cell, in (0, Whole)
	Bits  uint64 // which of its 64 sample places are inside; see Sample
}

// Fraction is the part's share of its cell, in (0, 1).
func (p Part) Fraction() float64 { return float64(p.Share) / Whole }

// Mask is a piece of the plane as a frame sees it: whole cells and parts of
// cells, row by row from the south, each row from the west. Shares are exact up
// to rounding. Sample bits tell how two shapes share one cell, which two shares
// alone cannot.
type Mask struct {
	Y0   int // row of the first row
	Full []Span
	Edge []Part
	full []int32 // where row i of Full starts; one longer than the rows
	edge []int32 // likewise for Edge
}

// Rows is the number of rows, some of which may be empty.
func (m *Mask) Rows() int { return max(len(m.full)-1, 0) }

// Row gives the whole and part cells of row Y0+i.
func (m *Mask) Row(i int) ([]Span, []Part) {
	return m.Full[m.full[i]:m.full[i+1]], m.Edge[m.edge[i]:m.edge[i+1]]
}

// Cells is how many cells the mask covers, parts counted by share.
func (m *Mask) Cells() float64 {
	whole, parts := int64(0), int64(0)
	for _, s := range m.Full {
		whole += int64(s.X1 - s.X0)
	}
	for _, p := range m.Edge {
		parts += int64(p.Share)
	}
	return float64(whole) + float64(parts)/Whole
}

// Bound is the rectangle of cells that the mask touches.
func (m *Mask) Bound() Cells {
	var c Cells
	for i := range m.Rows() {
		spans, parts := m.Row(i)
		y := m.Y0 + i
		if n := len(spans); n > 0 {
			c = c.With(Cells{int(spans[0].X0), y, int(spans[n-1].X1), y + 1})
		}
		if n := len(parts); n > 0 {
			c = c.With(Cells{int(parts[0].X), y, int(parts[n-1].X) + 1, y + 1})
		}
	}
	return c
}

// Bytes is about how much memory the mask holds.
func (m *Mask) Bytes() int {
	return 8*cap(m.Full) + 16*cap(m.Edge) + 4*(cap(m.full)+cap(m.edge))
}

func (m *Mask) reset(y0 int) {
	m.Y0 = y0
	m.Full, m.Edge = m.Full[:0], m.Edge[:0]
	m.full, m.edge = append(m.full[:0], 0), append(m.edge[:0], 0)
}

func (m *Mask) endRow() {
	m.full = append(m.full, int32(len(m.Full)))
	m.edge = append(m.edge, int32(len(m.Edge)))
}

// The sample places of a cell: eight rows of eight, bit 8*k+i being place i of
// row k. Each row is shifted by a different eighth of a step, so that an upright
// edge meets 64 different places instead of 8. All stand off by a hair more: were
// they on the lattice that outlines are snapped to, two shapes with one edge
// could fall either side of a whole row of them by rounding alone.
const (
	samplesAcross = 8
	sampleHair    = 0.0137 // steps; no whole number of lattice steps at any cell
)

var sampleShift, sampleRow = samplePlaces()

// samplePlaces gives how far row k's first place is from the west side, and the
// row's height over the south side, in steps.
func samplePlaces() (shift, row [samplesAcross]float64) {
	for k := range samplesAcross {
		hair := sampleHair
		if k%2 == 1 {
			hair = -hair
		}
		shift[k] = (float64(5*k%samplesAcross)+0.5)/samplesAcross + hair
		row[k] = float64(k) + 0.5 + hair
	}
	return shift, row
}

// Sample is where in its cell a bit stands: shares of the side, from the west
// and from the south.
func Sample(bit int) (x, y float64) {
	k, i := bit/samplesAcross, bit%samplesAcross
	return (float64(i) + sampleShift[k]) / samplesAcross, sampleRow[k] / samplesAcross
}

// Together is the share of a's samples that b has too, in [0, 1]. When a is so
// thin that it has none, it is b's own share; and when b is as thin, 1: two
// slivers of one cell are taken to lie along the same edge.
func Together(a, b uint64) float64 {
	switch n := bits.OnesCount64(a); {
	case n > 0:
		return float64(bits.OnesCount64(a&b)) / float64(n)
	case b == 0:
		return 1
	default:
		return float64(bits.OnesCount64(b)) / 64
	}
}
