package coverage

import (
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// AssumedDU is the distribution uniformity that minutes are reckoned with where no
// field estimate was made: about what installations of even layouts come out at.
// Chosen.
const AssumedDU units.Ratio = 0.65

// Week is an area's water from its own heads, the need of a week at peak, and how long
// those heads run for it.
type Week struct {
	Rate    units.InchesPerHour // of its own heads' water that lands on it, over all of its ground
	Need    units.Inches
	DU      units.Ratio // expected in the field
	Minutes float64
}

// Weeks are the weeks at peak of the areas watered overhead, by id: what each needs from
// its own heads alone, at the evenness to be expected in the field. Water that other
// areas' heads throw over is not counted on. estimates may be nil: then AssumedDU stands
// in. need is a week at peak of turf, 0 for the plan's; other covers stand to it as
// plan.PeakWeek has them.
func Weeks(p *plan.Plan, r *Result, estimates []Estimate, need units.Inches) map[plan.ID]Week {
	own := map[plan.ID]units.GPM{}
	for _, h := range r.Heads {
		for _, l := range h.Landed {
			if l.Surface == h.Area {
				own[h.Area] += l.GPM
			}
		}
	}
	du := map[plan.ID]units.Ratio{}
	for _, e := range estimates {
		du[e.ID] = e.Mean
	}
	out := map[plan.ID]Week{}
	for _, a := range r.Areas {
		size := a.WithLip.AreaSqFt
		if !(size > 0) {
			size = a.AreaSqFt
		}
		if !(size > 0) {
			continue
		}
		w := Week{Rate: units.PrecipitationRate(own[a.ID], size), Need: p.PeakWeek(p.Areas[a.ID].Cover()), DU: AssumedDU}
		if need > 0 {
			w.Need *= need / p.PeakWeek(plan.Turf)
		}
		if even, known := du[a.ID]; known {
			w.DU = even
		}
		w.Minutes = WeekMinutes(w.Need, w.Rate, w.DU)
		out[a.ID] = w
	}
	return out
}

// ZoneWeeks is how long each zone runs in a week at peak, by id: what the slowest of the
// areas its heads stand for needs.
func ZoneWeeks(p *plan.Plan, r *Result, areas map[plan.ID]Week) map[plan.ID]float64 {
	out := map[plan.ID]float64{}
	for _, h := range r.Heads {
		zone := p.Heads[h.ID].Zone
		if _, ok := p.Zones[zone]; ok {
			out[zone] = max(out[zone], areas[h.Area].Minutes)
		}
	}
	return out
}

// ExpectedDU is how even each area is expected to come out in the field: as an audit of
// its zones or of all says, or else as such nozzles did where they were tested, the least
// of its own. A field estimate takes too long for every move of a head.
func ExpectedDU(p *plan.Plan, r *Result) []Estimate {
	list := make([]Estimate, 0, len(r.Areas))
	at := map[plan.ID]int{}
	for _, a := range r.Areas {
		at[a.ID] = len(list)
		list = append(list, Estimate{ID: a.ID, Mean: 1})
	}
	audited := map[plan.ID]units.Ratio{}
	for _, h := range r.Heads {
		i, ok := at[h.Area]
		if !ok {
			continue
		}
		head := p.Heads[h.ID]
		list[i].Mean = min(list[i].Mean, PublishedDU(p.Nozzles[head.Nozzle].Family))
		if du := p.Zones[head.Zone].AuditedDU; du > 0 && (audited[h.Area] == 0 || du < audited[h.Area]) {
			audited[h.Area] = du
		}
	}
	for i := range list {
		if du := audited[list[i].ID]; du > 0 {
			list[i].Mean = du
		} else if du := p.Watering.AuditedDU; du != nil {
			list[i].Mean = units.Ratio(*du)
		}
	}
	return list
}
