package season

import (
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// audit is the evenness that somebody measured.
type audit struct {
	du   units.Ratio
	from string
}

// auditsOf are the audits that hold for each area: the least of the zones that stand
// for it, or else the plan's own.
func auditsOf(p *plan.Plan, g *coverage.ZoneGround) map[plan.ID]*audit {
	out := map[plan.ID]*audit{}
	for _, a := range g.Areas {
		var least *audit
		for _, z := range g.Zones {
			zone := p.Zones[z.ID]
			if du := zone.AuditedDU; du > 0 && slices.Contains(z.Own, a.ID) && (least == nil || du < least.du) {
				least = &audit{du, "the audit of " + zone.Name}
			}
		}
		if du := p.Watering.AuditedDU; least == nil && du != nil {
			least = &audit{units.Ratio(*du), "the audit"}
		}
		if least != nil {
			out[a.ID] = least
		}
	}
	return out
}

// evenness is the low-quarter uniformity that an area is reckoned with: as audited, or
// as the field estimate has it on average, never the drawn one (trade E21). 0: neither.
func evenness(id plan.ID, audited *audit, estimates []coverage.Estimate) (units.Ratio, string) {
	if audited != nil {
		return audited.du, audited.from
	}
	for _, e := range estimates {
		if e.ID == id {
			return e.Mean, "the field estimate"
		}
	}
	return 0, ""
}
