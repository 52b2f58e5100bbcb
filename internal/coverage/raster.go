package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// The raster. Reported figures want 0.25 ft: there DU is within 0.001 of finer
// rasters (see doc.go). Larger plans take larger cells.
const (
	finest     = 0.25      // feet
	coarsest   = 2.0       // feet, unless the plan is larger still
	usualCells = 700_000   // above this the next coarser cell is taken
	mostCells  = 4_000_000 // never more
	margin     = 16.0      // feet of frame around the drawing
	lattice    = 8.0       // feet; frames start on it, so that a small edit keeps the frame
)

// frameOf lays a raster over what is drawn: areas and the lot, or, before there
// are any, what the heads wet. Water that falls outside it is still accounted,
// as landing Outside. asked is the plan's own cell size, 0 for none.
func frameOf(b orb.Bound, asked float64) geom.Frame {
	if b.IsEmpty() || !(b.Max[0]-b.Min[0] < math.MaxFloat64) {
		return geom.Frame{Cell: finest}
	}
	b = b.Pad(margin)
	if asked > 0 {
		return coarsen(b, asked)
	}
	for cell := finest; cell < coarsest; cell *= 2 {
		if f := latticed(b, cell); f.Size() <= usualCells {
			return f
		}
	}
	return coarsen(b, coarsest)
}

// coarsen doubles the cell until the frame is small enough.
func coarsen(b orb.Bound, cell float64) geom.Frame {
	for {
		across := (b.Max[0] - b.Min[0] + 2*lattice) / cell
		up := (b.Max[1] - b.Min[1] + 2*lattice) / cell
		if across*up <= mostCells {
			return latticed(b, cell)
		}
		cell *= 2
	}
}

// latticed is the smallest frame over b whose corners lie on the lattice.
func latticed(b orb.Bound, cell float64) geom.Frame {
	step := cell * math.Ceil(lattice/cell)
	x0, y0 := math.Floor(b.Min[0]/step)*step, math.Floor(b.Min[1]/step)*step
	return geom.Frame{
		Origin: orb.Point{x0, y0}, Cell: cell,
		NX: int(math.Ceil((b.Max[0]-x0)/step) * math.Round(step/cell)),
		NY: int(math.Ceil((b.Max[1]-y0)/step) * math.Round(step/cell)),
	}
}

// drawn is the bound of the plan's ground, or of its heads' patterns when it has
// none.
func drawn(p *plan.Plan, plots []plot, set []setting) orb.Bound {
	b := nowhere
	for i := range plots {
		b = widened(b, plots[i].bound)
	}
	if lot := p.Site.Lot; len(lot) > 2 {
		b = widened(b, lot.Bound())
	}
	if !b.IsEmpty() {
		return b
	}
	for i := range set {
		b = widened(b, set[i].at.Bound().Pad(set[i].throw))
	}
	return b
}

var nowhere = orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{-1, -1}}

func widened(b, by orb.Bound) orb.Bound {
	if b.IsEmpty() {
		return by
	}
	return b.Union(by)
}
