package proof

import (
	"context"
	"math"
	"slices"

	"evenfall/internal/climate"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// reckoner works out the water of an old system in any state of mending.
type reckoner struct {
	ctx    context.Context
	f      *oldSystem
	field  *coverage.Field
	need   map[plan.ID]units.Inches // by area: of the year, or the week at peak
	field0 map[plan.ID]float64      // evenness in the field over the drawn, by area
	audit  map[plan.ID]float64      // by area; absent: not audited
	before *outcome
	mended *outcome
	// peakOnly: the plan has no climate, and the water is of its week at peak.
	peakOnly bool
}

// outcome is the water in one state.
type outcome struct {
	areas map[plan.ID]coverage.AreaReading
	zones map[plan.ID]coverage.ZoneReading
	lost  map[plan.ID]float64 // gpm
	du    map[plan.ID]float64 // to be expected, by area
	water map[plan.ID]float64 // gallons, by zone
	total float64
	out   int // heads in no figure
}

// needs are what the areas need, by the plan's climate.
func needs(p *plan.Plan, areas []coverage.AreaReading) (need map[plan.ID]units.Inches, peakOnly bool, err error) {
	year, peakOnly, err := season.YearOf(p)
	if err != nil {
		return nil, false, err
	}
	need = map[plan.ID]units.Inches{}
	for _, a := range areas {
		n, err := season.NeedOf(p, a.ID, year)
		if err != nil {
			return nil, false, err
		}
		if peakOnly {
			need[a.ID] = 7 * (n.Month[0].Day + n.Month[0].Left)
			continue
		}
		for m := range n.Month {
			need[a.ID] += n.Month[m].Day * units.Inches(climate.Days[m])
		}
	}
	return need, peakOnly, nil
}

// read is the coverage in one state.
func (r *reckoner) read(done fixed) (*outcome, error) {
	m := r.f.as(done)
	got, _, err := r.field.UpdateAt(r.ctx, m.plan, m.given)
	if err != nil {
		return nil, err
	}
	o := &outcome{areas: map[plan.ID]coverage.AreaReading{}, zones: map[plan.ID]coverage.ZoneReading{}, lost: m.lost, out: len(got.LeftOut)}
	for _, a := range got.Areas {
		o.areas[a.ID] = a
	}
	for _, z := range got.Zones {
		o.zones[z.ID] = z
	}
	return o, nil
}

// least is the part of its mended mean rate that an area is taken to get at least, so that
// an area whose heads all fail does not ask for hours without end. Chosen.
const leastMean = 0.25

// price works out the water of a state: minutes by the area of a zone that asks longest.
func (r *reckoner) price(o *outcome) {
	o.du, o.water = map[plan.ID]float64{}, map[plan.ID]float64{}
	minutes := map[plan.ID]float64{}
	for _, id := range plan.SortedIDs(o.areas) {
		a := o.areas[id]
		o.du[id] = r.even(id, float64(a.DU))
		mean := max(a.Mean, leastMean*r.mended.areas[id].Mean)
		minutes[id] = coverage.WeekMinutes(r.need[id], mean, units.Ratio(o.du[id]))
	}
	for _, id := range plan.SortedIDs(o.zones) {
		z := o.zones[id]
		longest := 0.0
		for _, a := range z.Areas {
			longest = max(longest, minutes[a])
		}
		if longest == 0 { // none of its water lands on planting: as in the state when mended
			for _, a := range r.mended.zones[id].Areas {
				longest = max(longest, minutes[a])
			}
		}
		o.water[id] = (float64(z.FlowGPM) + o.lost[id]) * longest
		o.total += o.water[id]
	}
}

// even is the evenness to be expected of an area in the field where the drawn one is so
// much: the field estimate's share of it; where an audit found another it goes from the
// audited to that of the mended layout as the drawn one does.
func (r *reckoner) even(area plan.ID, drawn float64) float64 {
	whole := r.field0[area]
	audited, ok := r.audit[area]
	if !ok {
		return whole * drawn
	}
	from, to := float64(r.before.areas[area].DU), float64(r.mended.areas[area].DU)
	if to-from < 0.005 { // mending does not show in the layout: the audit stands
		return audited
	}
	part := min(max((drawn-from)/(to-from), 0), 1)
	return audited + part*(max(whole*to, audited)-audited)
}

// audits are the areas with an audit: of the zone that stands for it the least even, or
// the plan's own.
func audits(p *plan.Plan, zones []coverage.ZoneReading, areas []coverage.AreaReading) map[plan.ID]float64 {
	out := map[plan.ID]float64{}
	for _, a := range areas {
		least := math.Inf(1)
		for _, z := range zones {
			if du := float64(p.Zones[z.ID].AuditedDU); du > 0 && slices.Contains(z.Areas, a.ID) {
				least = min(least, du)
			}
		}
		if own := p.Watering.AuditedDU; math.IsInf(least, 1) && own != nil {
			least = float64(*own)
		}
		if !math.IsInf(least, 1) {
			out[a.ID] = least
		}
	}
	return out
}
