package coverage

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// surface is one piece of ground that water lands on: an area, the edge lip of
// one, or what no area covers within the property line or beyond it.
type surface struct {
	id     plan.ID
	kind   plan.Kind
	name   string
	target bool // planting watered overhead
	lip    bool // the edge lip of the surface before it in the list
}

// plot is one area as the ground is made from it.
type plot struct {
	id     plan.ID
	kind   plan.Kind
	name   string
	target bool
	rings  []orb.Ring // the outline anticlockwise, holes clockwise
	size   float64    // square feet, holes taken off
	bound  orb.Bound
	hydro  string // what must not share a valve with another: see hydrozone
}

// plotsOf lists the areas that take ground, weakest first: each has the ground of
// those before it where they overlap. What the property line encloses is the
// weakest of all.
func plotsOf(p *plan.Plan) []plot {
	var out []plot
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if !a.Status.Stands() || a.Kind.Strength() < 0 {
			continue
		}
		poly, err := geom.Polygon(a.Outline, a.Holes)
		if err != nil || len(poly) == 0 {
			continue // reading the plan refuses it; a draft has no ground yet
		}
		out = append(out, plot{
			id: id, kind: a.Kind, name: a.Name,
			target: a.Kind == plan.Planting && a.WateredBy() == plan.Overhead,
			rings:  poly, size: geom.Area(orb.MultiPolygon{poly}), bound: poly.Bound(),
			hydro: hydrozone(a),
		})
	}
	slices.SortFunc(out, func(a, b plot) int {
		return cmp.Or(cmp.Compare(a.kind.Strength(), b.kind.Strength()), cmp.Compare(b.size, a.size), cmp.Compare(a.id, b.id))
	})
	if lot, err := geom.Polygon(p.Site.Lot, nil); err == nil && len(lot) > 0 {
		own := plot{id: Undrawn, rings: lot, size: geom.Area(orb.MultiPolygon{lot}), bound: lot.Bound()}
		out = slices.Insert(out, 0, own)
	}
	return out
}

// GroundOrder lists the areas that take ground, weakest first: each has the ground
// of those before it where they overlap (see plan.Area). Areas that go, overlays
// and outlines that cannot be read are left out.
func GroundOrder(p *plan.Plan) []plan.ID {
	var out []plan.ID
	for _, q := range plotsOf(p) {
		if q.id != Undrawn {
			out = append(out, q.id)
		}
	}
	return out
}

// hydrozone names in words what a planting area needs of its valve: cover, exposure
// and soil. Areas of different names should not share one.
func hydrozone(a plan.Area) string {
	if a.Kind != plan.Planting {
		return ""
	}
	name := string(a.Cover()) + ", " + string(a.Sunlight())
	if a.Soil != "" {
		name += ", " + a.Soil
	}
	return plan.Words(name)
}

func samePlots(a, b []plot) bool {
	return slices.EqualFunc(a, b, func(x, y plot) bool {
		return x.id == y.id && x.kind == y.kind && x.name == y.name && x.target == y.target && x.hydro == y.hydro &&
			slices.EqualFunc(x.rings, y.rings, func(q, r orb.Ring) bool { return slices.Equal(q, r) })
	})
}
