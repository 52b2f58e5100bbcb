package arrange

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// needless says why nothing is to be sought; "" where there is something.
func (s *sparer) needless() string {
	bed := s.was.AreaName(s.bed)
	overhead := s.was.Areas[s.bed].WateredBy() == plan.Overhead
	switch {
	case len(s.heads)+len(s.fixed) == 0 || s.rate(s.now.result).Others < leastThrown:
		return fmt.Sprintf("No head of another zone throws on %s to speak of, so there is nothing to turn off.", bed)
	case overhead && len(s.owns)+len(s.ownOf) == 0:
		return fmt.Sprintf("%s has no heads of its own, so that it would get no water at all. Arrange heads on it first.", plan.Capital(bed))
	case len(s.heads) == 0:
		return fmt.Sprintf("What throws on %s from other zones, %s, is locked or there already, so it stays as it is.", bed, s.was.HeadNames(s.fixed))
	}
	return ""
}

// none is an answer without changes.
func (s *sparer) none(why string) *TurnOff {
	w := s.bedWater(s.was, &s.now)
	return &TurnOff{
		Area: s.bed, Says: why, Before: w, After: w, Evaluations: s.evaluations,
		Changes: []Turned{}, Grounds: []TurnedGround{}, Notes: append([]string{}, s.sharedNotes()...),
	}
}

// leastThrown is the least rate from other zones that is spoken of, as a mean over the
// bed, in inches an hour. Chosen: what an hour brings shows in no gauge.
const leastThrown = 0.01

// worthWords is the verdict on what is offered.
func (t *spareTold) worthWords(o *TurnOff) string {
	sys := t.was.Show
	says := fmt.Sprintf("Changing %s keeps %s of the water of other zones off %s: %s goes to %s.",
		t.was.HeadNames(t.heads), sys.Percent(units.Ratio(1-t.share())), t.was.AreaName(t.bed), sys.Rate(o.Before.Others), rateOrNone(sys, o.After.Others))
	for _, g := range o.Grounds {
		says += " " + t.evennessWords(g)
	}
	return says
}

// evennessWords says what becomes of the evenness of a ground.
func (t *spareTold) evennessWords(g TurnedGround) string {
	sys, name := t.was.Show, t.was.AreaName(g.Area)
	before, after := sys.Percent(g.Before.DU), sys.Percent(g.After.DU)
	if before == after {
		return fmt.Sprintf("The layout uniformity of %s stays %s.", name, after)
	}
	return fmt.Sprintf("The layout uniformity of %s goes from %s to %s.", name, before, after)
}

// notWorthWords says why nothing is offered: what it would do to other ground, or that
// little can be kept off at all.
func (t *spareTold) notWorthWords(o *TurnOff, part float64) string {
	sys, bed := t.was.Show, t.was.AreaName(t.bed)
	says := fmt.Sprintf("Not worth it: %s lies within the throw of %s.", bed, t.was.HeadNames(t.sparer.heads))
	unharmed := fmt.Sprintf(" Without harm %s of it can be kept off.", sys.Percent(units.Ratio(part)))
	if part < 0.01 {
		unharmed = " Without harm none of it can be kept off."
	}
	most := 1 - t.share()
	if len(t.heads) == 0 {
		return says + " No other arc and no throw a quarter shorter keeps them off." + t.countIt()
	}
	says += fmt.Sprintf(" To keep %s of the water of other zones off, %s would have to be set otherwise", sys.Percent(units.Ratio(most)), t.was.HeadNames(t.heads))
	if harm := t.harmWords(o); len(harm) > 0 {
		says += ": " + plan.Series(harm)
	}
	return says + "." + unharmed + t.countIt()
}

