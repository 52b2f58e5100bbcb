package proof

import (
	"fmt"
	"math"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// rules are those by which the cans were set out.
func (s *sitting) rules(by string) []string {
	show := s.p.Show
	var out []string
	if s.want >= LeastCans {
		out = append(out, fmt.Sprintf("At least %d cans, and a multiple of 4, so that the driest quarter is a whole number of them (common practice, from memory).", LeastCans))
	} else {
		out = append(out, "A multiple of 4, so that the driest quarter is a whole number of cans (common practice, from memory).")
	}
	if by == CansByGrid {
		out = append(out, "Rows and columns as far apart as makes each can stand for the same ground, as the forms of DU and CU take it (Christiansen 1942). To look for a head at fault set them out by heads: each then has one near it.")
	} else {
		out = append(out, fmt.Sprintf("A can %s from each head into its arc and one midway between neighbours (auditing practice, from memory); the rest where the ground is farthest from any.", show.Length(nearHead)))
	}
	out = append(out,
		fmt.Sprintf("No can within %s of a head (%s to %s is common practice, from memory), or within %s of an edge, a trunk or a valve box; a narrow strip has them nearer its edge, off its lip of %s.",
			show.Length(offHead), show.Length(offHead), show.Length(farOffHead), show.Length(edgeClear), show.Length(s.p.EdgeLip())),
		fmt.Sprintf("%d cans or more for each head that stands for the area, so that a fault can be laid at one of them.", cansPerHead),
		fmt.Sprintf("Each zone runs by itself and as long as the others, in wind of at most %s (common practice, from memory).", show.Speed(calmWind)))
	return out
}

// says is the offer in a sentence or two.
func (s *sitting) says(o *CansOffer, throat float64) string {
	out := fmt.Sprintf("%s on %s, about %s apart.", plan.Capital(plan.Plural(len(o.Cans), "can", "cans")), s.p.AreaName(s.area),
		s.p.About(units.Feet(math.Sqrt(s.ground.sqft/float64(len(o.Cans))))))
	switch {
	case s.asked == 0 && len(o.Cans) < LeastCans:
		out += fmt.Sprintf(" The area is too small for %d.", LeastCans)
	case s.asked > len(o.Cans):
		out += fmt.Sprintf(" There is no room for %d.", s.asked)
	}
	if len(o.Zones) == 0 {
		return out + " No zone brings it water: choose nozzles and zones for its heads first."
	}
	names := make([]string, len(o.Zones))
	for i, id := range o.Zones {
		names[i] = s.p.ZoneName(id)
	}
	cans := "cans with an opening of " + opening(s.p.Show, throat)
	if !(throat > 0) {
		cans = "cans with an opening of " + opening(s.p.Show, UsualThroat) + " (measure yours)"
	}
	out += fmt.Sprintf(" Run %s %g minutes%s to catch about %g ml on average in %s.",
		plan.Several(names), o.Minutes, plan.Choose(len(names), "", " each, one after another,"), UsualCatch, cans)
	if len(o.Untold) > 0 {
		out += fmt.Sprintf(" Of %s these cans catch too little to tell a fault by: set one more down near %s.",
			s.p.HeadNames(o.Untold), plan.Choose(len(o.Untold), "it", "each"))
	}
	if o.Minutes >= longRun {
		out += fmt.Sprintf(" They would have to run longer than %g minutes for that; the catches will be small.", longRun)
	}
	return out
}

// opening is the opening of a can: 16 in², or 103 cm².
func opening(show units.System, in2 float64) string {
	if show == units.Metric {
		return fmt.Sprintf("%.0f cm²", in2*2.54*2.54)
	}
	return fmt.Sprintf("%.4g in²", in2)
}
