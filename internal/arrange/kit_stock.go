package arrange

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// item is a nozzle of the stock in the body it goes into on one area, at its
// planned pressure.
type item struct {
	id, body plan.ID
	row      catalog.Nozzle
	pressure units.PSI
	table    units.Feet // throw at that pressure
	fall     *coverage.Fall
}

// stockOf is what of the stock can stand on the area, by id, or why nothing can.
func stockOf(p *plan.Plan, g *ground, o Options) ([]item, string) {
	ids, why := stockIDs(p, o)
	if why != "" {
		return nil, why
	}
	choose := newBodyChoice(p, g)
	pressure := choose.zone
	falls := map[[2]plan.ID]*coverage.Fall{}
	var out []item
	var unfit string
	for _, id := range ids {
		n, _ := nozzleRow(p, id)
		if len(o.Families) > 0 && !slices.Contains(o.Families, n.Family) {
			continue
		}
		body, row, ok := choose.of(n)
		if !ok {
			unfit = fmt.Sprintf("No body takes nozzle %s: its thread is %q. Add a body with that thread to the plan.", catalog.NameIn(p.Show, n.Name), n.Thread)
			continue
		}
		it := item{id: id, body: body, row: n, pressure: cmp.Or(pressure, n.BestPSI)}
		if row.Regulated > 0 && row.Regulated < it.pressure {
			it.pressure = row.Regulated
		}
		table, _, err := n.At(it.pressure)
		if err != nil {
			unfit = err.Error()
			continue
		}
		it.table = table
		if falls[[2]plan.ID{id, body}] == nil {
			falls[[2]plan.ID{id, body}] = coverage.FallOf(n, row)
		}
		it.fall = falls[[2]plan.ID{id, body}]
		out = append(out, it)
	}
	if len(out) == 0 {
		return nil, cmp.Or(unfit, "No nozzle of the kinds asked for is in the stock. Choose more nozzles, or other kinds.")
	}
	return out, ""
}

// stockIDs are the nozzles that may be used, by id: those asked for; without
// any every generic nozzle and those of the plan.
func stockIDs(p *plan.Plan, o Options) ([]plan.ID, string) {
	ids := slices.Clone(o.Stock)
	for _, id := range ids {
		if _, ok := nozzleRow(p, id); !ok {
			return nil, fmt.Sprintf("The stock names nozzle %q, which neither the plan nor the catalogue has.", id)
		}
	}
	if len(ids) == 0 {
		for _, e := range catalog.Nozzles() {
			ids = append(ids, plan.ID(e.ID))
		}
		ids = append(ids, plan.SortedIDs(p.Nozzles)...)
	}
	slices.Sort(ids)
	return slices.Compact(ids), ""
}

// nozzleRow is a nozzle: the plan's own row, else the catalogue's.
func nozzleRow(p *plan.Plan, id plan.ID) (catalog.Nozzle, bool) {
	if n, ok := p.Nozzles[id]; ok {
		return n, true
	}
	return catalog.FindNozzle(string(id))
}

// bodyRow is a body: the plan's own row, else the catalogue's.
func bodyRow(p *plan.Plan, id plan.ID) (catalog.Body, bool) {
	if b, ok := p.Bodies[id]; ok {
		return b, true
	}
	return catalog.FindBody(string(id))
}

// zonePressure is what the heads of the area are planned at: that of their zone,
// when all that stay or make room are of one that names it; 0 for each nozzle's
// best.
func zonePressure(p *plan.Plan, g *ground) units.PSI {
	zone := zoneOf(p, slices.Concat(g.stays, g.goes))
	return p.Zones[zone].Pressure
}

// zoneOf is the zone that all of some heads are of; "" when they differ or have none.
func zoneOf(p *plan.Plan, heads []plan.ID) plan.ID {
	var zone plan.ID
	for i, id := range heads {
		if z := p.Heads[id].Zone; i == 0 {
			zone = z
		} else if z != zone {
			return ""
		}
	}
	return zone
}

// usualTurnDown is how far a throw is turned down at the most, as a share of the
// table's, where a row does not say: a quarter (trade how-to, reference coverage §3).
const usualTurnDown = 0.75

// throws are the throws the nozzle may be set to: its table's, and whole steps
// below it down to its usual share.
func (it *item) throws(step units.Feet) []units.Feet {
	least := float64(it.table) * max(cmp.Or(float64(it.row.TurnDown.UsualShare), usualTurnDown), float64(it.row.TurnDown.LeastShare))
	var out []units.Feet
	if step > 0 {
		for i := math.Ceil(least/float64(step) - 1e-9); i*float64(step) < float64(it.table)-1e-6; i++ {
			out = append(out, units.Feet(i*float64(step)))
		}
	}
	return append(out, it.table)
}

