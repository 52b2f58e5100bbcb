package coverage

import (
	"math"

	"evenfall/internal/geom"
)

// disc is the part of the plane that an open sector covers, in cells: a disc, less
// what lies outside a wedge or less what lies inside one. Shares of cells are as
// exact as a line for the rim, but for the ends of the two sides at the rim, where
// hardly any water falls; so it is found several times as fast as by geom.Frame.Fill.
type disc struct {
	cx, cy, r float64
	wedge     wedgeKind
	a, b      side
}

type wedgeKind uint8

const (
	noWedge  wedgeKind = iota
	inWedge            // less than half a turn: inside both sides
	offWedge           // more than that: not inside both sides of what is left out
	oneSide            // half a turn: inside one side, which both are
)

// flatSlope is the least nx of a side: one level to a hair leaves its row by less
// than a thousandth of a cell at the end of any throw.
const flatSlope = 1e-9

// side is one side of a sector, the line through the head: what has nx·dx + ny·dy
// above zero is inside.
type side struct {
	nx, ny float64
	slope  float64 // x of the line for each y
	half   float64 // half the width of a cell across the line
}

// leaving is the side whose inside lies anticlockwise of a direction.
func leaving(deg float64) side {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return sideOf(-sin, cos)
}

// coming is the side whose inside lies clockwise of a direction.
func coming(deg float64) side {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return sideOf(sin, -cos)
}

func sideOf(nx, ny float64) side {
	if math.Abs(nx) < flatSlope {
		nx, ny = flatSlope, math.Copysign(1, ny)
	}
	return side{nx, ny, -ny / nx, (math.Abs(nx) + math.Abs(ny)) / 2}
}

func newDisc(s *setting, f geom.Frame) disc {
	var d disc
	d.cx, d.cy = f.Place(s.at)
	d.r = s.throw / f.Cell
	switch end := s.start + s.sweep; {
	case s.sweep >= 360:
	case s.sweep == 180:
		d.wedge, d.a = oneSide, leaving(s.start)
		d.b = d.a
	case s.sweep < 180:
		d.wedge, d.a, d.b = inWedge, leaving(s.start), coming(end)
	default:
		d.wedge, d.a, d.b = offWedge, leaving(end), coming(s.start)
	}
	return d
}

// cells is columns from x0 to x1.
type cells struct{ x0, x1 int32 }

func (c cells) and(d cells) cells { return cells{max(c.x0, d.x0), min(c.x1, d.x1)} }

// far is a column no frame has.
const far = 1 << 29

func column(x float64) int32 { return int32(min(max(x, -far), far)) }

// row gives the cells of a row that a side has some of, and those it has whole.
func (s *side) row(cx, dy float64) (some, whole cells) {
	lo := cx + dy*s.slope
	hi := lo + s.slope
	if hi < lo {
		lo, hi = hi, lo
	}
	if s.nx > 0 {
		return cells{column(math.Floor(lo)), far}, cells{column(math.Ceil(hi)), far}
	}
	return cells{-far, column(math.Ceil(hi))}, cells{-far, column(math.Floor(lo))}
}

// share is the part of a cell inside a side; dx and dy are of its middle.
func (s *side) share(dx, dy float64) float64 {
	d := s.nx*dx + s.ny*dy
	switch {
	case d >= s.half:
		return 1
	case d <= -s.half:
		return 0
	}
	return halfPlane(math.Abs(s.nx), math.Abs(s.ny), d)
}

// inside is the part of a cell within the wedge of both sides.
func (d *disc) inside(dx, dy float64) float64 {
	a := d.a.share(dx, dy)
	if d.wedge == oneSide {
		return a
	}
	b := d.b.share(dx, dy)
	if a == 0 || b == 0 || a == 1 || b == 1 {
		return a * b
	}
	return d.clip(dx, dy)
}

// clip is inside where both sides cross the cell: exact.
func (d *disc) clip(dx, dy float64) float64 {
	p := [8][2]float64{{dx - 0.5, dy - 0.5}, {dx + 0.5, dy - 0.5}, {dx + 0.5, dy + 0.5}, {dx - 0.5, dy + 0.5}}
	n := 4
	for _, s := range []*side{&d.a, &d.b} {
		var q [8][2]float64
		k := 0
		for i := range n {
			u, v := p[i], p[(i+1)%n]
			du, dv := s.nx*u[0]+s.ny*u[1], s.nx*v[0]+s.ny*v[1]
			if du >= 0 {
				q[k] = u
				k++
			}
			if du >= 0 != (dv >= 0) {
				t := du / (du - dv)
				q[k] = [2]float64{u[0] + t*(v[0]-u[0]), u[1] + t*(v[1]-u[1])}
				k++
			}
		}
		p, n = q, k
	}
	sum := 0.0
	for i := range n {
		j := (i + 1) % n
		sum += p[i][0]*p[j][1] - p[j][0]*p[i][1]
	}
	return sum / 2
}

// rim is the part of a cell within the circle, by the tangent there; u is the square
// of its distance over the throw. What the circle falls off from the tangent is taken
// off on average.
func (d *disc) rim(dx, dy, u float64) float64 {
	v := 1 - u
	within := d.r * v / 2 * (1 + v/4) // r - r·√u, to a thousandth of a cell at the rim
	nx, ny := math.Abs(dx)/d.r, math.Abs(dy)/d.r
	return max(halfPlane(nx, ny, within-1/(24*d.r)), 0)
}

