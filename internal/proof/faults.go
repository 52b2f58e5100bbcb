package proof

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/audit"
	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// headsOf puts what the fit tells of each head into words.
func (out *Audited) headsOf(p *plan.Plan, fit *audit.Fitted) {
	chance := map[plan.ID]float64{}
	for _, h := range fit.Heads {
		id := plan.ID(h.ID)
		f := HeadFault{
			Head: id, Tag: p.HeadTag(id), Verdict: verdictText(h),
			Sure:  h.Verdict != audit.Untold,
			Fault: h.Verdict != audit.Untold && h.Verdict != audit.Fine || h.Verdict == audit.Untold && h.Chance > 0.5,
			Share: units.Ratio(h.Output), Low: units.Ratio(h.Low), High: units.Ratio(h.High),
			TiltDeg: h.TiltDeg, TiltToward: h.TiltToward,
		}
		f.Output = outputText(h)
		if h.TiltDeg > 0 && (h.Verdict == audit.Leaning || h.LeanChance > 0.5) {
			f.Tilt = fmt.Sprintf("leans about %.0f° to the %s", float64(h.TiltDeg), compassOf(p, h.TiltToward))
		}
		if f.Fault {
			f.Look = lookAt(p, id, h)
		}
		chance[id] = h.Chance
		out.Heads = append(out.Heads, f)
		if f.Fault {
			out.Faults = append(out.Faults, f)
		}
	}
	slices.SortStableFunc(out.Faults, func(a, b HeadFault) int {
		return cmp.Or(cmp.Compare(whole(b.Sure), whole(a.Sure)), cmp.Compare(chance[b.Head], chance[a.Head]), byTag(a.Tag, b.Tag))
	})
	slices.SortStableFunc(out.Heads, func(a, b HeadFault) int { return byTag(a.Tag, b.Tag) })
}

// byTag puts tags as one reads them: 2-8 before 2-10.
func byTag(a, b string) int { return cmp.Compare(plan.NaturalKey(a), plan.NaturalKey(b)) }

func whole(b bool) int {
	if b {
		return 1
	}
	return 0
}

// compassOf is a direction of the plan in words.
func compassOf(p *plan.Plan, d units.Degrees) string {
	sin, cos := math.Sincos(float64(d) * math.Pi / 180)
	return p.Compass(orb.Point{}, orb.Point{cos, sin})
}

// outputText is what a head gives, with what that may be.
func outputText(h audit.FittedHead) string {
	if h.Reach == 0 {
		return "" // no can is within its throw
	}
	return fmt.Sprintf("%.0f %% of what it should give (%.0f to %.0f %%)", 100*h.Output, 100*h.Low, 100*h.High)
}

// verdictText is the verdict on a head, to follow its name.
func verdictText(h audit.FittedHead) string {
	switch h.Verdict {
	case audit.Fine:
		return "works as drawn"
	case audit.Low:
		switch {
		case h.High < 0.3:
			return "gives next to nothing"
		case h.High < 0.5:
			return "gives less than half of its water"
		case h.High-h.Low < 0.4 && h.Output <= 0.62:
			return "gives about half of its water"
		}
		return "gives too little water"
	case audit.High:
		return "gives too much water"
	case audit.Leaning:
		return "leans"
	}
	switch {
	case h.Chance > 0.5 && h.LowChance >= max(h.HighChance, h.LeanChance):
		return "may give too little water"
	case h.Chance > 0.5 && h.HighChance >= h.LeanChance:
		return "may give too much water"
	case h.Chance > 0.5:
		return "may lean"
	case h.Reach == 0:
		return "cannot be told: no can is within its throw"
	case h.Reach < audit.LeastReach:
		return "cannot be told: its cans catch too little of its water"
	}
	return "cannot be told from these cans"
}

// lookAt says what to look at on a head, the likeliest and quickest first. Causes are
// common practice, from memory.
func lookAt(p *plan.Plan, id plan.ID, h audit.FittedHead) string {
	head := p.Heads[id]
	n := p.Nozzles[head.Nozzle]
	should := ""
	if n.Name != "" {
		should = " The plan has " + p.NozzleName(head.Nozzle) + " in it."
	}
	turns := n.Family == catalog.Rotor || n.Family == catalog.Stream
	switch {
	case h.Verdict == audit.High || h.Verdict == audit.Untold && h.HighChance > max(h.LowChance, h.LeanChance):
		return "Compare its nozzle with the plan's: one size too large, or worn, gives more." + should +
			" See that its arc is not set too narrow, which puts the same water on less ground, and that nothing leaks beside it."
	case h.Verdict == audit.Leaning || h.Verdict == audit.Untold && h.LeanChance > h.LowChance:
		where := ""
		if h.TiltDeg > 0 {
			where = " It should lean to the " + compassOf(p, h.TiltToward) + "."
		}
		return "Set it plumb and tamp the ground about it." + where + " See that grass, soil or a sunk body does not turn its stream down."
	}
	out := "With its zone off, unscrew its nozzle and rinse nozzle and filter: grit is the commonest cause."
	if turns {
		out += " Watch that it turns through its whole arc, as far as both edges, and does not stand still."
	} else {
		out += " See that its throw is not screwed down too far."
		if head.SweepDeg < 360 {
			out += " See that its arc reaches both edges."
		}
	}
	out += " See that it rises all the way, clear of grass and soil."
	if h.Output < 0.4 {
		out += " If little comes with the nozzle out, its swing pipe is kinked or blocked, or leaks: look for wet ground."
	}
	return out + should
}
