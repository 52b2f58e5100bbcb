package coverage

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// tract is the ground of a trial: shared by its clones, never changed. The places
// whose rate is kept are those of one area alone, numbered through: first its
// whole cells row by row, then its parts of shared cells.
type tract struct {
	area   plan.ID
	frame  geom.Frame
	extent geom.Cells // that the area touches
	*ground
	obstacles []obstacle
	class     []class // of each surface

	runPlace   []int32 // of each run: place of its first column less that column; none
	piecePlace []int32 // of each piece; none
	whole      int32   // places that are whole cells
	stretches  []placed
	cells      []int32 // of the parts
	weights    []int64 // of the parts, in 1/weightOne
	total      int64   // weight of all, in 1/weightOne
	corners    []wanted
}

// none marks ground whose rate is not kept.
const none = math.MinInt32

// placed is whole cells of one row and the place of the first.
type placed struct{ cell, n, place int32 }

// class is what water on a surface counts as.
type class uint8

const (
	onTarget class = iota
	onHard
	onBare
	onOther
)

func (g *tract) size() int { return int(g.whole) + len(g.cells) }

func newTract(p *plan.Plan, area plan.ID, cell, reach float64) (*tract, error) {
	if !(cell > 0 && cell < mostThrow) {
		return nil, fmt.Errorf("cannot lay out ground in cells of %g ft", cell)
	}
	if !(reach >= 0 && reach <= mostThrow) {
		return nil, fmt.Errorf("cannot lay out ground for throws of %g ft", reach)
	}
	all := plotsOf(p)
	own := slices.IndexFunc(all, func(q plot) bool { return q.id == area })
	if own < 0 {
		return nil, fmt.Errorf("there is no area %s to try heads on", area)
	}
	l := lipsOf(p, all)
	frame := coarsen(all[own].bound.Pad(reach+2*cell), cell)
	plots, lot := touching(all, area, frame, l.band > 0)
	g := &tract{area: area, frame: frame, obstacles: obstaclesOf(p), ground: groundOf(frame, plots, l)}
	g.extent = frame.Around(all[own].bound).Within(frame)
	g.classify(lot)
	g.number()
	g.corner(p, all[own], l)
	if g.total == 0 {
		return nil, fmt.Errorf("other areas cover all of %s", plotName(all[own]))
	}
	return g, nil
}

func plotName(q plot) string {
	if q.name != "" {
		return q.name
	}
	return string(q.id)
}

// touching are the plots that touch a frame, of which one alone is to be watered, and
// whether there is a property line. Where there are bands along paving the others
// stay what they are, since those have bands, too.
func touching(all []plot, area plan.ID, f geom.Frame, bands bool) (out []plot, lot bool) {
	for _, q := range all {
		lot = lot || q.id == Undrawn
		q.target = q.id == area || bands && q.target
		if q.bound.Intersects(f.Bound()) {
			out = append(out, q)
		}
	}
	return out, lot
}

// classify says what water on each surface counts as. Past what is drawn it is off
// the lot where there is a property line; without one nobody's ground is known.
func (g *tract) classify(lot bool) {
	g.class = make([]class, len(g.surfaces))
	for i, s := range g.surfaces {
		switch {
		case s.id == g.area:
			g.class[i] = onTarget
		case s.id == Outside && lot:
			g.class[i] = onHard
		case s.id == Outside || s.id == Undrawn || s.kind == plan.Ground:
			g.class[i] = onBare
		case s.kind == plan.Planting:
			g.class[i] = onOther
		default:
			g.class[i] = onHard
		}
	}
}

// number numbers the places: those of the area less its lip, or with it where else
// too little would be left (see narrow).
func (g *tract) number() {
	own := int32(slices.IndexFunc(g.surfaces, func(s surface) bool { return s.id == g.area }))
	a, b := &g.land[own], &g.land[own+1]
	kept := func(of int32) bool { return of == own }
	if a.size < narrow*(a.size+b.size) {
		kept = func(of int32) bool { return of == own || of == own+1 }
	}
	g.runPlace = make([]int32, len(g.runs))
	g.piecePlace = make([]int32, len(g.pieces))
	for y := range g.frame.NY {
		x := int32(0)
		for i := g.rowAt[y]; i < g.rowAt[y+1]; i++ {
			r := g.runs[i]
			g.runPlace[i] = none
			if r.of >= 0 && kept(r.of) {
				g.runPlace[i] = g.whole - x
				g.stretches = append(g.stretches, placed{int32(y*g.frame.NX) + x, r.end - x, g.whole})
				g.whole += r.end - x
			}
			x = r.end
		}
	}
	g.total = int64(g.whole) * weightOne
	for i := range g.shared {
		from, pieces := g.piecesOf(i)
		for k, p := range pieces {
			g.piecePlace[from+k] = none
			if !kept(p.of) {
				continue
			}
			g.piecePlace[from+k] = g.whole + int32(len(g.cells))
			g.cells = append(g.cells, g.shared[i].cell)
			w := int64(p.size) * weightOne / geom.Whole
			g.weights = append(g.weights, w)
			g.total += w
		}
	}
}

// PastEdge is water on one surface that is not the area's.
type PastEdge struct {
	Surface plan.ID // area id, Undrawn or Outside
	Name    string
	Kind    plan.Kind
	GPM     units.GPM
}

// Past lists the water past the edge of the area by surface, most first.
func (t *Trial) Past() []PastEdge {
	var out []PastEdge
	for i, s := range t.land.surfaces {
		if t.land.class[i] == onTarget {
			continue
		}
		sum := 0.0
		for _, h := range t.heads {
			sum += h.land[i]
		}
		if sum >= trace {
			out = append(out, PastEdge{s.id, s.name, s.kind, units.GPM(sum)})
		}
	}
	slices.SortStableFunc(out, func(a, b PastEdge) int {
		switch {
		case a.GPM > b.GPM:
			return -1
		case a.GPM < b.GPM:
			return 1
		}
		return 0
	})
	return out
}
