package zones

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// WindowOf is the time that a plan has to water in, as far as it says; else the
// usual. Of one day in so many it has whole days of a week, at least one.
func WindowOf(p *plan.Plan) Window {
	w := UsualWindow()
	if n := p.Watering.DaysAWeek(); n > 0 {
		w.Days = max(1, int(n))
	}
	if from, until, named := p.Watering.Hours(); named {
		w.Hours = float64(until-from) / 60
	}
	w.Need = p.PeakWeek(plan.Turf)
	return w
}

// Minutes is how long each zone runs in a week at peak, by id; see coverage.Weeks and
// ZoneWeeks.
func Minutes(p *plan.Plan, r *coverage.Result, estimates []coverage.Estimate, need units.Inches) map[plan.ID]float64 {
	return coverage.ZoneWeeks(p, r, coverage.Weeks(p, r, estimates, need))
}

// fits tells whether so many minutes, stations in turn, go into the window, and
// says so.
func (w Window) fits(sys units.System, minutes float64) (bool, string) {
	if w.Days <= 0 || !(w.Hours > 0) {
		return false, "No time to water in is given."
	}
	day := minutes / float64(w.Days)
	text := fmt.Sprintf("At peak (%s a week on turf) the stations run %.0f min a week in turn: %.1f h on each of %s, where there are %s h",
		depth(sys, w.Need), minutes, day/60, plan.Plural(w.Days, "day", "days"), trim(w.Hours))
	if day <= w.Hours*60+0.5 {
		return true, text + ". That fits."
	}
	days := int(minutes/(w.Hours*60)) + 1
	if days <= 7 {
		return false, fmt.Sprintf("%s. That does not fit: allow %s, or more hours a day.", text, plan.Plural(days, "day", "days"))
	}
	return false, text + ". That does not fit in any week: allow more hours a day, or heads of a faster rate."
}

// depth is a depth of water: "1.4 in", "36 mm".
func depth(sys units.System, in units.Inches) string {
	if sys == units.Metric {
		return fmt.Sprintf("%.0f mm", in.Millimetres())
	}
	return trim(math.Round(float64(in)*100)/100) + " in"
}

func trim(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func (w Window) or(p *plan.Plan) Window {
	own := WindowOf(p)
	return Window{cmp.Or(w.Days, own.Days), cmp.Or(w.Hours, own.Hours), cmp.Or(w.Need, own.Need)}
}
