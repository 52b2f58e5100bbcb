package coverage

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// areaRead is what was read of one planting area.
type areaRead struct {
	dirty bool
	inner histogram // the lip left out
	lip   histogram
	all   *histogram // both

	even   Evenness
	driest *orb.Point
	gaps   []Gap
	two    float64 // weight reached by two heads
}

// narrow is the share of an area below which its lip is counted in after all:
// what would be left of a strip two lips wide says nothing of it. Chosen.
const narrow = 0.1

// read brings the readings of the areas up to date.
func (f *Field) read(ctx context.Context) error {
	for i := range f.reads {
		if !f.plots[i].target || !f.reads[i].dirty {
			continue
		}
		f.readArea(i)
		f.readLip(i)
		f.readPlaces(i)
		f.reads[i].dirty = false
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// grounds are the pieces of ground an area's sums take in, and those that its
// lip adds.
func (f *Field) grounds(i int) (inner, lip []*terrain) {
	of := f.land.own[i]
	a, b := &f.land.land[of], &f.land.land[of+1]
	if a.size < narrow*(a.size+b.size) {
		return []*terrain{a, b}, nil
	}
	return []*terrain{a}, []*terrain{b}
}

// sample gathers the rates of some ground.
func (f *Field) sample(ts []*terrain) *sample {
	s := &sample{grid: f.grid.rate}
	for _, t := range ts {
		s.whole = append(s.whole, t.whole)
		for k, piece := range t.parts {
			s.parts = append(s.parts, weighed{
				rate:   f.grid.rateOf(t.cells[k], piece),
				weight: int64(f.land.pieces[piece].size) * weightOne / geom.Whole,
			})
		}
	}
	return s
}

// rateOf is the rate on a piece of a shared cell.
func (g *grid) rateOf(cell, piece int32) uint32 {
	return uint32(max(g.rate[cell]+g.amend[piece], 0))
}

// readArea counts the rates of an area, its lip left out: all that follows from
// their distribution alone.
func (f *Field) readArea(i int) {
	r := &f.reads[i]
	inner, _ := f.grounds(i)
	r.inner.count(f.sample(inner), &f.count)
	r.even = f.evenness(&r.inner)
}

// readLip counts the lip of an area, too.
func (f *Field) readLip(i int) {
	r := &f.reads[i]
	r.all = &r.inner
	if _, lip := f.grounds(i); lip != nil {
		r.lip.count(f.sample(lip), &f.count)
		r.all = r.inner.plus(&r.lip)
	}
}

// evenness reads a histogram.
func (f *Field) evenness(h *histogram) Evenness {
	mean := h.mean()
	dry, _ := h.under(gapShare * mean)
	notWet, _ := h.under(wetShare * mean)
	total := float64(h.total)
	e := Evenness{
		AreaSqFt: units.SqFeet(total / weightOne * f.frame.CellArea()),
		Mean:     f.inches(mean),
		Driest2:  units.Ratio(ratio(h.lowest(0.02), mean)),
		DU:       units.Ratio(h.lowQuarter()),
		CU:       units.Ratio(h.christiansen()),
	}
	if mean > 0 {
		e.DryShare = units.Ratio(dry / total)
		e.WetShare = units.Ratio(max(1-notWet/total, 0))
	}
	return e
}

func (f *Field) inches(rate float64) units.InchesPerHour {
	return units.InchesPerHour(rate / f.unit())
}

// readPlaces reads what depends on where the rates are: the least and most, the
// ground two heads reach, the driest window and the gaps.
func (f *Field) readPlaces(i int) {
	r := &f.reads[i]
	r.gaps, r.driest, r.two = nil, nil, 0
	inner, _ := f.grounds(i)
	v := visit{f: f, least: math.MaxInt32, dry: patches{nx: f.frame.NX, limit: gapShare * r.inner.mean()}}
	f.blocks.open(f.frame.Around(f.plots[i].bound).Within(f.frame))
	for _, t := range inner {
		v.terrain(t)
	}
	if v.weight == 0 {
		return
	}
	f.blocks.sumUp()
	e := &r.even
	e.Least, e.Most = f.inches(float64(v.least)), f.inches(float64(v.most))
	e.TwoHeads = units.Ratio(v.two / v.weight)
	r.two = v.two
	if r.inner.mean() == 0 {
		return
	}
	e.SC, r.driest = f.blocks.schedule(windowShare, v.weight, r.inner.mean(), f.frame)
	r.gaps = v.dry.gaps(f.frame, 1/f.unit())
	for k := range r.gaps {
		r.gaps[k].Area = f.plots[i].id
	}
}

// visit goes over the cells of an area, whole and shared, row by row.
type visit struct {
	f           *Field
	least, most int32
	two, weight float64
	dry         patches
}

func (v *visit) terrain(t *terrain) {
	k := 0
	for _, s := range t.whole {
		for ; k < len(t.parts) && t.cells[k] < s.cell; k++ {
			v.part(t, k)
		}
		v.run(s)
	}
	for ; k < len(t.parts); k++ {
		v.part(t, k)
	}
}

func (v *visit) run(s stretch) {
	g := v.f.grid
	rates := g.rate[s.cell : s.cell+s.n]
	reach := g.reach[s.cell : s.cell+s.n]
	least, most, two := v.least, v.most, 0
	for i, r := range rates {
		least, most = min(least, r), max(most, r)
		if reach[i] >= 2 {
			two++
		}
	}
	v.least, v.most = least, most
	v.two += float64(two)
	v.weight += float64(s.n)
	v.at(int(s.cell), rates, 1)
}

// partSpan is the share of a cell from which it counts for gaps and for the
// least and most rate. Chosen.
const partSpan = 0.5

func (v *visit) part(t *terrain, k int) {
	cell, piece := t.cells[k], t.parts[k]
	share := float64(v.f.land.pieces[piece].size) / geom.Whole
	rate := int32(v.f.grid.rateOf(cell, piece))
	v.weight += share
	if v.f.grid.reach[cell] >= 2 {
		v.two += share
	}
	v.at(int(cell), []int32{rate}, share)
	if share >= partSpan {
		v.least, v.most = min(v.least, rate), max(v.most, rate)
	}
}

func (v *visit) at(cell int, rates []int32, weight float64) {
	nx := v.f.frame.NX
	v.f.blocks.put(cell/nx, cell%nx, rates, weight)
	if weight >= partSpan {
		v.dry.put(cell, rates, weight)
	}
}
