package coverage

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The bytes of the map: 0 shows nothing; on planting watered overhead 1 + the
// rate in hundredths of the area's mean, at most 200; on anything else 201 + the
// rate in twentieths of the plan's mean, at most 255, and 0 where none falls.
const (
	mapMean = 100
	mapMost = 200
	mapOff  = 201
	offStep = 20
)

// palette turns rates into bytes for one surface.
type palette struct {
	perStep float64 // byte steps for one step of rate
	target  bool
	blank   bool
}

func (q palette) byteOf(rate int32) byte {
	if q.blank {
		return 0
	}
	v := int(float64(rate)*q.perStep + 0.5)
	if q.target {
		return byte(min(v+1, mapMost))
	}
	if rate == 0 {
		return 0
	}
	return byte(min(mapOff+v, 255))
}

// MapByte is the byte of the map for a rate on planting watered overhead, as a share of
// its mean: what is drawn beside the map in the same colours is told by it.
func MapByte(ofMean units.Ratio) byte {
	return byte(min(max(float64(ofMean), 0)*mapMean+1.5, mapMost))
}

// palettes makes one palette for each surface.
func (f *Field) palettes(r *Result) []palette {
	out := make([]palette, len(f.land.surfaces))
	off := f.offReference(r)
	for i := range out {
		out[i] = palette{perStep: ratio(offStep, off*f.unit()), blank: off == 0}
	}
	for i, p := range f.plots {
		if p.target {
			mean := f.reads[i].inner.mean()
			q := palette{perStep: ratio(mapMean, mean), target: true, blank: mean == 0}
			of := f.land.own[i]
			out[of], out[of+1] = q, q
		}
	}
	return out
}

// offReference is the rate that water off target is shown against: the mean of
// all ground on target, or without any the mean of the heads' own rates.
func (f *Field) offReference(r *Result) float64 {
	water, ground := 0.0, 0.0
	for _, a := range r.Areas {
		water += float64(a.Mean) * float64(a.AreaSqFt)
		ground += float64(a.AreaSqFt)
	}
	if water > 0 {
		return water / ground
	}
	sum := 0.0
	for _, h := range r.Heads {
		sum += float64(h.Rate)
	}
	return ratio(sum, float64(len(r.Heads)))
}

// paint brings the map to the grid and returns the rectangle that changed.
func (f *Field) paint(r *Result, all bool) geom.Cells {
	colours := f.palettes(r)
	var dirty geom.Cells
	for y := range f.frame.NY {
		x0, x1 := f.paintRow(y, colours)
		if x0 < x1 {
			dirty = dirty.With(geom.Cells{X0: x0, Y0: y, X1: x1, Y1: y + 1})
		}
	}
	if all {
		return f.frame.All()
	}
	return dirty
}

// paintRow writes one row and returns the columns that changed.
func (f *Field) paintRow(y int, colours []palette) (first, past int) {
	base := y * f.frame.NX
	rates, old := f.grid.rate[base:base+f.frame.NX], f.bytes[base:base+f.frame.NX]
	first = f.frame.NX
	x := 0
	for _, run := range f.land.row(y) {
		of := run.of
		if of < 0 {
			of = f.land.largest(int(^of))
		}
		q := colours[of]
		for ; x < int(run.end); x++ {
			if b := q.byteOf(rates[x]); b != old[x] {
				old[x] = b
				first, past = min(first, x), x+1
			}
		}
	}
	return first, past
}

// largest is the surface that has the most of a shared cell.
func (g *ground) largest(i int) int32 {
	_, pieces := g.piecesOf(i)
	best := pieces[0]
	for _, p := range pieces[1:] {
		if p.size > best.size {
			best = p
		}
	}
	return best.of
}

// Cells returns the map bytes of a rectangle as of the last update, row by row
// from the south.
func (f *Field) Cells(c geom.Cells) []byte {
	c = c.Within(f.frame)
	out := make([]byte, 0, (c.X1-c.X0)*(c.Y1-c.Y0))
	for y := c.Y0; y < c.Y1; y++ {
		out = append(out, f.bytes[y*f.frame.NX+c.X0:y*f.frame.NX+c.X1]...)
	}
	return out
}

// Reading is the water at one place.
type Reading struct {
	Rate     units.InchesPerHour
	Surface  plan.ID     // area id, Undrawn or Outside
	OnTarget bool        // planting watered overhead
	OfMean   units.Ratio // rate over the area's mean; 0 off target
}

// RateAt reads the field at a place as of the last update; outside the frame it
// is false. The rate is that of the cell the place lies in.
func (f *Field) RateAt(p orb.Point) (Reading, bool) {
	x, y, inside := f.frame.CellOf(p)
	if !inside || !f.whole {
		return Reading{}, false
	}
	cell := int32(y*f.frame.NX + x)
	runs := f.land.row(y)
	run := runs[runAt(runs, int32(x))]
	rate, of := uint32(f.grid.rate[cell]), run.of
	if of < 0 {
		rate, of = f.pieceAt(int(^of), cell, x, y, p)
	}
	s := &f.land.surfaces[of]
	out := Reading{Rate: f.inches(float64(rate)), Surface: s.id, OnTarget: s.target}
	if i, ok := f.index[s.id]; ok && s.target {
		out.OfMean = units.Ratio(ratio(float64(rate), f.reads[i].inner.mean()))
	}
	return out, true
}

// pieceAt is the rate and surface of a shared cell at a place: the piece whose
// sample is nearest.
func (f *Field) pieceAt(shared int, cell int32, x, y int, p orb.Point) (uint32, int32) {
	fx, fy := f.frame.Place(p)
	from, pieces := f.land.piecesOf(shared)
	best, at := math.Inf(1), 0
	for k, piece := range pieces {
		for bit := range 64 {
			if piece.bits>>bit&1 == 0 {
				continue
			}
			sx, sy := geom.Sample(bit)
			if d := math.Hypot(float64(x)+sx-fx, float64(y)+sy-fy); d < best {
				best, at = d, k
			}
		}
	}
	return f.grid.rateOf(cell, int32(from+at)), pieces[at].of
}
