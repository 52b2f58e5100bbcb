package proof

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// gaugePSI is how far off two readings of one gauge may be: a dial to 100 psi is good
	// for 2 % of its range and is read to as much. From memory of common practice.
	gaugePSI units.PSI = 2
	// leastHold is how long a main is held, in minutes (trade.md B16: one to two hours).
	leastHold = 60.0
	// leastOld is how long a main is held that is in the ground already, in minutes; as the
	// step of the start-up says. Chosen.
	leastOld = 15.0
	// leastLateral is how long a lateral is held, in minutes. Chosen.
	leastLateral = 10.0
)

// tested are the pressure tests of a plan, by date, then id.
func tested(p *plan.Plan) []Tested {
	out := make([]Tested, 0, len(p.Proof.Tests))
	for _, id := range plan.SortedIDs(p.Proof.Tests) {
		out = append(out, judged(p, id, p.Proof.Tests[id]))
	}
	slices.SortStableFunc(out, func(a, b Tested) int { return cmp.Compare(a.Test.On, b.Test.On) })
	return out
}

// judged says of a test whether the pipe holds.
func judged(p *plan.Plan, id plan.ID, t plan.PressureTest) Tested {
	out := Tested{ID: id, Test: t, Of: "the main"}
	need := leastHold
	if !startJobOf(p).fresh {
		need = leastOld
	}
	if t.Of != "" {
		need = leastLateral
		out.Of = "a lateral of a zone that is gone"
		if _, there := p.Zones[t.Of]; there {
			out.Of = "the lateral of " + p.ZoneName(t.Of)
		}
	}
	subject := plan.Capital(out.Of)
	read := t.Start > 0 && t.End > 0
	fell := t.Start - t.End
	var say []string
	if read {
		say = append(say, fmt.Sprintf("%s: %s, then %s%s.", subject, p.Show.Pressure(t.Start), p.Show.Pressure(t.End), after(t.Minutes)))
	} else {
		say = append(say, subject+": "+missing(t)+".")
	}
	long := t.Minutes >= need
	switch {
	case t.Meter == "moved":
		out.Known = true
		say = append(say, "The dial of the meter moved with everything shut: water goes somewhere. Close the house's own taps and look again; then look for the drip, a valve that does not seat, a bleed left open.")
	case read && fell > gaugePSI:
		out.Known = true
		say = append(say, fmt.Sprintf("It lost %s, more than the %s a gauge may be off: it does not hold. Look at every joint, at bleeds and drains, and whether a zone valve seeps.", p.Show.Pressure(fell), p.Show.Pressure(gaugePSI)))
	case read && -fell > gaugePSI:
		out.Known = t.Meter == "still" && long
		out.Holds = out.Known
		say = append(say, "The pressure rose: the supply was still open to it or the pipe lay in the sun, so that the gauge does not tell of small leaks. The meter's dial does.")
	case t.Minutes <= 0: // nothing is amiss with what is not done yet
		say = append(say, fmt.Sprintf("It is to be held for %.0f minutes at least.", need))
	case !long:
		say = append(say, fmt.Sprintf("Not held long enough to tell: %.0f minutes at least.", need))
	case read || t.Meter == "still":
		out.Known, out.Holds = true, true
		say = append(say, "It holds.")
		if t.Meter == "still" {
			say[len(say)-1] = "It holds, and the meter stands still."
		}
	}
	out.Says = strings.Join(say, " ")
	return out
}

func after(minutes float64) string {
	switch {
	case minutes <= 0:
		return ""
	case minutes >= 120 && math.Mod(minutes, 60) == 0:
		return fmt.Sprintf(" after %.0f hours", minutes/60)
	}
	return fmt.Sprintf(" after %.0f minutes", minutes)
}

func missing(t plan.PressureTest) string {
	switch {
	case t.Start > 0:
		return "begun at a noted pressure, the end is not noted yet"
	case t.Meter != "":
		return "no pressure is noted, the meter was " + plan.Words(t.Meter)
	}
	return "nothing is noted yet"
}
