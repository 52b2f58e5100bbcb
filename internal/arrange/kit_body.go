package arrange

import (
	"cmp"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// bodyChoice chooses the body of each nozzle on one area.
type bodyChoice struct {
	p      *plan.Plan
	height units.Inches // at least
	check  bool         // some head will stand lower than another
	zone   units.PSI    // planned for the zone, 0: each nozzle's best
	supply units.PSI    // the most there may be, 0: not known
	ids    []plan.ID    // the plan's bodies and the catalogue's, by id
}

func newBodyChoice(p *plan.Plan, g *ground) *bodyChoice {
	c := &bodyChoice{p: p, height: bodyHeight(p.Areas[g.id]), check: falls(p, g), supply: restPressure(p), zone: zonePressure(p, g)}
	for _, e := range catalog.Bodies() {
		c.ids = append(c.ids, plan.ID(e.ID))
	}
	c.ids = append(c.ids, plan.SortedIDs(p.Bodies)...)
	slices.Sort(c.ids)
	c.ids = slices.Compact(c.ids)
	return c
}

// bodyHeight is the least pop-up height for what grows on an area: 4 in where
// turf is mown at 3 in or lower, 6 in above that, 12 in among plants (common
// practice, as the finding of short pop-ups has it).
func bodyHeight(a plan.Area) units.Inches {
	switch a.Cover() {
	case plan.Flowers, plan.Shrubs, plan.Groundcover, plan.Vegetables:
		return 12
	}
	if a.MowHeight() > 3 {
		return 6
	}
	return 4
}

// lowerBy is how much of a fall asks for check valves, in feet, as the finding of
// low heads has it.
const lowerBy = 0.5

// falls reports whether the ground of an area falls so much that the pipe would
// drain through its lowest head.
func falls(p *plan.Plan, g *ground) bool {
	if len(p.Elevations) < 2 {
		return false
	}
	relief := p.Relief()
	least, most := math.Inf(1), math.Inf(-1)
	for _, poly := range g.shape {
		for _, ring := range poly {
			for _, at := range ring {
				if z, ok := relief.Height(at); ok {
					least, most = min(least, z), max(most, z)
				}
			}
		}
	}
	return most-least >= lowerBy
}

// restPressure is the highest pressure that heads may see, as far as the plan
// knows it: the highest reading, held down by the system's own regulator.
func restPressure(p *plan.Plan) units.PSI {
	most := p.Supply.StaticPSI
	for _, id := range plan.SortedIDs(p.Supply.Statics) {
		most = max(most, p.Supply.Statics[id].PSI)
	}
	if p.Supply.Regulator && p.Supply.RegulatorPSI > 0 {
		most = min(most, p.Supply.RegulatorPSI)
	}
	return most
}

const (
	// mistFrom is the pressure at a spray past which it mists (common practice, as
	// the finding has it).
	mistFrom units.PSI = 40
	// lostOnWay is what valves, backflow device and pipes take at the least on the
	// way to a head. Chosen, low, so that bodies are regulated rather than not.
	lostOnWay units.PSI = 10
)

// regulate reports whether the supply may bring a nozzle more than it works at:
// sprays past the pressure they mist at, others past the last row of their table.
func (c *bodyChoice) regulate(n catalog.Nozzle) bool {
	most := n.Rows[len(n.Rows)-1].Pressure
	if n.Family == catalog.Spray || n.Family == catalog.Strip {
		most = min(most, mistFrom)
	}
	return c.supply > most+lostOnWay || c.zone > most
}

// of is the body for a nozzle: the lowest that is tall enough, regulated and with
// a check valve where that is called for and not where it is not, set nearest to
// the nozzle's best pressure; of equals one that the plan has, then the first by
// id. Where none is tall enough it is the tallest.
func (c *bodyChoice) of(n catalog.Nozzle) (plan.ID, catalog.Body, bool) {
	regulate := c.regulate(n)
	var best plan.ID
	var row catalog.Body
	var least [5]float64
	for _, id := range c.ids {
		b, _ := bodyRow(c.p, id)
		if !b.Fits(n) {
			continue
		}
		if b.Regulated > 0 && !c.holds(n, b) {
			continue
		}
		_, has := c.p.Bodies[id]
		cost := [5]float64{
			max(0, float64(c.height-b.Height)) + 1e-3*max(0, float64(b.Height-c.height)),
			differs(regulate, b.Regulated > 0),
			differs(c.check, b.CheckValve),
			math.Abs(float64(b.Regulated - n.BestPSI)),
			differs(has, true),
		}
		if b.Regulated == 0 {
			cost[3] = 0
		}
		if best == "" || slices.Compare(cost[:], least[:]) < 0 {
			best, row, least = id, b, cost
		}
	}
	return best, row, best != ""
}

// holds reports whether a nozzle works at the pressure a body regulates to.
func (c *bodyChoice) holds(n catalog.Nozzle, b catalog.Body) bool {
	_, _, err := n.At(min(b.Regulated, cmp.Or(n.BestPSI, b.Regulated)))
	return err == nil
}

func differs(a, b bool) float64 {
	if a != b {
		return 1
	}
	return 0
}
