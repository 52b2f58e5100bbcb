package plan

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/units"
)

// Plan builds a plan from the shapes, one use for each in their order: the lot
// becomes the property line, areas get the ids a1, a2, …, and the origin the
// site's place. Without uses the guesses are taken. What cannot be is a
// *Problem: uses that do not match the shapes, an unknown use, two lots, or a
// lot with a hole.
func (o *Outlines) Plan(name string, show units.System, uses []Use) (*Plan, error) {
	if uses == nil {
		for _, s := range o.Shapes {
			uses = append(uses, s.Guess)
		}
	}
	if len(uses) != len(o.Shapes) {
		return nil, refuseImport("There are %d shapes and %d choices of what they are. Choose for each.", len(o.Shapes), len(uses))
	}
	p := Empty(name, show)
	lat, lon := o.Origin.Latitude, o.Origin.Longitude
	p.Site.Latitude, p.Site.Longitude = &lat, &lon
	p.Site.NorthDeg = units.Degrees(math.Mod(o.Origin.NorthDeg, 360))
	p.Areas = map[ID]Area{}
	for i, s := range o.Shapes {
		if err := p.take(s, uses[i]); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// take adds one imported shape.
func (p *Plan) take(s ImportShape, use Use) error {
	switch {
	case use == UseSkip:
		return nil
	case use == UseLot && len(s.Holes) > 0:
		return refuseImport("%s has holes, and a lot has none. Bring it in as an area, or leave it out and draw the lot.", s.Name)
	case use == UseLot && p.Site.Lot != nil:
		return refuseImport("%s is the second lot, and a plan has one. Choose what else it is, or leave it out.", s.Name)
	case use == UseLot:
		p.Site.Lot = s.Outline
		return nil
	case !areaKinds.has(string(use)):
		return refuseImport("%s is to become %s, which is neither a kind of area nor the lot. Choose one of %s.", s.Name, quoted(string(use)),
			append(slices.Clone(areaKinds), string(UseLot), string(UseSkip)).list())
	}
	id := ID(fmt.Sprintf("a%d", len(p.Areas)+1))
	p.Areas[id] = Area{Name: s.Name, Kind: Kind(use), Outline: s.Outline, Holes: s.Holes, Status: Existing}
	return nil
}
