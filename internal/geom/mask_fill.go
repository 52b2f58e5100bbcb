package geom

import (
	"math"
	"math/bits"
	"sync"

	"github.com/paulmach/orb"
)

// Fill makes dst the part of the rings inside the frame. One ring may run either
// way. Of several, those that add ground run one way and those that take it away
// (holes) the other; rings that add must not overlap.
//
// The method is exact area accumulation, as outline fonts are drawn: each edge
// adds, to the cell it passes, the signed area on its east side, and to all cells
// east of it its signed height. A running sum along the row is then the share.
func (f Frame) Fill(dst *Mask, rings ...orb.Ring) {
	f.fill(dst, f.Around(boundOf(rings)).Within(f), rings)
}

// FillWhole is Fill without the frame's borders: cells outside it are kept, with
// numbers below zero or beyond NX and NY.
func (f Frame) FillWhole(dst *Mask, rings ...orb.Ring) {
	f.fill(dst, f.Around(boundOf(rings)), rings)
}

func boundOf(rings []orb.Ring) orb.Bound {
	b, any := orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{-1, -1}}, false
	for _, r := range rings {
		switch {
		case len(r) == 0:
		case !any: // an empty bound cannot be extended: it is not a neutral element
			b, any = r.Bound(), true
		default:
			b = b.Union(r.Bound())
		}
	}
	return b
}

// bandCells bounds the scratch of a fill: taller masks are made in bands.
const bandCells = 1 << 18

func (f Frame) fill(dst *Mask, c Cells, rings []orb.Ring) {
	dst.reset(c.Y0)
	if c.Empty() {
		return
	}
	s := scratches.Get().(*scratch)
	defer scratches.Put(s)
	step := max(bandCells/(c.X1-c.X0), 1)
	for y := c.Y0; y < c.Y1; y += step {
		band := Cells{c.X0, y, c.X1, min(y+step, c.Y1)}
		s.open(band)
		for _, r := range rings {
			s.ring(f, r)
		}
		s.sweep(dst)
	}
}

// scratch is the accumulation of one band. All slices are zero between uses.
type scratch struct {
	x0, y0     int
	w, h       int       // cells
	stride     int       // w and the cells just past it
	area       []float64 // change of share along the row
	part       []uint64  // sample bits flipped in this cell only
	flip       []uint64  // sample rows flipped from this cell on
	touched    []uint64  // bit x of row: something above is not zero
	wordsAcros int
}

var scratches = sync.Pool{New: func() any { return new(scratch) }}

func (s *scratch) open(c Cells) {
	s.x0, s.y0, s.w, s.h = c.X0, c.Y0, c.X1-c.X0, c.Y1-c.Y0
	s.stride = s.w + 2
	s.wordsAcros = (s.stride + 63) / 64
	if n := s.stride * s.h; cap(s.area) < n {
		s.area, s.part, s.flip = make([]float64, n), make([]uint64, n), make([]uint64, n)
	}
	if n := s.wordsAcros * s.h; cap(s.touched) < n {
		s.touched = make([]uint64, n)
	}
	s.area = s.area[:cap(s.area)]
	s.part, s.flip = s.part[:cap(s.part)], s.flip[:cap(s.flip)]
	s.touched = s.touched[:cap(s.touched)]
}

func (s *scratch) ring(f Frame, r orb.Ring) {
	if len(r) < 3 {
		return
	}
	place := func(p orb.Point) (x, y float64) {
		x, y = f.Place(p)
		return x - float64(s.x0), y - float64(s.y0)
	}
	x0, y0 := place(r[len(r)-1])
	for _, p := range r {
		x1, y1 := place(p)
		if y0 < y1 {
			s.edge(x0, y0, x1, y1, -1)
		} else if y1 < y0 {
			s.edge(x1, y1, x0, y0, 1)
		}
		x0, y0 = x1, y1
	}
}

// edge adds an edge that rises from (x0, y0) to (x1, y1), in cells of the band;
// sign is +1 when the ring runs down it, so that a ring that turns
// anticlockwise counts as ground.
func (s *scratch) edge(x0, y0, x1, y1, sign float64) {
	if y1 <= 0 || y0 >= float64(s.h) {
		return
	}
	slope := (x1 - x0) / (y1 - y0)
	lo, hi := max(y0, 0), min(y1, float64(s.h))
	at := func(y float64) float64 { return x0 + float64((y-y0)*slope) }
	xa, ya := at(lo), lo
	for row := int(lo); row < s.h && ya < hi; row++ {
		yb := min(float64(row+1), hi)
		xb := x1
		if yb < y1 {
			xb = at(yb)
		}
		s.step(row, xa, xb, sign*(yb-ya))
		xa, ya = xb, yb
	}
	s.samples(y0, lo, hi, at)
}

