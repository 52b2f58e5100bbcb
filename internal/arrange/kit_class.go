package arrange

import (
	"fmt"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// setWithin is how far a setting may be off the rate of its class: within 10 %
	// heads are matched (common practice, as the finding has it).
	setWithin = 0.10
	// ownWithin is the same for a nozzle before its throw is turned down. It is half
	// as wide, so that no two nozzles of a class are farther apart than that 10 %,
	// whichever of them most heads of a zone have. Chosen.
	ownWithin = 0.05
)

// within reports whether a rate is within a share of another.
func within(rate, of, share float64) bool { return rate > 0 && math.Abs(rate/of-1) <= share+1e-9 }

// classes are the rates of a family's nozzles, in inches per hour, such that all
// of a class are within ownWithin of it; those that most nozzles have first. A
// rotor nozzle has a rate for every arc: its flow stays the same, so that a class
// is a set of nozzles by arc.
func classes(stock []item) []float64 {
	var rates []float64
	for i := range stock {
		it := &stock[i]
		for _, sweep := range markedArcs(it.row) {
			if q, err := it.row.Flow(it.pressure, sweep, 0); err == nil {
				if r := it.rate(sweep, it.table, q); r > 0 {
					rates = append(rates, r)
				}
			}
		}
	}
	slices.Sort(rates)
	var out []float64
	for len(rates) > 0 {
		from, to := fullest(rates)
		out = append(out, math.Sqrt(rates[from]*rates[to-1]))
		rates = slices.Delete(rates, from, to)
	}
	return out
}

// markedArcs are the arcs a nozzle is told apart by: one that it takes when its
// flow follows the arc, else the quarters of the circle that it takes.
func markedArcs(n catalog.Nozzle) []units.Degrees {
	switch {
	case n.Family == catalog.Strip:
		return []units.Degrees{0}
	case n.FlowFollowsArc || n.Fixed():
		return []units.Degrees{n.ArcMost}
	}
	var out []units.Degrees
	for _, a := range []units.Degrees{90, 180, 270, 360} {
		if n.ArcAllowed(a) == nil {
			out = append(out, a)
		}
	}
	return out
}

// fullest is the run of rising rates within ownWithin of one middle that holds
// the most; of equals the lowest.
func fullest(rates []float64) (from, to int) {
	const wide = (1 + ownWithin) / (1 - ownWithin)
	for i, j := 0, 0; i < len(rates); i++ {
		for j < len(rates) && rates[j] <= rates[i]*wide {
			j++
		}
		if j-i > to-from {
			from, to = i, j
		}
	}
	return from, to
}

// rateOfStays is the rate of the heads that stay on an area, 0 without any, or why
// nothing can be arranged around them.
func rateOfStays(p *plan.Plan, g *ground) (units.InchesPerHour, string) {
	var rates []float64
	for _, id := range g.stays {
		run, err := coverage.Running(p, id)
		if err != nil {
			return 0, err.Error()
		}
		if run.OwnRate > 0 {
			rates = append(rates, float64(run.OwnRate))
		}
	}
	if len(rates) == 0 {
		return 0, ""
	}
	slices.Sort(rates)
	least, most := rates[0], rates[len(rates)-1]
	middle := rates[len(rates)/2]
	if !within(least, middle, setWithin) || !within(most, middle, setWithin) {
		return 0, fmt.Sprintf("The heads that stay on %s put down %s to %s: two rates on one area, which no layout can make even. Let some of them go, or change their nozzles first.",
			g.name, p.Show.Rate(units.InchesPerHour(least)), p.Show.Rate(units.InchesPerHour(most)))
	}
	return units.InchesPerHour(middle), ""
}
