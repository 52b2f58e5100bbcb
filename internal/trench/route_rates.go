package trench

import "evenfall/internal/plan"

// rates are the plan's figures that ways are chosen by (plan.FigureRows says
// where each comes from).
type rates struct {
	lawn, bed, loose, roots, street float64 // a foot of trench
	sleeveFoot, sleeveEach, bend    float64
	box, boxLawn                    float64
	main, lateral, wire             float64 // a foot of what lies in a trench
	past                            float64 // of a sleeve beyond each edge, in feet
	perInch                         float64 // feet clear of a trunk for each inch of it
	width                           float64 // of a trench, in feet
}

func ratesOf(p *plan.Plan) rates {
	of := func(id plan.ID) float64 {
		v, _ := p.Figure(id)
		return v
	}
	return rates{
		lawn: of(plan.DigLawn), bed: of(plan.DigBed), loose: of(plan.DigGround), roots: of(plan.DigRoots), street: of(plan.DigStreet),
		sleeveFoot: of(plan.SleeveFoot), sleeveEach: of(plan.SleeveEach), bend: of(plan.BendEach), box: of(plan.BoxEach), boxLawn: of(plan.BoxLawn),
		main: of(plan.MainFoot), lateral: of(plan.LateralFoot), wire: of(plan.WireFoot),
		past: of(plan.SleevePast) / 12, perInch: of(plan.RootsPerInch), width: of(plan.TrenchWidth) / 12,
	}
}

// of is what a foot of trench costs in a ground, among no roots.
func (r rates) of(g Ground) float64 {
	switch g {
	case Bed:
		return r.bed
	case Loose:
		return r.loose
	case Street:
		return r.street
	case Paved:
		return r.sleeveFoot
	}
	return r.lawn
}
