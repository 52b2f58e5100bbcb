package season

import (
	"cmp"
	"fmt"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/watering"
)

// MinutesOf is every figure from the weather of a month, 0 January, to the minutes of a
// zone: the chain of the area that asks longest of it (ChainOf), the plain sum, what other
// zones bring that area, and what was solved. nil for a zone that stands for no area, or
// is not there.
func MinutesOf(prog *Program, zone plan.ID, month int) []Factor {
	q := prog.Asked
	z := slices.IndexFunc(q.Input.Zones, func(w watering.Zone) bool { return w.ID == string(zone) })
	if z < 0 || month < 0 || month > 11 || len(q.Input.Zones[z].Own) == 0 {
		return nil
	}
	area := q.Input.Zones[z].Own[0]
	m := prog.Year.Months[month]
	if m != nil && m.Plain[z].Area >= 0 {
		area = m.Plain[z].Area
	}
	f := ChainOf(q, q.Needs[area].ID, month)
	f = append(f, q.soilOf(area, month)...)
	if m == nil {
		return append(f, Factor{"Minutes", 0, Minutes, "nothing is needed in this month"})
	}
	f = append(f, q.plainOf(&m.Plain[z])...)
	return append(f, q.solvedOf(m, z, area)...)
}

// soilOf is how long the soil of an area lasts.
func (q *Question) soilOf(area, month int) []Factor {
	n, a := &q.Needs[area], &q.Input.Areas[area]
	sys, f := q.Input.Show, slices.Clone(n.Soil[:soilIntake])
	f = append(f, Factor{"May be used up", float64(a.Available()), Inches, product(sys, f...) + " / " + inches(sys, 12)})
	if days := a.Interval(month); days > 0 {
		f = append(f, Factor{"Its soil lasts", float64(days), Days, fmt.Sprintf("%s over %s a day, in whole days", inches(sys, a.Available()), inches(sys, a.Need[month]))})
	}
	return f
}

// targetWords say what the run-time multiplier is.
var targetWords = map[watering.Target]string{
	watering.Half:    "1 / (0.4 + 0.6 × DU): the dry half gets enough (Irrigation Association 2005, from memory)",
	watering.Quarter: "1 / DU: the driest quarter gets enough",
	watering.Mean:    "1: the mean gets enough, the dry parts too little",
}

// roundWords say what the days are that a program is repeated after.
func (q *Question) roundWords() string {
	switch n := len(q.Input.Calendar.Days); n {
	case 7:
		return "a week"
	case 1:
		return "every day alike"
	default:
		return fmt.Sprintf("one day in %d is allowed", n)
	}
}

// partWords name the part of an area that a target looks at.
var partWords = map[watering.Target]string{watering.Half: "its dry half", watering.Quarter: "its driest quarter", watering.Mean: "it in the mean"}

// plainOf is the one-zone sum, as it is done by hand.
func (q *Question) plainOf(p *watering.Plain) []Factor {
	if p.Area < 0 || p.Rate == 0 {
		return nil
	}
	n := &q.Needs[p.Area]
	from := n.DUFrom
	if n.FieldDU == 0 {
		from = "as drawn: there is neither an audit nor an estimate"
	}
	sys := q.Input.Show
	need := Factor{Value: float64(p.Need), Unit: InchesDay}
	round := Factor{"Days of a round", float64(p.Days), Days, q.roundWords()}
	depth := Factor{"To bring in a round", float64(p.Depth), Inches, product(sys, need, round)}
	rate := Factor{"Mean rate", float64(p.Rate), InchesHr, "the map, all zones that stand for " + n.Name + " together"}
	base := Factor{"Minutes at the mean rate", p.Base, Minutes, fmt.Sprintf("60 × %s / %s", depth.Shown(sys), rate.Shown(sys))}
	times := Factor{"Run-time multiplier", p.Multiplier, "", targetWords[q.Input.Target]}
	f := []Factor{
		round, depth, rate, base, {"Evenness in the field (DU)", float64(p.DU), Share, cmp.Or(from, "the field estimate")}, times,
		{"Minutes by the plain sum", p.Minutes, Minutes, product(sys, base, times)},
	}
	if p.Longest > 0 {
		intake, surface := n.Soil[soilIntake], n.Soil[soilSurface]
		f = append(f, intake, surface, Factor{"Longest before it runs off", p.Longest, Minutes,
			fmt.Sprintf("60 × %s / (%s − %s)", surface.Shown(sys), rate.Shown(sys), intake.Shown(sys))})
	}
	return f
}

