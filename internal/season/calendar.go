package season

import (
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/pressure"
	"evenfall/internal/watering"
)

// The hours where the plan names none: at night, when it is calm, and dry by day
// (common practice).
const (
	usualFrom  = 22 * 60
	usualUntil = 30 * 60
)

// UsualHours are the hours where the plan does not name both, in minutes after midnight;
// the end is of the next day.
func UsualHours() (from, until int) { return usualFrom, usualUntil }

// calendar is when water may be put out, and how much at a time.
func (q *Question) calendar(p *plan.Plan) {
	w := p.Watering
	c := watering.Calendar{Days: make([]bool, len(plan.Weekdays())), From: usualFrom, Until: usualUntil, Together: w.Together}
	for i, d := range plan.Weekdays() {
		c.Days[i] = len(w.Days) == 0 || slices.Contains(w.Days, d)
	}
	if len(w.Days) == 0 && w.Every == 0 {
		q.note("No days are named: every day is taken as allowed.")
	}
	if w.Every > 0 {
		c.Days = make([]bool, w.Every)
		c.Days[0] = true
	}
	if from, until, named := w.Hours(); named {
		c.From, c.Until = from, until
	} else {
		q.note("The hours are not both named: 22:00 to 06:00 are taken.")
	}
	if c.Flow = pressure.SupplyOf(p).DesignGPM; c.Together && !(c.Flow > 0) {
		c.Together = false
		q.note("The supply has no design flow, so stations run in turn.")
	}
	q.Input.Calendar = c
}

// controller is what the user's controller can hold, and the target of the run times.
func (q *Question) controller(p *plan.Plan) {
	c := p.Controller
	q.Input.Controller = watering.Controller{
		Stations: c.Stations, Programs: c.Programs, Starts: c.Starts, Soaks: c.Soaks, Percent: c.Adjusts != "none",
	}
	switch p.Watering.Target {
	case plan.ByMean:
		q.Input.Target = watering.Mean
	case plan.ByLowQuarter:
		q.Input.Target = watering.Quarter
	default:
		q.Input.Target = watering.Half
	}
}
