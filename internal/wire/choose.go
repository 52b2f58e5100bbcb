package wire

import (
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// current is what the wiring is reckoned with, from the plan's figures.
type current struct {
	volts, least, inrush, celsius float64
}

func currentOf(p *plan.Plan) current {
	var c current
	c.volts, _ = p.Figure(plan.WireVolts)
	c.least, _ = p.Figure(plan.WireLeast)
	c.inrush, _ = p.Figure(plan.WireInrush)
	c.celsius, _ = p.Figure(plan.WireTemp)
	return c
}

// load is one valve on its way: its wire's length, and how much of the common it
// shares with each valve that opens with it.
type load struct {
	length units.Feet
	beside units.Feet // of the common, summed over the valves that open with it
	detour units.Feet // that the common is longer
}

// drop is the volts lost at inrush: its own current there and back, and that of
// the valves that open with it on the part of the common they share.
func (c current) drop(v load, hot, common int) float64 {
	rc := Resistance(common, c.celsius)
	return Drop(c.inrush, v.length, Resistance(hot, c.celsius), rc) + Drop(c.inrush, v.beside+v.detour, 0, rc)
}

// volts at the valve.
func (c current) left(v load, hot, common int) float64 { return c.volts - c.drop(v, hot, common) }

// mostFeet stands for no limit: valves that take no current.
const mostFeet units.Feet = 99_999

// most is how long the valve's wire may be with these gauges, what it shares being
// as it is.
func (c current) most(v load, hot, common int) units.Feet {
	rc := Resistance(common, c.celsius)
	left := c.volts - c.least - Drop(c.inrush, v.beside+v.detour, 0, rc)
	if left <= 0 {
		return 0
	}
	l := LongestRun(left, c.inrush, Resistance(hot, c.celsius), rc)
	if math.IsInf(float64(l), 0) || l > mostFeet {
		return mostFeet
	}
	return l
}

// gauges is a choice of sizes.
type gauges struct {
	hots   []int // by valve
	common int
	enough bool
}

// wanted is what the user chose: 0 for what is left open; one for all hots.
type wanted struct {
	hot, common int
	alike       bool // the hots are conductors of one cable
}

// sizes are those to try, thinnest first.
func sizes(chosen int) []int {
	if chosen > 0 {
		return []int{chosen}
	}
	var out []int
	for _, g := range Gauges() {
		out = append(out, g.AWG)
	}
	return out
}

// choose finds the sizes with the least copper that leave every valve its volts:
// 18 AWG where it does, else mostly a thicker common first, for all valves share
// it. A common left open is never thinner than a hot. Where nothing does,
// they are as thick as may be, and not enough.
func (c current) choose(loads []load, common units.Feet, w wanted) gauges {
	best, least := gauges{}, math.Inf(1)
	for _, size := range sizes(w.common) {
		g := gauges{common: size, enough: true}
		thickness := thinnest
		for _, v := range loads {
			hot := c.hotFor(v, size, w)
			g.hots, g.enough = append(g.hots, hot), g.enough && hot > 0
			thickness = min(thickness, hot)
		}
		if !g.enough {
			continue
		}
		copper := float64(common) * section(size)
		for i, v := range loads {
			if w.alike {
				g.hots[i] = thickness
			}
			copper += float64(float64(v.length) * section(g.hots[i]))
		}
		if copper < least {
			best, least = g, copper
		}
	}
	if best.enough {
		return best
	}
	all := func(chosen int) int { s := sizes(chosen); return s[len(s)-1] }
	best = gauges{common: all(w.common)}
	for range loads {
		best.hots = append(best.hots, all(w.hot))
	}
	return best
}

// hotFor is the thinnest hot that leaves a valve its volts; 0: none does.
func (c current) hotFor(v load, common int, w wanted) int {
	for _, hot := range sizes(w.hot) {
		if w.common == 0 && hot < common {
			break
		}
		if c.left(v, hot, common) >= c.least {
			return hot
		}
	}
	return 0
}
