package coverage

import (
	"math"
	"math/bits"

	"evenfall/internal/geom"
)

// windswept is the rates of one head in the wind, one for each cell of a
// rectangle of the frame. Wind breaks the symmetry that the tables of calm air
// live by, so every cell is worked out by itself; that is done on request, never
// while something is dragged.
type windswept struct {
	cells geom.Cells
	rates []int32
	least int32 // from which a cell counts as reached
}

// row gives the rates of a row from column x0 on.
func (w *windswept) row(y int) (rates []int32, x0 int) {
	n := w.cells.X1 - w.cells.X0
	return w.rates[(y-w.cells.Y0)*n:][:n], w.cells.X0
}

// at is the rate of a cell of the head's footprint.
func (w *windswept) at(x, y int) int32 {
	rates, x0 := w.row(y)
	return rates[x-x0]
}

// sweep works out the rates of a head over its footprint: the table of its
// profile at u = (s/R)², times s/√(X²+(1-δ²)Y²); see drift.
func (w *windswept) sweep(s *shower, f geom.Frame) {
	w.cells = s.mask.Bound()
	w.least = int32(math.Ceil(reachShare * float64(s.rate.peak())))
	n := (w.cells.X1 - w.cells.X0) * (w.cells.Y1 - w.cells.Y0)
	if cap(w.rates) < n {
		w.rates = make([]int32, n)
	}
	w.rates = w.rates[:n]
	for i := range s.mask.Rows() {
		y := s.mask.Y0 + i
		if spans, _ := s.mask.Row(i); len(spans) > 0 {
			rates, x0 := w.row(y)
			for _, p := range spans {
				s.blow(rates[int(p.X0)-x0:int(p.X1)-x0], f, int(p.X0), y)
			}
		}
	}
	w.refine(s, f)
	for i := range s.mask.Rows() {
		y := s.mask.Y0 + i
		if _, parts := s.mask.Row(i); len(parts) > 0 {
			rates, x0 := w.row(y)
			for _, p := range parts {
				rates[int(p.X)-x0] = s.rimRate(p, f, y)
			}
		}
	}
}

// blow fills a run of cells of row y from column x on.
func (s *shower) blow(rates []int32, f geom.Frame, x, y int) {
	cx, cy := f.Place(s.at)
	py := float64(y) + 0.5 - cy
	px := float64(x) + 0.5 - cx
	if s.isStrip {
		for i := range rates {
			rates[i] = int32(s.rateAt(px+float64(i), py, f.Cell) + 0.5)
		}
		return
	}
	d := s.air
	k := 1 / d.rest()
	toU := f.Cell / s.throw
	toU = toU * toU * live // cells thrown, squared, to places of the table
	across, along, far := d.dx*py, d.dy*py, py*py
	t := s.rate
	for i := range rates {
		c := across - d.dy*px
		spread := math.Sqrt(px*px + far - c*c)
		thrown := (spread - d.dx*px - along) * k
		at := min(int(thrown*thrown*toU), live-1)
		rates[i] = int32(float64(t[at])*thrown/spread + 0.5)
		px++
	}
}

// rateAt is the rate at (x, y) cells from the head, in steps of the grid. A strip
// falls off along its length alone.
func (s *shower) rateAt(x, y, cell float64) float64 {
	spread := s.air.spread(x, y)
	if spread < 1e-6 {
		return 0
	}
	thrown := (spread - s.air.dx*x - s.air.dy*y) / s.air.rest()
	far := thrown
	if s.isStrip {
		sin, cos := math.Sincos(s.start * math.Pi / 180)
		far = (x-thrown*s.air.dx)*cos + (y-thrown*s.air.dy)*sin
	}
	u := far * cell / s.throw
	return float64(s.rate[min(int(u*u*live), live-1)]) * thrown / spread
}

// rimSamples is how many of a part cell's sample places are looked at: its middle
// may be dry, and into the wind the rate falls off so steeply that it would not
// stand for the part that is wet. Chosen: it keeps a head's water to 1e-3 in the
// strongest wind.
const rimSamples = 8

