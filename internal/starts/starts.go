package starts

import (
	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Yard is a typical yard.
type Yard struct {
	ID    string
	Name  string // few words: "Small front lawn with a walk"
	About string // a sentence: how large it is and what is drawn
	draw  func(*plan.Plan)
}

// All returns the yards, the smallest first. The caller owns the slice.
func All() []Yard { return append([]Yard(nil), yards...) }

// Find returns the yard of an id.
func Find(id string) (Yard, bool) {
	for _, y := range yards {
		if y.ID == id {
			return y, true
		}
	}
	return Yard{}, false
}

// Plan makes a plan of the yard under a name, shown in the units asked for. Its
// supply is the one assumed of any new plan.
func (y Yard) Plan(name string, show units.System) *plan.Plan {
	p := plan.Empty(name, show)
	p.Areas, p.Barriers, p.Trees, p.KeepDry = map[plan.ID]plan.Area{}, map[plan.ID]plan.Barrier{}, map[plan.ID]plan.Tree{}, map[plan.ID]plan.KeepDry{}
	p.Heads, p.Zones = map[plan.ID]plan.Head{}, map[plan.ID]plan.Zone{}
	p.Nozzles, p.Bodies = map[plan.ID]catalog.Nozzle{}, map[plan.ID]catalog.Body{}
	y.draw(p)
	low := p.Site.Lot.Bound().Min
	p.Notes = map[plan.ID]plan.Note{"invented": {
		X: units.Feet(low[0]), Y: units.Feet(low[1] - 4), Status: plan.Existing,
		Text: "This yard is invented. Change every length to what you measured before anything is bought or dug.",
	}}
	return p
}

// box is a rectangle.
func box(x0, y0, x1, y1 float64) geom.Outline { return shape(x0, y0, x1, y0, x1, y1, x0, y1) }

// shape is an outline of straight edges, from x and y in turn.
func shape(xy ...float64) geom.Outline {
	o := make(geom.Outline, 0, len(xy)/2)
	for i := 0; i < len(xy); i += 2 {
		o = append(o, geom.Vertex{X: xy[i], Y: xy[i+1]})
	}
	return o
}

// line is a line of straight edges, from x and y in turn.
func line(xy ...float64) geom.Line { return geom.Line(shape(xy...)) }

// stands adds an area that is there already.
func stands(p *plan.Plan, id plan.ID, name string, kind plan.Kind, o geom.Outline, holes ...geom.Outline) {
	p.Areas[id] = plan.Area{Name: name, Kind: kind, Outline: o, Holes: holes, Status: plan.Existing}
}

// lawn adds a lawn that is there already.
func lawn(p *plan.Plan, id plan.ID, name string, o geom.Outline, holes ...geom.Outline) {
	p.Areas[id] = plan.Area{Name: name, Kind: plan.Planting, Planting: plan.Turf, Outline: o, Holes: holes, Status: plan.Existing}
}

// bed adds a bed of shrubs watered at each plant.
func bed(p *plan.Plan, id plan.ID, name string, o geom.Outline) {
	p.Areas[id] = plan.Area{Name: name, Kind: plan.Planting, Planting: plan.Shrubs, Watering: plan.PointSource, Outline: o, Status: plan.Existing}
}

// fence adds a fence six feet high.
func fence(p *plan.Plan, id plan.ID, name string, l geom.Line) {
	p.Barriers[id] = plan.Barrier{Name: name, Kind: plan.Fence, Line: l, HeightFt: 6, Status: plan.Existing}
}
