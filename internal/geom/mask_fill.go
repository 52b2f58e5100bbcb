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

// scratch is the accumulation of one band. All of it is zero between uses.
type scratch struct {
	x0, y0  int
	w, h    int    // cells
	stride  int    // w and the cells just past it
	cells   []sums // by row
	words   int    // of touched for each row
	touched []uint64
}

// sums is what edges left in one cell.
type sums struct {
	area float64 // change of share along the row
	part uint64  // sample bits flipped in this cell only
	flip uint64  // sample rows flipped from this cell on
}

var scratches = sync.Pool{New: func() any { return new(scratch) }}

func (s *scratch) open(c Cells) {
	s.x0, s.y0, s.w, s.h = c.X0, c.Y0, c.X1-c.X0, c.Y1-c.Y0
	s.stride = s.w + 2
	s.words = (s.stride + 63) / 64
	if n := s.stride * s.h; len(s.cells) < n {
		s.cells = make([]sums, n)
	}
	if n := s.words * s.h; len(s.touched) < n {
		s.touched = make([]uint64, n)
	}
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
	xa, ya := x0+float64((lo-y0)*slope), lo
	for row := int(lo); row < s.h && ya < hi; row++ {
		yb := min(float64(row+1), hi)
		xb := x1
		if yb < y1 {
			xb = x0 + float64((yb-y0)*slope)
		}
		// The sample rows in [ya, yb).
		k0 := firstSample(ya - float64(row))
		k1 := firstSample(yb - float64(row))
		cell := int(xa)
		if xa >= 0 && xb >= float64(cell) && xa < float64(cell+1) && xb < float64(cell+1) && cell < s.w {
			c := s.cells[row*s.stride+cell:][:2]
			s.touch(row, cell)
			d := sign * (yb - ya)
			in := d * (1 - ((xa+xb)/2 - float64(cell)))
			c[0].area += in
			c[1].area += d - in
			if k0 < k1 {
				at := x0 + float64((float64(row)-y0)*slope) - float64(cell)
				part, flip := crossings(k0, k1, at*samplesAcross, slope)
				c[0].part ^= part
				c[1].flip ^= flip
			}
		} else {
			s.step(row, xa, xb, sign*(yb-ya))
			for k := k0; k < k1; k++ {
				y := float64(row) + sampleRow[k]/samplesAcross
				s.cross(row, k, x0+float64((y-y0)*slope))
			}
		}
		xa, ya = xb, yb
	}
}

// firstSample is the first sample row of a cell at or above a height, in [0, 8].
func firstSample(y float64) int {
	v := y * samplesAcross
	k := max(int(v), 0)
	if k < samplesAcross && sampleRow[k] < v {
		k++
	}
	return min(k, samplesAcross)
}

// crossings are the sample bits of a cell that an edge inside it flips on rows
// k0 to k1: those east of it, and the rows it crosses. at is where the edge
// meets the south side, in steps from the west; slope is its run over its rise.
func crossings(k0, k1 int, at, slope float64) (part, flip uint64) {
	for k := k0; k < k1; k++ {
		west := at + float64(sampleRow[k&7]*slope) - sampleShift[k&7]
		n := min(max(int(west+1), 0), samplesAcross)
		line := uint64(0xFF) << (8 * k & 63)
		flip |= line
		part |= line & (line << (n & 63))
	}
	return part, flip
}

// step adds the piece of an edge inside one row, of height d, from xa to xb.
func (s *scratch) step(row int, xa, xb, d float64) {
	l, r := min(xa, xb), max(xa, xb)
	if l < 0 || r >= float64(s.w) {
		var ok bool
		if l, r, d, ok = s.clip(row, l, r, d); !ok {
			return
		}
	}
	first, last := int(l), int(r)
	if first == last {
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

// clip cuts a piece to the band. Past the east side nothing is counted; west of
// it all of the height counts from cell 0 on.
func (s *scratch) clip(row int, l, r, d float64) (float64, float64, float64, bool) {
	w := float64(s.w)
	if l >= w {
		return 0, 0, 0, false
	}
	if r > w {
		d *= (w - l) / (r - l)
		r = w
	}
	if l < 0 {
		west := d
		if r > 0 {
			west = d * (-l) / (r - l)
		}
		s.add(row, 0, west, 1)
		if r <= 0 {
			return 0, 0, 0, false
		}
		d -= west
		l = 0
	}
	return l, r, d, true
}

// add puts height d into cell x of which the share e lies east of the edge.
func (s *scratch) add(row, x int, d, e float64) {
	c := s.cells[row*s.stride+x:][:2]
	in := d * e
	c[0].area += in
	c[1].area += d - in
	s.touch(row, x)
}

// touch marks a cell and the one east of it.
func (s *scratch) touch(row, x int) {
	t := s.touched[row*s.words : (row+1)*s.words]
	t[x>>6] |= 1 << (x & 63)
	t[(x+1)>>6] |= 1 << ((x + 1) & 63)
}

// cross flips, on sample row k of a row, the places east of x.
func (s *scratch) cross(row, k int, x float64) {
	if x >= float64(s.w) {
		return
	}
	line := uint64(0xFF) << (8 * k)
	i := row * s.stride
	if x < 0 {
		s.cells[i].flip ^= line
		s.touch(row, 0)
		return
	}
	cell := int(x)
	west := (x-float64(cell))*samplesAcross - sampleShift[k] // places at or west of it
	n := min(int(west+1), samplesAcross)
	s.cells[i+cell].part ^= line & (line << n)
	s.cells[i+cell+1].flip ^= line
	s.touch(row, cell)
}

// The share at which a cell counts as empty or whole: the rounding of the sums
// is far below it.
const sliver = 1.0 / Whole

// sweep turns the sums into rows of the mask and leaves the scratch zero.
func (s *scratch) sweep(dst *Mask) {
	for row := range s.h {
		share, carry, x := 0.0, uint64(0), 0
		cells := s.cells[row*s.stride : (row+1)*s.stride]
		words := s.touched[row*s.words : (row+1)*s.words]
		for wi, word := range words {
			words[wi] = 0
			for ; word != 0; word &= word - 1 {
				t := wi<<6 + bits.TrailingZeros64(word)
				if x < t {
					dst.run(s.x0, x, min(t, s.w), share, carry)
				}
				c := &cells[t]
				share += c.area
				carry ^= c.flip
				if t < s.w {
					dst.run(s.x0, t, t+1, share, carry^c.part)
				}
				*c = sums{}
				x = t + 1
			}
		}
		if x < s.w {
			dst.run(s.x0, x, s.w, share, carry)
		}
		dst.endRow()
	}
}

// run adds cells [from, to) of one share to the current row.
func (m *Mask) run(x0, from, to int, share float64, samples uint64) {
	share = math.Abs(share)
	if share <= sliver || from >= to {
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
	part := Part{Share: int32(share*Whole + 0.5), Bits: samples}
	for x := from; x < to; x++ {
		part.X = int32(x0 + x)
		m.Edge = append(m.Edge, part)
	}
}
