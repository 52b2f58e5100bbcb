package coverage

import (
	"context"
	"slices"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// ZoneGround is what each zone puts on each planting area watered overhead, cell by
// cell. Rates are in inches an hour, at planned pressures and in calm air.
type ZoneGround struct {
	Frame geom.Frame  // the raster of the cells: half a foot, coarser where the plan is large
	Zones []ZoneAlone // those with heads that run, by id
	Areas []AreaByZone
}

// ZoneAlone is a zone that runs by itself.
type ZoneAlone struct {
	ID   plan.ID
	Flow units.GPM
	Own  []plan.ID // areas watered overhead that its heads stand for, by id
}

// AreaByZone is the ground of one area: what the readings take in, so that its edge
// lip is left out as it is there. Weights and the rates of a zone are as long as Cells.
type AreaByZone struct {
	ID      plan.ID
	SqFt    units.SqFeet
	Cells   []int32     // y·NX + x of the frame; one that several areas share is in each
	Weights []float32   // share of each cell that is this ground
	Rates   [][]float32 // by ZoneGround.Zones, in/h; nil: none of its water lands here
}

// ByZone reckons what a zone running by itself puts on each area, from the very masks
// and whole numbers of the field, so that the zones together are the field. Heads of
// no zone are in none of it. Areas are by id. It is for when somebody asks, not for
// every edit. The error is the context's.
func ByZone(ctx context.Context, p *plan.Plan) (*ZoneGround, error) {
	f := &Field{lean: true, blind: true}
	_, set, _ := settings(p, nil, &f.known)
	if err := f.load(ctx, f.coarse(p, set)); err != nil {
		return nil, err
	}
	g := &ZoneGround{Frame: f.frame}
	of := make([]int, len(f.plots)) // of g.Areas
	for _, id := range plan.SortedIDs(f.index) {
		if i := f.index[id]; f.plots[i].target {
			of[i] = len(g.Areas)
			g.Areas = append(g.Areas, f.cellsOf(i))
		}
	}
	alone := newGrid(f.frame)
	alone.amend = make([]int32, len(f.land.pieces))
	for _, id := range plan.SortedIDs(p.Zones) {
		heads := f.headsOf(p, id)
		if len(heads) == 0 || !p.Zones[id].Status.Stands() {
			continue
		}
		g.Zones = append(g.Zones, f.zoneAlone(id, heads))
		f.alone(alone, heads, 1)
		for i := range f.plots {
			if f.plots[i].target {
				a := &g.Areas[of[i]]
				a.Rates = append(a.Rates, f.ratesOn(i, alone, heads, len(a.Cells)))
			}
		}
		f.alone(alone, heads, -1)
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// headsOf are the heads of a zone that run, by id.
func (f *Field) headsOf(p *plan.Plan, zone plan.ID) []*shower {
	var out []*shower
	for _, s := range f.showers {
		if p.Heads[s.id].Zone == zone {
			out = append(out, s)
		}
	}
	return out
}

// zoneAlone is a zone by its heads that run.
func (f *Field) zoneAlone(id plan.ID, heads []*shower) ZoneAlone {
	z := ZoneAlone{ID: id}
	for _, s := range heads {
		z.Flow += units.GPM(s.flow)
		if i := f.standsOn(s); i >= 0 && !slices.Contains(z.Own, f.plots[i].id) {
			z.Own = append(z.Own, f.plots[i].id)
		}
	}
	slices.Sort(z.Own)
	return z
}

// alone pours heads on a grid of their own (sign +1) or takes them off it (-1).
func (f *Field) alone(g *grid, heads []*shower, sign int32) {
	for _, s := range heads {
		kept := s.mask.Rows() > 0
		f.recall(s)
		g.pour(s, sign)
		g.amendBy(s, f.land, sign)
		if !kept {
			s.mask = geom.Mask{}
		}
	}
}

// cellsOf lists the cells of an area that the readings take in.
func (f *Field) cellsOf(i int) AreaByZone {
	a := AreaByZone{ID: f.plots[i].id}
	sum := 0.0
	inner, _ := f.grounds(i)
	for _, t := range inner {
		for _, s := range t.whole {
			for k := range s.n {
				a.Cells = append(a.Cells, s.cell+k)
				a.Weights = append(a.Weights, 1)
			}
		}
		for k, piece := range t.parts {
			a.Cells = append(a.Cells, t.cells[k])
			a.Weights = append(a.Weights, float32(f.land.pieces[piece].size)/geom.Whole)
		}
		sum += t.size
	}
	a.SqFt = units.SqFeet(sum * f.frame.CellArea())
	return a
}

// ratesOn are the rates of a grid on the cells of an area, in the order of cellsOf;
// nil where none of the heads comes near or wets it.
func (f *Field) ratesOn(i int, g *grid, heads []*shower, cells int) []float32 {
	if !slices.ContainsFunc(heads, func(s *shower) bool { return f.near(i, s) }) {
		return nil
	}
	out := make([]float32, 0, cells)
	unit, wet := 1/f.unit(), false
	put := func(rate int32) {
		wet = wet || rate > 0
		out = append(out, float32(float64(rate)*unit))
	}
	inner, _ := f.grounds(i)
	for _, t := range inner {
		for _, s := range t.whole {
			for _, rate := range g.rate[s.cell : s.cell+s.n] {
				put(rate)
			}
		}
		for k, piece := range t.parts {
			put(int32(g.rateOf(t.cells[k], piece)))
		}
	}
	if !wet {
		return nil
	}
	return out
}
