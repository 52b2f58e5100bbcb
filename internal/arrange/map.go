package arrange

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// The small map of a layout. Chosen: what a thumbnail shows, and cells not so
// coarse that a walk vanishes.
const (
	mapMost   = 64  // cells along a side
	mapLeast  = 0.5 // feet, the least cell
	mapAround = 5.0 // feet of ground shown around the area
)

// Map is where the water of a layout falls, on the area and just around it: at
// most 64 cells along a side, southernmost row first, the bytes as those of
// coverage.Field.Cells. It is a picture to tell layouts apart by; figures are in
// Measures. The error is the context's, or that the area has no shape.
func (y *Layout) Map(ctx context.Context, p *plan.Plan) (geom.Frame, []byte, error) {
	a := p.Areas[y.Area]
	shown := a.Outline.Bound().Pad(mapAround)
	cell := max(max(shown.Max[0]-shown.Min[0], shown.Max[1]-shown.Min[1])/(mapMost-2), mapLeast)
	small, err := y.around(p, shown.Pad(mapAround), units.Feet(cell))
	if err != nil {
		return geom.Frame{}, nil, err
	}
	f := coverage.New()
	if _, _, err := f.Update(ctx, small); err != nil {
		return geom.Frame{}, nil, err
	}
	g := f.Frame()
	cells := g.Around(shown).Within(g)
	g.Origin = orb.Point{g.Origin[0] + float64(cells.X0)*g.Cell, g.Origin[1] + float64(cells.Y0)*g.Cell}
	g.NX, g.NY = cells.X1-cells.X0, cells.Y1-cells.Y0
	return g, f.Cells(cells), nil
}

// around is the plan as far as it lies in a rectangle, with the heads of the
// layout and no other: small, whatever lies about the area.
func (y *Layout) around(p *plan.Plan, in orb.Bound, cell units.Feet) (*plan.Plan, error) {
	small := &plan.Plan{
		Format: p.Format, Show: p.Show, Options: p.Options,
		Areas: map[plan.ID]plan.Area{}, Barriers: map[plan.ID]plan.Barrier{}, Trees: p.Trees,
		Heads: map[plan.ID]plan.Head{}, Nozzles: map[plan.ID]catalog.Nozzle{}, Bodies: map[plan.ID]catalog.Body{},
	}
	small.Options.CellFt = cell
	for _, id := range coverage.GroundOrder(p) {
		a := p.Areas[id]
		bound := a.Outline.Bound()
		switch {
		case id == y.Area || in.Contains(bound.Min) && in.Contains(bound.Max):
			small.Areas[id] = a
		case in.Intersects(bound):
			if err := clipped(small, id, a, in); err != nil {
				return nil, err
			}
		}
	}
	for id, b := range p.Barriers {
		if b.Line.Points().Bound().Intersects(in) {
			small.Barriers[id] = b
		}
	}
	for i := range y.Heads {
		h := &y.Heads[i]
		row, _ := nozzleRow(p, h.Nozzle)
		body, _ := bodyRow(p, h.Body)
		small.Nozzles[h.Nozzle], small.Bodies[h.Body] = row, body
		head := plan.Head{Nozzle: h.Nozzle, Body: h.Body, X: units.Feet(h.At[0]), Y: units.Feet(h.At[1]), StartDeg: h.Start, SweepDeg: h.Sweep}
		if h.Turned {
			head.ThrowFt = &h.Throw
		}
		small.Heads[h.ID] = head
	}
	return small, nil
}

// clipped adds the part of an area that lies in a rectangle; what is cut into
// several pieces is several areas.
func clipped(small *plan.Plan, id plan.ID, a plan.Area, in orb.Bound) error {
	poly, err := geom.Polygon(a.Outline, a.Holes)
	if err != nil {
		return err
	}
	parts, err := geom.Intersection(orb.MultiPolygon{poly}, orb.MultiPolygon{in.ToPolygon()})
	if err != nil {
		return err
	}
	for i, part := range parts {
		if math.Abs(geom.RingArea(part[0])) < mapLeast*mapLeast {
			continue
		}
		piece := a
		piece.Outline, piece.Holes = outlineOf(part[0]), nil
		for _, hole := range part[1:] {
			piece.Holes = append(piece.Holes, outlineOf(hole))
		}
		key := id
		if i > 0 {
			key = id + plan.ID("-piece-"+string(rune('a'+i%26)))
		}
		small.Areas[key] = piece
	}
	return nil
}
