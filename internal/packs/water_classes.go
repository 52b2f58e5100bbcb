package packs

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/drawing"
)

// mapSpots are the connected grounds of one class each, so that a number can be put
// well inside of every one.
type mapSpots struct {
	part []int32  // of each cell: the ground it belongs to; -1 where there is no class
	deep []uint16 // of each cell: how many cells it is from the edge of its ground, diagonals counting as one
}

// classSpots finds them, once for all pages.
func (m *waterMap) classSpots() *mapSpots {
	if m.spots != nil {
		return m.spots
	}
	nx, ny := m.frame.NX, m.frame.NY
	s := &mapSpots{part: make([]int32, nx*ny), deep: make([]uint16, nx*ny)}
	for i := range s.part {
		s.part[i] = -1
	}
	next, stack := int32(0), []int(nil)
	for i, b := range m.cells {
		if s.part[i] >= 0 || classOf(b) == 0 {
			continue
		}
		k := classOf(b)
		s.part[i] = next
		for stack = append(stack[:0], i); len(stack) > 0; {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x := at % nx
			for _, to := range [4]int{at - 1, at + 1, at - nx, at + nx} {
				if to < 0 || to >= len(s.part) || to == at-1 && x == 0 || to == at+1 && x == nx-1 {
					continue
				}
				if s.part[to] < 0 && classOf(m.cells[to]) == k {
					s.part[to] = next
					stack = append(stack, to)
				}
			}
		}
		next++
	}
	s.sound(nx, ny)
	m.spots = s
	return s
}

// sound works out how deep cells lie, in two passes over the raster.
func (s *mapSpots) sound(nx, ny int) {
	near := func(at, x, y, dx, dy int) uint16 {
		if x+dx < 0 || x+dx >= nx || y+dy < 0 || y+dy >= ny || s.part[at+dy*nx+dx] != s.part[at] {
			return 0
		}
		return s.deep[at+dy*nx+dx]
	}
	pass := func(at, x, y, way int, least uint16) {
		if s.part[at] < 0 {
			return
		}
		for _, d := range [4][2]int{{-1, 0}, {-1, -1}, {0, -1}, {1, -1}} {
			least = min(least, near(at, x, y, way*d[0], way*d[1])+1)
		}
		s.deep[at] = least
	}
	const far = 1 << 15
	for y := range ny {
		for x := range nx {
			pass(y*nx+x, x, y, 1, far)
		}
	}
	for y := ny - 1; y >= 0; y-- {
		for x := nx - 1; x >= 0; x-- {
			pass(y*nx+x, x, y, -1, s.deep[y*nx+x])
		}
	}
}

// Numbers of classes on the map, points: their size, how far their ground must reach
// about them, and how far apart two stand in one ground. Chosen.
const (
	numberSize  = 6.0
	numberClear = 3.4
	numberApart = 70.0
	numberSeek  = 12.0 // a place is sought in squares of this side
)

// numbers are the numbers of the classes that a view shows, on the page, each inside
// its ground and clear of what is taken. Ground as the mean has none: it is pale.
func (m *waterMap) numbers(v *drawing.View, k float64, taken []orb.Bound) []drawing.Item {
	s := m.classSpots()
	c := m.shown(orb.Bound{Min: v.ToGround(v.Box.Min), Max: v.ToGround(v.Box.Max)})
	type square struct{ part, x, y int32 }
	best := map[square]int{}
	perCell := m.frame.Cell * v.PerFoot
	var order []square
	for y := c.Y0; y < c.Y1; y++ {
		for x := c.X0; x < c.X1; x++ {
			i := y*m.frame.NX + x
			if n := classOf(m.cells[i]); n == 0 || n == unnumbered || (float64(s.deep[i])-0.5)*perCell < numberClear*k {
				continue
			}
			q := square{s.part[i], int32(float64(x) * perCell / (numberSeek * k)), int32(float64(y) * perCell / (numberSeek * k))}
			old, seen := best[q]
			if !seen {
				order = append(order, q)
			}
			if !seen || s.deep[i] > s.deep[old] {
				best[q] = i
			}
		}
	}
	slices.SortFunc(order, func(a, b square) int {
		return cmp.Or(cmp.Compare(a.part, b.part), cmp.Compare(s.deep[best[b]], s.deep[best[a]]), cmp.Compare(best[a], best[b]))
	})
	var out []drawing.Item
	var placed []orb.Point
	part := int32(-1)
	for _, q := range order {
		if q.part != part {
			part, placed = q.part, placed[:0]
		}
		i := best[q]
		at := v.ToPage(m.frame.Middle(i%m.frame.NX, i/m.frame.NX))
		if slices.ContainsFunc(placed, func(o orb.Point) bool { return math.Hypot(o[0]-at[0], o[1]-at[1]) < numberApart*k }) {
			continue
		}
		half := numberClear * k
		room := orb.Bound{Min: orb.Point{at[0] - half, at[1] - half}, Max: orb.Point{at[0] + half, at[1] + half}}
		if !holds(v.Box, room) || slices.ContainsFunc(taken, func(t orb.Bound) bool { return t.Intersects(room) }) {
			continue
		}
		placed = append(placed, at)
		size := numberSize * k
		out = append(out, &drawing.Text{At: orb.Point{at[0], at[1] - 0.36*size}, Size: size, Bold: true, Anchor: drawing.Middle, Halo: true, S: itoa(classOf(m.cells[i]))})
	}
	return out
}

// holds reports whether a box holds another whole.
func holds(box, of orb.Bound) bool { return box.Contains(of.Min) && box.Contains(of.Max) }
