package coverage

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"

	"evenfall/internal/geom"
)

// border is one side of a patch of cells, between cell corners; the patch is on
// its left.
type border struct{ x0, y0, x1, y1 int }

// outlineOf traces the outline of a patch of cells and straightens its stairs to
// within a cell.
func outlineOf(runs []dryRun, f geom.Frame) orb.MultiPolygon {
	var outer []orb.Ring
	var holes []orb.Ring
	for _, loop := range loopsOf(bordersOf(runs)) {
		ring := make(orb.Ring, 0, len(loop)+1)
		for _, b := range loop {
			ring = append(ring, orb.Point{
				f.Origin[0] + float64(float64(b.x0)*f.Cell), f.Origin[1] + float64(float64(b.y0)*f.Cell),
			})
		}
		ring = straighten(append(ring, ring[0]), f.Cell)
		if ring.Orientation() == orb.CCW {
			outer = append(outer, ring)
		} else {
			holes = append(holes, ring)
		}
	}
	out := make(orb.MultiPolygon, len(outer))
	for i, r := range outer {
		out[i] = orb.Polygon{r}
	}
	for _, h := range holes { // a patch is connected: it has one outer ring but where corners touch
		for i := range out {
			if len(out) == 1 || planar.RingContains(out[i][0], h[0]) {
				out[i] = append(out[i], h)
				break
			}
		}
	}
	return out
}

// straighten drops vertices that lie within a cell of the line without them. A
// ring that would be left without area stays as it is.
func straighten(r orb.Ring, cell float64) orb.Ring {
	s := simplify.DouglasPeucker(0.75 * cell).Ring(r.Clone())
	if len(s) < 4 || s.Orientation() != r.Orientation() {
		return r
	}
	return s
}

// bordersOf lists the sides of the runs that no run of the patch shares. Runs
// are in order of rows and columns.
func bordersOf(runs []dryRun) []border {
	var out []border
	rows := make(map[int][]dryRun)
	for _, r := range runs {
		rows[r.y] = append(rows[r.y], r)
	}
	for _, r := range runs {
		out = append(out, border{r.x1, r.y, r.x1, r.y + 1}, border{r.x0, r.y + 1, r.x0, r.y})
		for _, gap := range notCovered(r, rows[r.y-1]) {
			out = append(out, border{gap[0], r.y, gap[1], r.y})
		}
		for _, gap := range notCovered(r, rows[r.y+1]) {
			out = append(out, border{gap[1], r.y + 1, gap[0], r.y + 1})
		}
	}
	return out
}

// notCovered is the columns of a run that no run beside it has, between x0 and
// x1 of each.
func notCovered(r dryRun, beside []dryRun) [][2]int {
	var out [][2]int
	x := r.x0
	for _, b := range beside {
		if b.x1 <= x || b.x0 >= r.x1 {
			continue
		}
		if b.x0 > x {
			out = append(out, [2]int{x, b.x0})
		}
		x = max(x, b.x1)
	}
	if x < r.x1 {
		out = append(out, [2]int{x, r.x1})
	}
	return out
}

// loopsOf joins borders head to tail. Where two loops touch at a corner each
// turns left, so that cells that meet only there stay apart.
func loopsOf(sides []border) [][]border {
	slices.SortFunc(sides, func(a, b border) int {
		return cmp.Or(cmp.Compare(a.y0, b.y0), cmp.Compare(a.x0, b.x0), cmp.Compare(a.y1, b.y1), cmp.Compare(a.x1, b.x1))
	})
	used := make([]bool, len(sides))
	var loops [][]border
	for i := range sides {
		if used[i] {
			continue
		}
		var loop []border
		for k := i; k >= 0 && !used[k]; k = follow(sides, used, sides[k]) {
			used[k] = true
			loop = append(loop, sides[k])
		}
		loops = append(loops, loop)
	}
	return loops
}

// follow is the unused side that starts where b ends, the one farthest to the
// left of two; -1 when the loop is closed.
func follow(sides []border, used []bool, b border) int {
	i, _ := slices.BinarySearchFunc(sides, b, func(s, b border) int {
		return cmp.Or(cmp.Compare(s.y0, b.y1), cmp.Compare(s.x0, b.x1))
	})
	best, most := -1, -2
	for ; i < len(sides) && sides[i].x0 == b.x1 && sides[i].y0 == b.y1; i++ {
		if used[i] {
			continue
		}
		s := sides[i]
		turn := sign((b.x1-b.x0)*(s.y1-s.y0) - (b.y1-b.y0)*(s.x1-s.x0))
		if turn > most {
			best, most = i, turn
		}
	}
	return best
}

func sign(v int) int { return cmp.Compare(v, 0) }
