package zones

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// PeakMinutes are how long the zones run in a week at peak, by id, before any program
// is worked out from weather.
func PeakMinutes(p *plan.Plan, r *coverage.Result) map[plan.ID]float64 {
	return Minutes(p, r, expected(p, r), WindowOf(p).Need)
}

// expected is how even each area is expected to come out in the field: as the audit
// says, or else as such nozzles did where they were tested, the least of its own.
// A field estimate takes too long for every move of a head.
func expected(p *plan.Plan, r *coverage.Result) []coverage.Estimate {
	list := make([]coverage.Estimate, 0, len(r.Areas))
	at := map[plan.ID]int{}
	for _, a := range r.Areas {
		at[a.ID] = len(list)
		list = append(list, coverage.Estimate{ID: a.ID, Mean: 1})
	}
	for _, h := range r.Heads {
		if i, ok := at[h.Area]; ok {
			list[i].Mean = min(list[i].Mean, coverage.PublishedDU(p.Nozzles[p.Heads[h.ID].Nozzle].Family))
		}
	}
	if du := p.Watering.AuditedDU; du != nil {
		for i := range list {
			list[i].Mean = units.Ratio(*du)
		}
	}
	return list
}

// PeakSays is what PeakMinutes rest on, "" without zones.
func PeakSays(p *plan.Plan, r *coverage.Result) string {
	if len(r.Zones) == 0 {
		return ""
	}
	need := p.Show.Depth(WindowOf(p).Need)
	if du := p.Watering.AuditedDU; du != nil {
		return fmt.Sprintf("Minutes a week at peak, about: %s on turf, less on other planting, at the audited evenness of %s.", need, p.Show.Percent(units.Ratio(*du)))
	}
	return fmt.Sprintf("Minutes a week at peak, about: %s on turf, less on other planting, at the evenness that published tests found, %s for sprays and %s for rotors and streams. Assumptions, until there is an audit.",
		need, p.Show.Percent(coverage.PublishedDU(catalog.Spray)), p.Show.Percent(coverage.PublishedDU(catalog.Rotor)))
}
