package sheets

import (
	"fmt"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/pressure"
)

// readings are the three figures of the whole plan and the use of the supply.
func (r *reporter) readings() {
	r.section("Readings")
	rows := r.readingRows()
	if rows == nil {
		r.line("  %s", NothingWatered)
		return
	}
	r.table(rows)
}

// NothingWatered is said where there are no readings.
const NothingWatered = "No planting is watered yet: draw a planting area and place heads."

// Readings are the figures of a whole plan, a name and its words a row; a row without
// a name goes on about the one before. None where nothing is watered (NothingWatered).
func Readings(p *plan.Plan, d *design.Design, asked design.Asked) [][]string {
	return newReporter(p, d, asked).readingRows()
}

func (r *reporter) readingRows() [][]string {
	c := r.d.Coverage
	worst := c.LeastEven()
	if worst == nil {
		return nil
	}
	even := fmt.Sprintf("%s layout uniformity on %s, the least even area", r.sys.Percent(worst.DU), r.p.AreaName(worst.ID))
	if len(c.Areas) == 1 {
		even = fmt.Sprintf("%s layout uniformity on %s", r.sys.Percent(worst.DU), r.p.AreaName(worst.ID))
	}
	rows := [][]string{{"Evenness", even}}
	if e, ok := r.field[worst.ID]; ok {
		rows = append(rows, []string{"", fmt.Sprintf("%s field estimate; one installation in ten comes out below %s", r.sys.Percent(e.Mean), r.sys.Percent(e.P10))})
	} else {
		rows = append(rows, []string{"", "no field estimate was made"})
	}
	rows = append(rows, r.onAWindyDay(worst.ID)...)
	return append(rows,
		[]string{"Driest place", r.driest(worst)},
		[]string{"Rate", r.rate()},
		[]string{"Supply", r.supply()},
	)
}

// onAWindyDay is the evenness of an area in the plan's wind, and on what it rests.
func (r *reporter) onAWindyDay(id plan.ID) [][]string {
	if r.windy == nil {
		return nil
	}
	for _, a := range r.windy.Areas {
		if a.ID == id {
			return [][]string{{"", fmt.Sprintf("%s in a wind of %s from %s, if it carries water about %s of its distance further: assumed",
				r.sys.Percent(a.DU), r.sys.Speed(r.windy.Speed), r.p.Site.WindFrom(), r.sys.Percent(r.windy.Drift))}}
		}
	}
	return nil
}

func (r *reporter) driest(worst *coverage.AreaReading) string {
	if gaps := r.d.Coverage.Gaps; len(gaps) > 0 {
		g := gaps[0]
		return fmt.Sprintf("%s, %s: %s dry%s", r.p.AreaName(g.Area), r.p.Whereabouts(g.At), r.sys.Area(g.AreaSqFt), largestOf(len(gaps)))
	}
	if worst.Driest == nil {
		return "nowhere"
	}
	return fmt.Sprintf("%s, %s: %s of the mean", r.p.AreaName(worst.ID), r.p.Whereabouts(*worst.Driest), r.sys.Percent(worst.Driest2))
}

func largestOf(patches int) string {
	if patches < 2 {
		return ""
	}
	return fmt.Sprintf(", the largest of %d patches", patches)
}

func (r *reporter) rate() string {
	slow, fast := r.d.Coverage.SlowestAndFastest()
	if slow == fast {
		return r.sys.Rate(slow.Mean)
	}
	return fmt.Sprintf("%s on %s to %s on %s", r.sys.Rate(slow.Mean), r.p.AreaName(slow.ID), r.sys.Rate(fast.Mean), r.p.AreaName(fast.ID))
}

// supply is the thirstiest zone against the design flow.
func (r *reporter) supply() string {
	limit := r.d.Pressure.Supply.DesignGPM
	kind := "to plan on (measured)"
	switch {
	case r.d.Pressure.Supply.Assumed:
		kind = "ASSUMED supply, not measured"
	case r.d.Pressure.Supply.Binding == pressure.Override:
		kind = "to plan on (chosen)"
	}
	top := r.d.Coverage.Thirstiest()
	if top != nil && limit == 0 {
		return fmt.Sprintf("%s, by %s, and the supply lacks the pressure wanted", r.sys.Flow(top.FlowGPM), r.p.ZoneName(top.ID))
	}
	if top == nil {
		return fmt.Sprintf("%s %s; no zones yet", r.sys.Flow(limit), kind)
	}
	return fmt.Sprintf("%s of %s %s, by %s", r.sys.Flow(top.FlowGPM), r.sys.Flow(limit), kind, r.p.ZoneName(top.ID))
}