// rows is the first and one past the last row.
func (d *disc) rows() (y0, y1 int) {
	return int(math.Floor(d.cy - d.r)), int(math.Ceil(d.cy + d.r))
}

// chord is half the width of the circle at a height over its middle.
func (d *disc) chord(dy float64) float64 { return math.Sqrt(max(d.r*d.r-dy*dy, 0)) }

// pour lays the whole disc, row by row.
func (d *disc) pour(w *wetting) {
	if w.faint {
		d.pourFaint(w)
		return
	}
	y0, y1 := d.rows()
	below := d.chord(float64(y0) - d.cy)
	for y := y0; y < y1; y++ {
		dy := float64(y) - d.cy
		above := d.chord(dy + 1)
		outer, inner := max(below, above), min(below, above)
		if dy < 0 && dy+1 > 0 {
			outer = d.r
		}
		below = above
		all := cells{column(math.Floor(d.cx - outer)), column(math.Ceil(d.cx + outer))}
		full := cells{column(math.Ceil(d.cx - inner)), column(math.Floor(d.cx + inner))}
		if full.x0 >= full.x1 {
			full = cells{all.x1, all.x1}
		}
		w.open(y)
		d.lay(w, dy, all, full)
	}
}

// pourFaint lays a disc whose profile falls off to nothing, so that its rim needs no
// care: the cells whose middles it holds count as within it. That is off by a 24th of
// a cell's fall for every cell of the rim, a thousandth of the water of a throw of
// twelve cells, and as much again where the rim is cut by tangents.
func (d *disc) pourFaint(w *wetting) {
	y0, y1 := d.rows()
	for y := y0; y < y1; y++ {
		dy := float64(y) - d.cy
		half := d.r*d.r - (dy+0.5)*(dy+0.5)
		if half <= 0 {
			continue
		}
		half = math.Sqrt(half)
		all := cells{int32(math.Ceil(d.cx - half - 0.5)), int32(math.Floor(d.cx+half-0.5)) + 1}
		if all.x0 >= all.x1 {
			continue
		}
		w.open(y)
		d.lay(w, dy, all, all)
	}
}

// lay lays one row: all its cells, and those within the circle whole.
func (d *disc) lay(w *wetting, dy float64, all, full cells) {
	if d.wedge == noWedge {
		d.piece(w, dy, all, full, false)
		return
	}
	some, whole := d.a.row(d.cx, dy)
	if d.wedge != oneSide {
		s, o := d.b.row(d.cx, dy)
		some, whole = some.and(s), whole.and(o)
	}
	if some.x0 >= some.x1 {
		if d.wedge == offWedge {
			d.piece(w, dy, all, full, false)
		}
		return
	}
	if whole.x0 >= whole.x1 {
		whole = cells{some.x1, some.x1}
	}
	if d.wedge != offWedge {
		d.piece(w, dy, all.and(cells{some.x0, whole.x0}), full, true)
		d.piece(w, dy, all.and(whole), full, false)
		d.piece(w, dy, all.and(cells{whole.x1, some.x1}), full, true)
		return
	}
	d.piece(w, dy, all.and(cells{-far, some.x0}), full, false)
	d.piece(w, dy, all.and(cells{some.x0, whole.x0}), full, true)
	d.piece(w, dy, all.and(cells{whole.x1, some.x1}), full, true)
	d.piece(w, dy, all.and(cells{some.x1, far}), full, false)
}

// piece lays some cells of a row; of those within the circle whole only the sides
// take anything, if they do.
func (d *disc) piece(w *wetting, dy float64, c, full cells, sides bool) {
	if c.x0 >= c.x1 {
		return
	}
	d.parts(w, dy, c.and(cells{-far, full.x0}), true, sides)
	if in := c.and(full); in.x0 < in.x1 {
		if sides {
			d.parts(w, dy, in, false, true)
		} else {
			w.span(geom.Span{X0: in.x0, X1: in.x1})
		}
	}
	d.parts(w, dy, c.and(cells{full.x1, far}), true, sides)
}

// parts lays cells that the rim or a side may cross. Where a profile falls off to
// nothing those whose middle lies past the rim get nothing to speak of.
func (d *disc) parts(w *wetting, dy float64, c cells, rim, sides bool) {
	if c.x0 >= c.x1 {
		return
	}
	q, dq := w.line.at(int(c.x0))
	for x := c.x0; x < c.x1; x++ {
		u := q
		q += dq
		dq += w.line.ddq
		if rim && u >= one && w.faint {
			continue
		}
		mx, my := float64(x)+0.5-d.cx, dy+0.5
		share := 1.0
		if sides {
			if share = d.inside(mx, my); d.wedge == offWedge {
				share = 1 - share
			}
		}
		if rim && share > 0 {
			share *= d.rim(mx, my, float64(u)/one)
		}
		if size := int32(share * geom.Whole); size > 1 {
			w.part(geom.Part{X: x, Share: min(size, geom.Whole-1)}, w.rate(w.table.rim(u)), d)
		}
	}
}
