package coverage

import "evenfall/internal/plan"

// Outside is the surface id of everything beyond the property line that no area
// covers; of a plan without a property line, of everything no area covers.
const Outside plan.ID = "outside"

// Undrawn is the surface id of the ground within the property line that no area
// covers: the user's own, of which nothing is known.
const Undrawn plan.ID = "undrawn"

// Band is the surface id of the bands along paving, within planting watered
// overhead, that no overhead water may reach (plan.BandPaving).
const Band plan.ID = "band"

// SurfaceName names a surface that water lands on: an area by its name, "ground
// not drawn", "the band along paving", "off the lot", or, without a property line,
// "past what is drawn".
func SurfaceName(p *plan.Plan, id plan.ID) string {
	switch {
	case id == Undrawn:
		return "ground not drawn"
	case id == Band:
		return "the band along paving"
	case id != Outside:
		return p.AreaName(id)
	case hasLot(p):
		return "off the lot"
	}
	return "past what is drawn"
}

// OnSurface is SurfaceName as it follows a figure: "on Front lawn", "off the lot".
func OnSurface(p *plan.Plan, id plan.ID) string {
	name := SurfaceName(p, id)
	if id == Outside {
		return name
	}
	return "on " + name
}

// hasLot reports whether the property line is drawn.
func hasLot(p *plan.Plan) bool { return len(p.Site.Lot) > 2 }
