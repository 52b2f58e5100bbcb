package stakeout

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// piece is a straight piece of what no tape goes through.
type piece struct{ a, b orb.Point }

// walls are such pieces, by squares of ground.
type walls struct {
	list []piece
	lo   orb.Point
	cell float64
	wide int
	high int
	at   [][]int32 // pieces by square, row by row
}

// mostSquares bounds the squares to a side; a plan may span miles. Chosen.
const mostSquares = 192

// wallsOf gathers buildings, walls, fences, hedges and trunks. Those that are new count
// as well: they may be up before the flags are, and those to be removed may not be gone.
func wallsOf(p *plan.Plan, g *ground) *walls {
	w := &walls{}
	for _, a := range g.buildings {
		for _, ring := range a.poly {
			w.line(orb.LineString(ring))
		}
	}
	for _, id := range plan.SortedIDs(p.Barriers) {
		w.line(p.Barriers[id].Line.Points())
	}
	for _, id := range plan.SortedIDs(p.Trees) {
		t := p.Trees[id]
		x, y, r := float64(t.X), float64(t.Y), float64(t.TrunkIn)/24
		w.line(orb.LineString{{x - r, y}, {x + r, y}})
		w.line(orb.LineString{{x, y - r}, {x, y + r}})
	}
	w.index()
	return w
}

func (w *walls) line(ls orb.LineString) {
	for i := 0; i+1 < len(ls); i++ {
		if ls[i] != ls[i+1] {
			w.list = append(w.list, piece{ls[i], ls[i+1]})
		}
	}
}

func (w *walls) index() {
	if len(w.list) == 0 {
		return
	}
	lo, hi := w.list[0].a, w.list[0].a
	for _, s := range w.list {
		for k := range 2 {
			lo[k] = min(lo[k], s.a[k], s.b[k])
			hi[k] = max(hi[k], s.a[k], s.b[k])
		}
	}
	w.lo = lo
	w.cell = max(8, max(hi[0]-lo[0], hi[1]-lo[1])/mostSquares)
	w.wide, w.high = int((hi[0]-lo[0])/w.cell)+1, int((hi[1]-lo[1])/w.cell)+1
	w.at = make([][]int32, w.wide*w.high)
	for i, s := range w.list {
		w.along(s.a, s.b, func(k int) bool {
			w.at[k] = append(w.at[k], int32(i))
			return true
		})
	}
}

// along visits the squares a segment runs through, and some beside it, until visit says
// to stop.
func (w *walls) along(a, b orb.Point, visit func(int) bool) {
	if a[0] > b[0] {
		a, b = b, a
	}
	col := func(x float64) int { return int(math.Floor((x - w.lo[0]) / w.cell)) }
	row := func(y float64) int { return int(math.Floor((y - w.lo[1]) / w.cell)) }
	const slack = 1e-6
	for c := max(col(a[0]-slack), 0); c <= min(col(b[0]+slack), w.wide-1); c++ {
		y0, y1 := a[1], b[1]
		if b[0]-a[0] > slack {
			left, right := w.lo[0]+float64(c)*w.cell, w.lo[0]+float64(c+1)*w.cell
			at := func(x float64) float64 {
				return a[1] + (b[1]-a[1])*(min(max(x, a[0]), b[0])-a[0])/(b[0]-a[0])
			}
			y0, y1 = at(left), at(right)
		}
		if y0 > y1 {
			y0, y1 = y1, y0
		}
		for r := max(row(y0-slack), 0); r <= min(row(y1+slack), w.high-1); r++ {
			if !visit(r*w.wide + c) {
				return
			}
		}
	}
}

// endFree is how much of both ends of a tape may touch a wall, in feet: it is held to a
// corner, or beside a fence.
const endFree = 0.02

// sees reports whether a tape runs from one place to the other. One that scrapes a corner
// does not; one that lies along a wall does.
func (w *walls) sees(a, b orb.Point) bool {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	if len(w.list) == 0 || l <= 3*endFree {
		return true
	}
	t := endFree / l
	p := orb.Point{a[0] + (b[0]-a[0])*t, a[1] + (b[1]-a[1])*t}
	q := orb.Point{b[0] - (b[0]-a[0])*t, b[1] - (b[1]-a[1])*t}
	free := true
	w.along(p, q, func(k int) bool {
		for _, i := range w.at[k] {
			if w.list[i].stops(p, q) {
				free = false
				return false
			}
		}
		return true
	})
	return free
}

// stops reports whether a piece and the segment pq have a place in common, unless they
// lie on one line.
func (s piece) stops(p, q orb.Point) bool {
	if max(p[0], q[0]) < min(s.a[0], s.b[0]) || min(p[0], q[0]) > max(s.a[0], s.b[0]) ||
		max(p[1], q[1]) < min(s.a[1], s.b[1]) || min(p[1], q[1]) > max(s.a[1], s.b[1]) {
		return false
	}
	d1, d2 := cross(s.a, s.b, p), cross(s.a, s.b, q)
	if d1 == 0 && d2 == 0 {
		return false
	}
	d3, d4 := cross(p, q, s.a), cross(p, q, s.b)
	return between(d1, d2) && between(d3, d4)
}

// between reports whether two values do not lie on one side of nought.
func between(a, b float64) bool { return a <= 0 && b >= 0 || a >= 0 && b <= 0 }

// cross is twice the area of abc: above 0 where c is left of ab.
func cross(a, b, c orb.Point) float64 {
	return float64((b[0]-a[0])*(c[1]-a[1])) - float64((b[1]-a[1])*(c[0]-a[0]))
}

func apart(a, b orb.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