// solvedOf is what came of solving all zones together.
func (q *Question) solvedOf(m *watering.Month, zone, area int) []Factor {
	round := float64(len(q.Input.Calendar.Days))
	minutes := make([]float64, len(q.Input.Zones)) // of a round
	for _, p := range m.Programs {
		for _, r := range p.Runs {
			minutes[r.Zone] += float64(r.Minutes * len(p.Days))
		}
	}
	own, others := q.brought(minutes, area)
	f := []Factor{
		{"Its own zones bring", own, Inches, fmt.Sprintf("in the mean, in %g days, as solved", round)},
	}
	if others > 0 {
		f = append(f, Factor{"Other zones bring", others, Inches, "in the mean, as far as it counts"})
	}
	if got := m.Areas[area]; got.Counts > 0 {
		f = append(f, Factor{"Of it counts", float64(got.Counts), Inches, fmt.Sprintf("what %s gets, by the evenness in the field; it needs %s", partWords[q.Input.Target], inches(q.Input.Show, got.Need))})
	}
	f = append(f, Factor{"Minutes as solved", minutes[zone], Minutes, fmt.Sprintf("in %g days, all zones together for the least water, in whole minutes", round)})
	if more := m.Gallons - m.Least; more > 0 {
		f = append(f, Factor{"Whole minutes take", float64(more), Gallons, fmt.Sprintf("more than minutes in parts, of all stations in %g days", round)})
	}
	for i, p := range m.Programs {
		for _, r := range p.Runs {
			if r.Zone != zone {
				continue
			}
			how := fmt.Sprintf("on each of %s", plan.Plural(len(p.Days), "day", "days"))
			if r.Cycles > 1 {
				how += fmt.Sprintf(", in %d cycles with %d min between", r.Cycles, r.Soak)
			}
			f = append(f, Factor{fmt.Sprintf("Program %c", 'A'+i), float64(r.Minutes), Minutes, how})
			if r.Cycles > 1 {
				f = append(f, Factor{fmt.Sprintf("Cycles in program %c", 'A'+i), float64(r.Cycles), Times, q.paceWords(m.PaceOf(i, r), zone)})
			}
		}
	}
	return f
}

// paceWords say what sets the cycles of a zone's run.
func (q *Question) paceWords(of watering.Pace, zone int) string {
	if of.Zone < 0 {
		return "so many that water of one station has soaked in before another's comes to the same ground"
	}
	longest := fmt.Sprintf("%d min a day, at most %d min at a time, at the rate where most of its water falls, so that nothing runs off %s", of.Minutes, of.Longest, q.Needs[of.Area].Name)
	if of.Zone == zone {
		return longest
	}
	z := q.Input.Zones[of.Zone]
	return fmt.Sprintf("each start runs all stations; station %d, %s, needs most: %s", z.Station, z.Name, longest)
}

// brought is the mean depth on an area in inches, of the zones that stand for it and of
// others by what of theirs counts.
func (q *Question) brought(minutes []float64, area int) (own, others float64) {
	a := &q.Input.Areas[area]
	for z, rates := range a.Rates {
		if len(rates) == 0 {
			continue
		}
		sum := 0.0
		for _, r := range rates {
			sum += float64(r)
		}
		depth := sum / float64(len(rates)) * minutes[z] / 60
		if a.Credit != nil {
			depth *= float64(a.Credit[z])
		}
		if slices.Contains(q.Input.Zones[z].Own, area) {
			own += depth
		} else {
			others += depth
		}
	}
	return own, others
}