// harmWords are what other ground would suffer, each in a clause.
func (t *spareTold) harmWords(o *TurnOff) []string {
	var harm []string
	sys := t.was.Show
	for _, g := range o.Grounds {
		if before, after := sys.Percent(g.Before.DU), sys.Percent(g.After.DU); before != after {
			harm = append(harm, fmt.Sprintf("the layout uniformity of %s would go from %s to %s", t.was.AreaName(g.Area), before, after))
		}
		if g.After.DrySqFt-g.Before.DrySqFt >= 1 {
			harm = append(harm, fmt.Sprintf("%s more of it would fall under half its mean", sys.Area(g.After.DrySqFt-g.Before.DrySqFt)))
		}
	}
	was := t.elsewhere(&t.before)
	is := t.elsewhere(&t.after)
	had := was.stops()
	for _, f := range is.found {
		if code := sameMistake(f.Code); f.Rank == plan.Stop && code != plan.DryPatch {
			if had[code]--; had[code] < 0 {
				harm = append(harm, fmt.Sprintf("“%s” would be found", f.Title))
			}
		}
	}
	return harm
}

// countIt is what is left to do where arcs cannot be turned off a bed.
func (t *spareTold) countIt() string {
	if t.was.Areas[t.bed].WateredBy() != plan.Overhead {
		return ""
	}
	return " Let the watering program count that water, or water the area by its own zones only."
}

// rateOrNone prints a rate, or that there is none.
func rateOrNone(sys units.System, r units.InchesPerHour) string {
	if none := sys.Rate(0); sys.Rate(r) == none {
		return "none"
	}
	return sys.Rate(r)
}

// notes are what stays on the bed, and what is to be seen to.
func (t *spareTold) notes(o *TurnOff) []string {
	sys, bed := t.was.Show, t.was.AreaName(t.bed)
	var out []string
	if len(t.fixed) > 0 {
		out = append(out, fmt.Sprintf("%s %s on %s and %s locked or there already, so nothing is changed of %s.", plan.Capital(t.was.HeadNames(t.fixed)),
			plan.Choose(len(t.fixed), "throws", "throw"), bed, plan.Choose(len(t.fixed), "is", "are"), plan.Choose(len(t.fixed), "it", "them")))
	}
	if o.Offered {
		left := rateOrNone(sys, o.After.Others) != "none"
		switch overhead := t.was.Areas[t.bed].WateredBy() == plan.Overhead; {
		case left && overhead:
			out = append(out, fmt.Sprintf("%s still comes from other zones: the watering program counts it as you have it set.", sys.Rate(o.After.Others)))
		case left:
			out = append(out, fmt.Sprintf("%s still comes from other zones.", sys.Rate(o.After.Others)))
		case overhead:
			out = append(out, fmt.Sprintf("%s then lives by its own valve alone: the watering program gives it all its water.", plan.Capital(bed)))
		}
	}
	if b, a := o.Before.State, o.After.State; len(t.heads) > 0 && a.DrySqFt-b.DrySqFt >= 1 {
		out = append(out, fmt.Sprintf("By its own heads alone %s of %s is under half its mean. Have changes sought for it afterwards.", sys.Area(a.DrySqFt), bed))
	}
	return append(out, t.sharedNotes()...)
}

// sharedNotes names the zones that stand for the bed and for other ground: no arc parts
// their water.
func (s *sparer) sharedNotes() []string {
	var out []string
	for _, z := range s.now.result.Zones {
		if !s.owns[z.ID] {
			continue
		}
		var others []string
		for _, area := range z.Areas {
			if area != s.bed {
				others = append(others, s.was.AreaName(area))
			}
		}
		for _, h := range s.now.result.Heads {
			if len(others) > 0 && s.p.Heads[h.ID].Zone == z.ID && h.Area != s.bed && landedOn(&h, s.bed) > traceShare*float64(h.FlowGPM) {
				out = append(out, fmt.Sprintf("%s waters %s as well as %s, so their water runs together whatever the arcs.",
					plan.Capital(s.was.ZoneName(z.ID)), s.was.AreaName(s.bed), plan.Several(others)))
				break
			}
		}
	}
	return out
}
