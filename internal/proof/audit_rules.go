package proof

import (
	"fmt"
	"math"
	"strconv"

	"evenfall/internal/catalog"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// turningRun is how many minutes a zone of heads that turn runs at least, so that every
// can is passed several times: common practice, from memory.
const turningRun = 10.0

// leastRun is how many minutes a zone runs at least while cans catch.
func leastRun(p *plan.Plan, zone plan.ID) float64 {
	for _, h := range p.Heads { // any one: order does not matter
		if h.Zone == zone && h.Status.Stands() {
			if f := p.Nozzles[h.Nozzle].Family; f == catalog.Rotor || f == catalog.Stream {
				return turningRun
			}
		}
	}
	return shortRun
}

// rulesNotKept are the rules of an audit that one does not keep, each with where it comes
// from.
func rulesNotKept(p *plan.Plan, c *catches) []string {
	var out []string
	tell := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	const habit = " (common practice, from memory)."
	if n := len(c.read); n > 0 {
		if n < LeastCans {
			tell("%s: an audit has %d or more"+habit, plan.Capital(plan.Plural(n, "can was read", "cans were read")), LeastCans)
		}
		if n%4 != 0 {
			tell("%d is no multiple of 4: the driest quarter takes in a part of a can"+habit, n)
		}
	}
	if left := len(c.cans) - len(c.read); left > 0 && len(c.read) > 0 {
		tell("%s: what they would have caught is not in the figures.", plan.Capital(plan.Plural(left, "can is not read or left out", "cans are not read or left out")))
	}
	if c.Scale != ByDepth && !(c.ThroatIn2 > 0) && len(c.cans) > 0 {
		tell("The opening of the cans is not said: without it there is no depth and no rate (Irrigation Association, auditor's worksheet).")
	}
	if ml := c.meanML(); ml > 0 && ml < UsualCatch {
		tell("The mean catch is %.0f ml: below about %g ml half a millilitre of misreading tells"+habit, ml, UsualCatch)
	}
	ran := c.ran(p)
	for _, id := range ran {
		if least := leastRun(p, id); c.Runs[id] < least {
			tell("%s ran %s: run it %g or more, so that every can is passed several times"+habit, plan.Capital(p.ZoneName(id)), minutesText(c.Runs[id]), least)
		}
	}
	if len(ran) > 1 && c.sameMinutes() == 0 {
		tell("The zones ran for different times: there is no one rate, and the evenness is that of those minutes.")
	}
	switch {
	case c.WindMPH == nil && len(c.read) > 0:
		tell("The wind is not noted: cans are read in %s at most"+habit, p.Show.Speed(calmWind))
	case c.WindMPH != nil && *c.WindMPH > calmWind:
		tell("The wind was %s: above %s the catches tell of the wind, not of the heads"+habit, p.Show.Speed(*c.WindMPH), p.Show.Speed(calmWind))
	}
	return append(out, placesNotKept(p, c)...)
}

// placesNotKept are the cans that stand where they should not.
func placesNotKept(p *plan.Plan, c *catches) []string {
	var near, off []string
	ground, frame, onArea := coverage.GroundOf(p, c.Area)
	on := map[int32]bool{}
	for _, cell := range ground.Cells {
		on[cell] = true
	}
	for i := range c.cans {
		v := &c.cans[i]
		if v.can.Out {
			continue
		}
		for _, h := range p.Heads { // any one: order does not matter
			// Half a foot less than cans are set out by: nobody measures that.
			if h.Status.Stands() && math.Hypot(float64(h.X-v.can.X), float64(h.Y-v.can.Y)) < offHead-0.5 {
				near = append(near, strconv.Itoa(i+1))
				break
			}
		}
		x, y, inside := frame.CellOf(v.place())
		if onArea && (!inside || !on[int32(y*frame.NX+x)]) {
			off = append(off, strconv.Itoa(i+1))
		}
	}
	var out []string
	if len(near) > 0 {
		out = append(out, fmt.Sprintf("%s %s within %s of a head, where it catches what no ground gets (common practice, from memory).",
			canNumbers(near), plan.Choose(len(near), "stands", "stand"), p.Show.Length(offHead)))
	}
	if len(off) > 0 {
		out = append(out, fmt.Sprintf("%s %s off the ground of %s, or on its edge lip.", canNumbers(off), plan.Choose(len(off), "stands", "stand"), p.AreaName(c.Area)))
	}
	return out
}

// canNumbers names cans by their numbers: "Can 3", "Cans 3, 4 and 9".
func canNumbers(numbers []string) string {
	return plan.Choose(len(numbers), "Can ", "Cans ") + plan.Several(numbers)
}

// minutesText is a time of running.
func minutesText(minutes float64) string {
	if minutes == 1 {
		return "1 minute"
	}
	return fmt.Sprintf("%.4g minutes", minutes)
}
