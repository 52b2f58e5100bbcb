package coverage

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// gapShare is the share of its area's mean below which ground is dry, and
// LeastGap the ground, in square feet, that makes a gap worth naming: 2 ft by
// 2 ft. Chosen.
const (
	gapShare = 0.5
	LeastGap = 4
	wetShare = 1.5
)

// dryRun is cells of one row below the limit.
type dryRun struct {
	y, x0, x1 int
	weight    float64 // cells
	water     float64 // rate by weight
	patch     int     // root of the patch it belongs to
}

// patches finds the connected dry places of an area. Cells count as neighbours
// when they share a side.
type patches struct {
	nx    int
	limit float64
	runs  []dryRun
	up    []int // union-find
}

// put adds a run of cells of one row.
func (p *patches) put(cell int, rates []int32, weight float64) {
	y, x := cell/p.nx, cell%p.nx
	limit := int32(min(math.Ceil(p.limit), math.MaxInt32))
	for i, r := range rates {
		if r >= limit {
			continue
		}
		p.dry(y, x+i, r, weight)
	}
}

func (p *patches) dry(y, x int, rate int32, weight float64) {
	if n := len(p.runs); n > 0 && p.runs[n-1].y == y && p.runs[n-1].x1 == x {
		r := &p.runs[n-1]
		r.x1++
		r.weight += weight
		r.water += weight * float64(rate)
		return
	}
	p.up = append(p.up, len(p.runs))
	p.runs = append(p.runs, dryRun{y: y, x0: x, x1: x + 1, weight: weight, water: weight * float64(rate)})
}

func (p *patches) root(i int) int {
	for p.up[i] != i {
		p.up[i] = p.up[p.up[i]]
		i = p.up[i]
	}
	return i
}

// join connects runs of neighbouring rows that touch.
func (p *patches) join() {
	slices.SortStableFunc(p.runs, func(a, b dryRun) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.x0, b.x0)) })
	for i := 1; i < len(p.runs); i++ { // side by side in one row: a whole cell beside a shared one is one run, of two grounds it is not
		if p.runs[i].y == p.runs[i-1].y && p.runs[i].x0 == p.runs[i-1].x1 {
			p.up[p.root(i)] = p.root(i - 1)
		}
	}
	below, end := 0, 0 // runs of the row below
	for i := 0; i < len(p.runs); {
		j := i
		for j < len(p.runs) && p.runs[j].y == p.runs[i].y {
			j++
		}
		if end > below && p.runs[below].y == p.runs[i].y-1 {
			p.joinRows(below, end, i, j)
		}
		below, end, i = i, j, j
	}
	for i := range p.runs {
		p.runs[i].patch = p.root(i)
	}
}

func (p *patches) joinRows(a, aEnd, b, bEnd int) {
	for a < aEnd && b < bEnd {
		r, s := &p.runs[a], &p.runs[b]
		if r.x0 < s.x1 && s.x0 < r.x1 {
			i, j := p.root(a), p.root(b)
			p.up[max(i, j)] = min(i, j)
		}
		if r.x1 < s.x1 {
			a++
		} else {
			b++
		}
	}
}

// gaps lists the patches worth naming, largest first. unit is one step of the
// grid's rate in inches per hour.
func (p *patches) gaps(f geom.Frame, unit float64) []Gap {
	p.join()
	of := make(map[int][]dryRun)
	var order []int
	for _, r := range p.runs {
		if _, met := of[r.patch]; !met {
			order = append(order, r.patch)
		}
		of[r.patch] = append(of[r.patch], r)
	}
	var out []Gap
	for _, k := range order {
		if g, ok := gapOf(of[k], f, unit); ok {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b Gap) int { return cmp.Compare(b.AreaSqFt, a.AreaSqFt) })
	return out
}

func gapOf(runs []dryRun, f geom.Frame, unit float64) (Gap, bool) {
	weight, water := 0.0, 0.0
	for _, r := range runs {
		weight += r.weight
		water += r.water
	}
	area := weight * f.CellArea()
	if area < LeastGap {
		return Gap{}, false
	}
	g := Gap{
		AreaSqFt: units.SqFeet(area),
		Outline:  outlineOf(runs, f),
		MeanRate: units.InchesPerHour(water / weight * unit),
	}
	g.At = insideOf(g.Outline)
	g.Bound = g.Outline.Bound()
	return g, true
}

// insideOf is a place well inside a patch, to point at. The driest cell would
// not do: it may lie in the shadow of a trunk at the tip of the patch.
func insideOf(patch orb.MultiPolygon) orb.Point {
	var largest orb.Polygon
	most := -1.0
	for _, p := range patch {
		if a := planar.Area(p); a > most {
			largest, most = p, a
		}
	}
	return geom.InsidePoint(largest)
}
