package web

import (
	"fmt"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
	"evenfall/internal/zones"
)

// minutes are how long the zones run in a week at peak, by id.
func (m *maker) minutes() map[plan.ID]float64 {
	return zones.Minutes(m.p, m.r, m.expected(), zones.WindowOf(m.p).Need)
}

// expected is how even each area is expected to come out in the field: as the audit
// says, or else as such nozzles did where they were tested, the least of its own.
// A field estimate takes too long for every move of a head.
func (m *maker) expected() []coverage.Estimate {
	list := make([]coverage.Estimate, 0, len(m.r.Areas))
	at := map[plan.ID]int{}
	for _, a := range m.r.Areas {
		at[a.ID] = len(list)
		list = append(list, coverage.Estimate{ID: a.ID, Mean: 1})
	}
	for _, h := range m.r.Heads {
		if i, ok := at[h.Area]; ok {
			list[i].Mean = min(list[i].Mean, coverage.PublishedDU(m.p.Nozzles[m.p.Heads[h.ID].Nozzle].Family))
		}
	}
	if du := m.p.Watering.AuditedDU; du != nil {
		for i := range list {
			list[i].Mean = units.Ratio(*du)
		}
	}
	return list
}

// minutesSays is what the minutes a week of the zones rest on.
func (m *maker) minutesSays() string {
	if len(m.r.Zones) == 0 {
		return ""
	}
	need := m.sys.Depth(zones.WindowOf(m.p).Need)
	if du := m.p.Watering.AuditedDU; du != nil {
		return fmt.Sprintf("Minutes a week at peak, about: %s on turf, less on other planting, at the audited evenness of %s.", need, m.sys.Percent(units.Ratio(*du)))
	}
	return fmt.Sprintf("Minutes a week at peak, about: %s on turf, less on other planting, at the evenness that published tests found, %s for sprays and %s for rotors and streams. Assumptions, until there is an audit.",
		need, m.sys.Percent(coverage.PublishedDU(catalog.Spray)), m.sys.Percent(coverage.PublishedDU(catalog.Rotor)))
}
