package coverage

import (
	"fmt"
	"math"
	"strings"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// CheckProgram holds the watering of a week at peak to the days and hours that the plan
// allows, and to what the soil takes in, as far as that can be told before a program is
// worked out from weather: by the one-zone sums. r is the plan's result. design is the
// design flow, for stations that may run side by side; 0: not known.
func CheckProgram(p *plan.Plan, r *Result, design units.GPM) []plan.Finding {
	areas := Weeks(p, r, ExpectedDU(p, r), 0)
	return append(windowShort(p, r, areas, design), cyclesShort(p, r, areas)...)
}

// Where a plan names only days or only hours the other is taken as usual: three days,
// eight hours (chosen, as zones.UsualWindow has them).
const (
	usualDays    = 3
	usualMinutes = 8 * 60
)

// mostDays are those of a week.
const mostDays = 7

// windowShort finds that the minutes of a week at peak do not go into the days and hours
// allowed, soaking left out. A plan that allows neither has not said what it must fit.
func windowShort(p *plan.Plan, r *Result, areas map[plan.ID]Week, design units.GPM) []plan.Finding {
	days := p.Watering.DaysAWeek()
	from, until, named := p.Watering.Hours()
	if days == 0 && !named {
		return nil
	}
	if days == 0 {
		days = usualDays
	}
	window := float64(until - from)
	if !named {
		window = usualMinutes
	}
	zones := ZoneWeeks(p, r, areas)
	sum, gallons, slowest := 0.0, 0.0, plan.ID("")
	for _, z := range r.Zones {
		if !p.Zones[z.ID].Status.Stands() {
			continue
		}
		sum += zones[z.ID]
		gallons += zones[z.ID] * float64(z.FlowGPM)
		if slowest == "" || zones[z.ID] > zones[slowest] {
			slowest = z.ID
		}
	}
	how := "in turn"
	if p.Watering.Together && design > 0 { // no program of stations side by side is shorter
		sum, how = max(zones[slowest], gallons/float64(design)), "even side by side, as far as the design flow goes"
	}
	if day := sum / days; day > window+0.5 {
		text := fmt.Sprintf("At peak, %s a week on turf%s, the stations run %.0f min a week %s: %s on each of %s, against %s allowed. Longest runs %s, %.0f min a week.",
			p.Show.Depth(p.PeakWeek(plan.Turf)), assumed(p), math.Ceil(sum), how, hours(day), daysWord(p.Watering, days), hours(window), p.ZoneName(slowest), math.Ceil(zones[slowest]))
		f := plan.Found(plan.WindowShort, text, plan.RefTo("zones", slowest)).Looking(p.MiddleOf(headsOf(p, r, slowest))).Measured("minutes_a_week", sum)
		f.Do = wider(sum, days, window)
		return []plan.Finding{f}
	}
	return nil
}

// headsOf are the heads of a zone that are in the result.
func headsOf(p *plan.Plan, r *Result, zone plan.ID) []plan.Ref {
	var heads []plan.Ref
	for _, h := range r.Heads {
		if p.Heads[h.ID].Zone == zone {
			heads = append(heads, plan.RefTo("heads", h.ID))
		}
	}
	return heads
}

// assumed says that the week at peak is the usual one and not the plan's.
func assumed(p *plan.Plan) string {
	if len(p.Watering.ETIn) == 12 || p.Watering.PeakInWk > 0 {
		return ""
	}
	return " as an assumption"
}

// daysWord is on what days of a week watering is allowed.
func daysWord(w plan.Watering, days float64) string {
	if w.Every > 0 {
		return fmt.Sprintf("%.1f days a week (one in %d)", days, w.Every)
	}
	return plan.Plural(int(days), "day", "days")
}

// wider is what would make a week's minutes fit.
func wider(sum, days, window float64) string {
	var ways []string
	if need := math.Ceil(sum/window - 0.01); need <= mostDays {
		ways = append(ways, "allow "+plan.Plural(int(need), "day", "days")+" a week")
	}
	if day := sum / days; day <= 24*60 {
		ways = append(ways, "allow "+hours(day)+" on each of them")
	}
	ways = append(ways, "choose heads of a faster rate or a larger supply, so that stations run side by side")
	return plan.Capital(strings.Join(ways, ", or ")) + ". The watering program shows what each comes to."
}

// hours are minutes in words.
func hours(minutes float64) string {
	m := int(math.Ceil(minutes - 1e-9))
	if m%60 == 0 {
		return fmt.Sprintf("%d h", m/60)
	}
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// usualStarts are those of a program of a controller (common practice).
const usualStarts = 4

// cyclesShort finds areas that get water faster than their soil takes it in, so that a
// watering must be parted into more cycles than the controller has starts: it would run
// off, or the ground would stay dry.
func cyclesShort(p *plan.Plan, r *Result, areas map[plan.ID]Week) []plan.Finding {
	if p.Controller.Soaks {
		return nil
	}
	starts := p.Controller.Starts
	if starts == 0 {
		starts = usualStarts
	}
	days := p.Watering.DaysAWeek()
	if days == 0 {
		days = usualDays
	}
	var found []plan.Finding
	for _, reading := range r.Areas {
		a, w := p.Areas[reading.ID], areas[reading.ID]
		intake, surface := soilOf(p, a)
		if a.Soil == "" || float64(w.Rate) <= intake {
			continue // soil that is not said is an assumption that nothing is to be held to
		}
		longest := 60 * surface / (float64(w.Rate) - intake)
		watering := w.Minutes / min(days, mostDays)
		cycles := math.Ceil(watering/max(longest, 1) - 1e-9)
		if cycles <= float64(starts) {
			continue
		}
		text := fmt.Sprintf("%s gets %s, and its soil (%s) takes in %s: water runs off after %.0f min. At peak a watering of %.0f min has to be parted into %.0f cycles with time to soak between; the controller has %s a day.",
			plan.Capital(p.AreaName(reading.ID)), p.Show.Rate(w.Rate), plan.Words(a.Soil), p.Show.Rate(units.InchesPerHour(intake)), longest, watering, cycles, plan.Plural(starts, "start", "starts"))
		f := plan.Found(plan.CyclesShort, text, plan.RefTo("areas", reading.ID)).Measured("cycles", cycles)
		if shape, err := geom.Polygon(a.Outline, a.Holes); err == nil {
			f = f.Looking(geom.InsidePoint(shape))
		}
		found = append(found, f)
	}
	return found
}

// soilOf is what an area's soil takes in, in/h, and what may stand on it, in.
func soilOf(p *plan.Plan, a plan.Area) (intake, surface float64) {
	intake, _ = p.Figure(a.SoilIntake())
	surface, _ = p.Figure(a.SoilSurface())
	if steep := a.SlopeSurface(); steep != "" {
		share, _ := p.Figure(steep)
		surface *= share
	}
	return intake, surface
}
