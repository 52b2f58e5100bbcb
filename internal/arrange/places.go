package arrange

import (
	"context"

	"evenfall/internal/catalog"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Place is a planting area as it stands before anything is arranged on it.
type Place struct {
	Area   plan.ID
	Cover  plan.Cover
	Ground units.SqFeet // its own, less what lies on it
	// Widest and Typical are the greatest width and the usual one; see ground.
	Widest, Typical units.Feet
	Family          catalog.Family // that suits its width and planting; "" where none does
	Why             string         // of the family, in a sentence
	Goes, Stays     []plan.ID      // heads that make room, and that stay
	Refuses         string         // why nothing can be arranged, in a sentence; "" when it can
}

// Places are the standing planting areas of a plan, by id. The error is the
// context's, or that an area has no shape.
func Places(ctx context.Context, p *plan.Plan) ([]Place, error) {
	s, err := newSite(p)
	if err != nil {
		return nil, err
	}
	var out []Place
	for _, id := range plan.SortedIDs(p.Areas) {
		if a := p.Areas[id]; a.Kind != plan.Planting || !a.Status.Stands() {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		g, err := s.ground(id)
		if err != nil {
			return nil, err
		}
		out = append(out, placeOf(p, g))
	}
	return out, nil
}

// suitsFrom is the share of the narrowest strip that ground must be wide for strip
// nozzles to be said to suit it. Chosen: on less than that more falls past its edges
// than usually may.
const suitsFrom = 0.8

func placeOf(p *plan.Plan, g *ground) Place {
	l := Place{
		Area: g.id, Cover: g.cover, Ground: units.SqFeet(geom.Area(g.shape)), Widest: g.widest, Typical: g.typical,
		Goes: g.goes, Stays: g.stays,
	}
	kits, why := fitting(p, g, Usual())
	if why != "" {
		l.Refuses = why
		return l
	}
	if least, _ := kits[0].stripWidths(); kits[0].family == catalog.Strip && float64(g.widest) < suitsFrom*least {
		return l // tried, but no nozzle to recommend
	}
	l.Family, l.Why = kits[0].family, kits[0].why
	return l
}
