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
	return Minutes(p, r, coverage.ExpectedDU(p, r), WindowOf(p).Need)
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
