package arrange

import (
	"fmt"
	"strings"

	"evenfall/internal/plan"
)

// onlyFew says why there are fewer offers than usual, and on which of several areas
// every offer has the same layout; "" where that is not so.
func (pr *proposer) onlyFew(out *Proposal) string {
	if len(out.Offers) == 0 {
		return ""
	}
	var poor []*job
	for i, j := range pr.jobs {
		n := len(out.Answers[i].Layouts)
		if n == 1 || n > 0 && n < fewOffers && len(out.Offers) < fewOffers {
			poor = append(poor, j)
		}
	}
	if len(poor) == 0 {
		return ""
	}
	var names []string
	var left [reasons]int
	for _, j := range poor {
		names = append(names, j.ground.name)
		for k, n := range j.leftOut() {
			left[k] += n
		}
	}
	text := ""
	switch {
	case len(out.Offers) < fewOffers:
		text = plan.Choose(len(out.Offers), "Only one layout is", "Only two layouts are") + " worth offering"
		if len(pr.jobs) > 1 {
			text = plan.Choose(len(out.Offers), "Only one choice is", "Only two choices are") + " worth offering, because of " + plan.Several(names)
		}
	default:
		text = "Every offer has the same layout on " + plan.Several(names)
	}
	return text + ": " + leftWords(pr.p, left)
}

// reason is why a layout that was found is not offered.
type reason int

const (
	leftPast   reason = iota // it wets more past the edge than may be
	leftUneven               // it is not even enough
	leftFrail                // it would not last in the field
	leftAstray               // heads throw astray or double others
	leftApart                // heads stand too far apart
	leftAlike                // it is hardly different, or better by nothing
	reasons
)

// leftOut counts the layouts found and not offered, by the first reason that holds.
func (j *job) leftOut() [reasons]int {
	var out [reasons]int
	picks := j.choose()
	for i := range j.pool {
		f := &j.pool[i]
		if picks.at(*f) >= 0 {
			continue
		}
		why := leftAlike
		switch {
		case !j.holds(f):
			why = leftPast
		case f.m.DU < evenEnough:
			why = leftUneven
		case !j.lasts(f):
			why = leftFrail
		case f.m.Blamed > 0 || f.m.Doubled > 0:
			why = leftAstray
		case f.m.HeadToHead < 0.999 || f.m.Apart > 0:
			why = leftApart
		}
		out[why]++
	}
	return out
}

// leftWords tells what was found and is not offered.
func leftWords(p *plan.Plan, left [reasons]int) string {
	all := 0
	for _, n := range left {
		all += n
	}
	if all == 0 {
		return "the search found no other."
	}
	words := [reasons][2]string{
		leftPast:   {"wets more past the edge than may be", "wet more past the edge than may be"},
		leftUneven: {"is less than %s even", "are less than %s even"},
		leftFrail:  {"would not stay even through small errors of setting", "would not stay even through small errors of setting"},
		leftAstray: {"wastes heads or much of their water", "waste heads or much of their water"},
		leftApart:  {"has heads too far apart", "have heads too far apart"},
		leftAlike:  {"is no better by anything that shows", "are no better by anything that shows"},
	}
	words[leftUneven][0] = fmt.Sprintf(words[leftUneven][0], p.Show.Percent(evenEnough))
	words[leftUneven][1] = fmt.Sprintf(words[leftUneven][1], p.Show.Percent(evenEnough))
	var parts []string
	for k, n := range left {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, plan.Choose(n, words[k][0], words[k][1])))
		}
	}
	if all == 1 {
		return "the one other that was found " + strings.TrimPrefix(parts[0], "1 ") + "."
	}
	return fmt.Sprintf("of %d others that were found, %s.", all, list(parts))
}