// rimRate is the mean rate over the wet part of a cell of row y.
func (s *shower) rimRate(p geom.Part, f geom.Frame, y int) int32 {
	cx, cy := f.Place(s.at)
	cx, cy = float64(p.X)-cx, float64(y)-cy
	n := bits.OnesCount64(p.Bits)
	if n == 0 {
		return int32(s.rateAt(cx+0.5, cy+0.5, f.Cell) + 0.5)
	}
	take := min(n, rimSamples)
	if max(math.Abs(cx+0.5), math.Abs(cy+0.5)) < fineCells+1 {
		take = n
	}
	sum, left, due := 0.0, p.Bits, n/(2*take)
	for k := range take {
		for ; due > 0; due-- {
			left &= left - 1
		}
		x, y := geom.Sample(bits.TrailingZeros64(left))
		sum += s.rateAt(cx+x, cy+y, f.Cell)
		due = (k+1)*n/take - k*n/take
	}
	return int32(sum/float64(take) + 0.5)
}

// Near the head the rate jumps from one direction to the next, so the cells about
// it are the mean of finer ones.
const (
	fineCells = 5 // each way from the head's own
	fineParts = 3 // finer cells along a side: odd, so that none has its corner on the head
)

func (w *windswept) refine(s *shower, f geom.Frame) {
	cx, cy := f.Place(s.at)
	hx, hy := int(math.Floor(cx)), int(math.Floor(cy))
	for y := max(hy-fineCells, w.cells.Y0); y <= min(hy+fineCells, w.cells.Y1-1); y++ {
		rates, x0 := w.row(y)
		for x := max(hx-fineCells, w.cells.X0); x <= min(hx+fineCells, w.cells.X1-1); x++ {
			rates[x-x0] = int32(s.meanRate(float64(x)-cx, float64(y)-cy, f.Cell) + 0.5)
		}
	}
}

// meanRate is the mean over a cell whose south-west corner stands (x, y) cells
// from the head.
func (s *shower) meanRate(x, y, cell float64) float64 {
	sum := 0.0
	for i := range fineParts {
		for j := range fineParts {
			sum += s.rateAt(x+(float64(i)+0.5)/fineParts, y+(float64(j)+0.5)/fineParts, cell)
		}
	}
	return sum / (fineParts * fineParts)
}

// pourSwept adds a head's rates in the wind (sign +1) or takes them away (-1),
// and counts it where it reaches.
func (g *grid) pourSwept(s *shower, sign int32, count bool) {
	g.rows(s, func(y int, _ row, spans []geom.Span, parts []geom.Part) {
		if len(spans)+len(parts) == 0 {
			return
		}
		rates, x0 := s.swept.row(y)
		line := g.rate[y*g.frame.NX : (y+1)*g.frame.NX]
		reach := g.reach[y*g.frame.NX : (y+1)*g.frame.NX]
		for _, p := range spans {
			for x := max(int(p.X0), 0); x < min(int(p.X1), g.frame.NX); x++ {
				v := rates[x-x0]
				line[x] += sign * v
				if count && v >= s.swept.least {
					reach[x] += sign
				}
			}
		}
		for _, p := range parts {
			x := int(p.X)
			if x < 0 || x >= g.frame.NX {
				continue
			}
			v := rates[x-x0]
			line[x] += sign * portion(v, p.Share)
			if count && p.Share >= half && v >= s.swept.least {
				reach[x] += sign
			}
		}
	})
}

// rimAt is the rate of a part cell of the head's footprint.
func (s *shower) rimAt(r *row, x, y int) int32 {
	if s.swept != nil {
		return s.swept.at(x, y)
	}
	q, _ := r.at(x)
	return s.rate.rim(q)
}

// sumOf is what the head gives to n whole cells of a row from column x on.
func (s *shower) sumOf(r *row, x, y, n int) float64 {
	if s.swept == nil {
		q, dq := r.at(x)
		return float64(s.rate.sum(n, q, dq, r.ddq))
	}
	rates, x0 := s.swept.row(y)
	sum := int64(0)
	for _, v := range rates[x-x0:][:n] {
		sum += int64(v)
	}
	return float64(sum)
}