// step adds the piece of an edge inside one row, of height d, from xa to xb.
func (s *scratch) step(row int, xa, xb, d float64) {
	l, r := min(xa, xb), max(xa, xb)
	w := float64(s.w)
	if l >= w {
		return
	}
	if r > w { // past the east side nothing is counted
		d *= (w - l) / (r - l)
		r = w
	}
	if l < 0 { // west of the band: all of its height counts from cell 0 on
		west := d
		if r > 0 {
			west = d * (-l) / (r - l)
		}
		s.add(row, 0, west, 1)
		if r <= 0 {
			return
		}
		d -= west
		l = 0
	}
	first, last := int(l), int(r)
	if first == last || r == l {
		s.add(row, first, d, 1-((l+r)/2-float64(first)))
		return
	}
	per := d / (r - l)
	for x := first; x <= last; x++ {
		a, b := max(l, float64(x)), min(r, float64(x+1))
		if b > a {
			s.add(row, x, per*(b-a), 1-((a+b)/2-float64(x)))
		}
	}
}

// add puts height d into cell x of which the share e lies east of the edge.
func (s *scratch) add(row, x int, d, e float64) {
	i := row*s.stride + x
	s.area[i] += d * e
	s.area[i+1] += d - d*e
	s.touch(row, x)
}

func (s *scratch) touch(row, x int) {
	w := row * s.wordsAcros
	s.touched[w+x>>6] |= 1 << (x & 63)
	x++
	s.touched[w+x>>6] |= 1 << (x & 63)
}

// samples flips, on every sample row the edge crosses, the places east of it.
func (s *scratch) samples(y0, lo, hi float64, at func(float64) float64) {
	first := int(math.Ceil(lo*samplesAcross - 0.5))
	for k := max(first, 0); ; k++ {
		y := (float64(k) + 0.5) / samplesAcross
		if y >= hi {
			return
		}
		if y < y0 {
			continue
		}
		s.cross(k/samplesAcross, k%samplesAcross, at(y))
	}
}

func (s *scratch) cross(row, k int, x float64) {
	if x >= float64(s.w) {
		return
	}
	line := uint64(0xFF) << (8 * k)
	i := row * s.stride
	if x < 0 {
		s.flip[i] ^= line
		s.touch(row, 0)
		return
	}
	cell := int(x)
	west := (x-float64(cell))*samplesAcross - sampleShift[k] // places at or west of it
	n := min(int(west)+1, samplesAcross)
	if west < 0 {
		n = 0
	}
	s.part[i+cell] ^= line & (line << n)
	s.flip[i+cell+1] ^= line
	s.touch(row, cell)
}

// The share at which a cell counts as empty or whole: the rounding of the sums
// is far below it.
const sliver = 1.0 / Whole

// sweep turns the sums into rows of the mask and leaves the scratch zero.
func (s *scratch) sweep(dst *Mask) {
	for row := range s.h {
		share, carry, x := 0.0, uint64(0), 0
		base := row * s.stride
		words := s.touched[row*s.wordsAcros : (row+1)*s.wordsAcros]
		for wi, word := range words {
			words[wi] = 0
			for ; word != 0; word &= word - 1 {
				t := wi<<6 + bits.TrailingZeros64(word)
				dst.run(s.x0, x, min(t, s.w), share, carry)
				i := base + t
				share += s.area[i]
				carry ^= s.flip[i]
				dst.run(s.x0, t, min(t+1, s.w), share, carry^s.part[i])
				s.area[i], s.flip[i], s.part[i] = 0, 0, 0
				x = t + 1
			}
		}
		dst.run(s.x0, x, s.w, share, carry)
		dst.endRow()
	}
}

// run adds cells [from, to) of one share to the current row.
func (m *Mask) run(x0, from, to int, share float64, samples uint64) {
	if from >= to {
		return
	}
	share = math.Abs(share)
	if share <= sliver {
		return
	}
	if share >= 1-sliver {
		a, b := int32(x0+from), int32(x0+to)
		if n := len(m.Full); n > int(m.full[len(m.full)-1]) && m.Full[n-1].X1 == a {
			m.Full[n-1].X1 = b
			return
		}
		m.Full = append(m.Full, Span{a, b})
		return
	}
	part := Part{Share: int32(math.Round(share * Whole)), Bits: samples}
	for x := from; x < to; x++ {
		part.X = int32(x0 + x)
		m.Edge = append(m.Edge, part)
	}
}