// takes reports whether the nozzle may be set to a throw.
func (it *item) takes(throw units.Feet) bool {
	least := float64(it.table) * max(cmp.Or(float64(it.row.TurnDown.UsualShare), usualTurnDown), float64(it.row.TurnDown.LeastShare))
	return float64(throw) >= least-1e-9 && throw <= it.table
}

// setting is the nozzle set to an arc and a throw, if it can be and is matched to
// a rate: its own rate within the share own, and as set within setWithin.
func (it *item) setting(sweep units.Degrees, throw units.Feet, rate, own float64) (setting, bool) {
	turned := throw < it.table
	if !it.takes(throw) || it.row.ArcAllowed(sweep) != nil {
		return setting{}, false
	}
	set := units.Feet(0)
	if turned {
		set = throw
	}
	flow, err := it.row.Flow(it.pressure, sweep, set)
	whole, err2 := it.row.Flow(it.pressure, sweep, 0)
	if err != nil || err2 != nil || !(flow > 0) {
		return setting{}, false
	}
	r := it.rate(sweep, throw, flow)
	if !within(r, rate, setWithin) || !within(it.rate(sweep, it.table, whole), rate, own) {
		return setting{}, false
	}
	return setting{
		nozzle: it.id, body: it.body, sweep: sweep, throw: throw, turned: turned, fixed: it.row.Fixed(),
		flow: flow, rate: units.InchesPerHour(r), strip: it.row.Strip, fall: it.fall,
	}, true
}

// rate is the head-to-head rate of the nozzle, inches per hour: flow over the
// ground one head stands for among its like, throw² of a full circle
// (coverage.HeadReading.Rate), half the rectangle of a strip.
func (it *item) rate(sweep units.Degrees, throw units.Feet, flow units.GPM) float64 {
	ground := float64(throw) * float64(throw) * float64(sweep) / 360
	if it.row.Family == catalog.Strip {
		if it.row.Strip == nil {
			return 0
		}
		long := 0.0
		if it.row.Strip.Ahead {
			long++
		}
		if it.row.Strip.Back {
			long++
		}
		ground = long * float64(throw) * float64(it.row.Strip.Left+it.row.Strip.Right) / 2
	}
	if !(ground > 0) {
		return 0
	}
	return float64(units.PrecipitationRate(flow, units.SqFeet(ground)))
}

// throwsOf are all throws the stock can be set to, rising.
func throwsOf(stock []item, step units.Feet) []units.Feet {
	var out []units.Feet
	for i := range stock {
		out = append(out, stock[i].throws(step)...)
	}
	slices.Sort(out)
	return slices.CompactFunc(out, func(a, b units.Feet) bool { return math.Abs(float64(a-b)) < 1e-6 })
}

// sweepsOf are all arcs the stock can be set to, rising: whole steps, those of
// fixed nozzles, and the full circle.
func sweepsOf(stock []item, step units.Degrees) []units.Degrees {
	least := units.Degrees(360)
	var out []units.Degrees
	for _, it := range stock {
		least = min(least, it.row.ArcLeast)
		if it.row.Fixed() {
			out = append(out, it.row.ArcLeast)
		}
	}
	least = max(least, leastSweep)
	if step > 0 {
		for i := math.Ceil(float64(least)/float64(step) - 1e-9); i*float64(step) < 360-1e-9; i++ {
			out = append(out, units.Degrees(i*float64(step)))
		}
	}
	out = append(out, 360)
	slices.Sort(out)
	return slices.Compact(out)
}

// bestOf is the nozzle to take for an arc and a throw: a fixed one first, then one
// that is not turned down, then the one nearest to the rate, then the first by id.
func bestOf(stock []item, sweep units.Degrees, throw units.Feet, rate, own float64) (best setting, ok bool) {
	worse := func(s setting) float64 {
		w := math.Abs(float64(s.rate)/rate - 1)
		if !s.fixed {
			w += 2
		}
		if s.turned {
			w++
		}
		return w
	}
	for i := range stock {
		s, can := stock[i].setting(sweep, throw, rate, own)
		if can && (!ok || worse(s) < worse(best)-1e-9) {
			best, ok = s, true
		}
	}
	return best, ok
}
