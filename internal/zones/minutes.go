package zones

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// AssumedDU is the distribution uniformity that minutes are reckoned with where no
// field estimate was made: about what installations of even layouts come out at.
// Chosen.
const AssumedDU units.Ratio = 0.65

// WindowOf is the time that a plan has to water in, as far as it says; else the
// usual.
func WindowOf(p *plan.Plan) Window {
	w := UsualWindow()
	if n := len(p.Watering.Days); n > 0 {
		w.Days = n
	}
	if from, ok := minuteOf(p.Watering.StartHHMM); ok {
		if to, ok := minuteOf(p.Watering.EndHHMM); ok {
			w.Hours = float64((to-from+24*60)%(24*60)) / 60
			if to == from {
				w.Hours = 24
			}
		}
	}
	if p.Watering.PeakInWk > 0 {
		w.Need = units.Inches(p.Watering.PeakInWk)
	}
	return w
}

// minuteOf is the minute of the day of "22:00".
func minuteOf(hhmm string) (int, bool) {
	h, m, ok := strings.Cut(hhmm, ":")
	hours, err1 := strconv.Atoi(h)
	minutes, err2 := strconv.Atoi(m)
	return hours*60 + minutes, ok && err1 == nil && err2 == nil && hours >= 0 && hours < 24 && minutes >= 0 && minutes < 60
}

// Minutes is how long each zone runs in a week at peak, by id: what the slowest of
// the areas its heads stand for needs from its own heads alone, by their water that
// lands on it over all of its ground, at the evenness to be expected in the field.
// Water that other areas' heads throw over is not counted on. estimates may be
// nil: then AssumedDU stands in. need is a week at peak of turf, 0 for the usual;
// other covers stand to it as plan.PeakWeek has them.
func Minutes(p *plan.Plan, r *coverage.Result, estimates []coverage.Estimate, need units.Inches) map[plan.ID]float64 {
	areas := areaWeeks(p, r, estimates, need)
	out := map[plan.ID]float64{}
	for _, h := range r.Heads {
		zone := p.Heads[h.ID].Zone
		if _, ok := p.Zones[zone]; ok {
			out[zone] = max(out[zone], areas[h.Area].minutes)
		}
	}
	return out
}

// week is an area's water from its own heads and what it needs at peak.
type week struct {
	rate    units.InchesPerHour
	minutes float64
}

func areaWeeks(p *plan.Plan, r *coverage.Result, estimates []coverage.Estimate, need units.Inches) map[plan.ID]week {
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
	out := map[plan.ID]week{}
	for _, a := range r.Areas {
		size := a.WithLip.AreaSqFt
		if !(size > 0) {
			size = a.AreaSqFt
		}
		if !(size > 0) {
			continue
		}
		w := week{rate: units.InchesPerHour(96.25 * float64(own[a.ID]) / float64(size))}
		wants := plan.PeakWeek(p.Areas[a.ID].Cover())
		if need > 0 {
			wants = units.Inches(float64(wants) * float64(need) / float64(plan.PeakWeek(plan.Turf)))
		}
		even, known := du[a.ID]
		if !known {
			even = AssumedDU
		}
		w.minutes = coverage.WeekMinutes(wants, w.rate, even)
		out[a.ID] = w
	}
	return out
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
