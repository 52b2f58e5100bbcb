package coverage

import (
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// GroundOf is the ground of a planting area watered overhead that readings take in, edge
// lip and what stronger areas cover left out, with the raster of its cells: ByZone's,
// without any water. It is false for any other area.
func GroundOf(p *plan.Plan, id plan.ID) (AreaByZone, geom.Frame, bool) {
	f := &Field{lean: true, blind: true}
	_, set, _ := settings(p, nil, &f.known)
	s := f.coarse(p, set)
	f.reset(s.frame, s.scale)
	f.lay(s)
	i, ok := f.index[id]
	if !ok || !f.plots[i].target {
		return AreaByZone{}, geom.Frame{}, false
	}
	return f.cellsOf(i), f.frame, true
}
