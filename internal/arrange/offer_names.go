package arrange

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// offered is a choice of one layout for every area on its way to an Offer.
type offered struct {
	role    role
	picks   []Pick
	layouts []*Layout
	changes []*change
	total   Measures
	name    string
	why     string // what it is chosen for, in sentences; "" for nothing of note
}

// claim is what an offer may be named for: a measure by which it is the best of
// all, or at least better than the first.
type claim struct {
	role             role
	column           string  // of Columns
	shows            float64 // by how much it must be ahead of the first to be named so
	best, more       string  // names
	bestWhy, moreWhy string  // sentences
}

var claims = []claim{
	{roleFewest, "heads", 1, "Fewest heads", "Fewer heads", "No other has fewer heads.", "It has fewer heads than the first."},
	{roleInside, "past", pastShows, "Least past the edge", "Less past the edge", "No other puts less water past the edge.", "It puts less water past the edge than the first."},
	{roleEven, "field", noise, "Most even", "More even", "No other is more even in the field.", "It is more even in the field than the first."},
	{roleEven, "field_low", noise, "Surest in the field", "Surer in the field", "No other comes out better where small errors go against it.", "It comes out better than the first where small errors go against it."},
	{roleEven, "evenness", drawnShows, "Most even as drawn", "More even as drawn", "No other is more even as drawn.", "It is more even as drawn than the first."},
	{roleKinds, "settings", kindsShow, "Fewest settings", "Fewer settings", "No other has fewer different settings.", "It has fewer different settings than the first."},
}

// ahead reports whether a measures better than b by a column, as both are shown: what
// prints the same is equal.
func (c *claim) ahead(p *plan.Plan, a, b *Measures) bool {
	i := slices.IndexFunc(Columns(), func(v Column) bool { return v.ID == c.column })
	f, g := a.Figures(p)[i], b.Figures(p)[i]
	if f.Text == g.Text {
		return false
	}
	return (f.Sort > g.Sort) == Columns()[i].Most
}

// shown reports whether a measures better than b by so much that it is named for it.
func (c *claim) shown(p *plan.Plan, a, b *Measures) bool {
	i := slices.IndexFunc(Columns(), func(v Column) bool { return v.ID == c.column })
	return c.ahead(p, a, b) && math.Abs(a.Figures(p)[i].Sort-b.Figures(p)[i].Sort) >= c.shows-1e-9
}

// isBest reports whether no choice is ahead of one.
func (c *claim) isBest(p *plan.Plan, all []offered, i int) bool {
	return !slices.ContainsFunc(all, func(o offered) bool { return c.ahead(p, &o.total, &all[i].total) })
}

// call names every choice by what holds of it among all: what it was chosen for if
// that shows in the figures, else what else does. It leaves "" to one that nothing
// speaks for.
func (pr *proposer) call(all []offered) {
	if len(all) == 0 {
		return
	}
	first := &all[0]
	first.name = "Best all round"
	if tidyAreas(first) == len(first.layouts) {
		first.name, first.why = "Neatest to stake", neatWhy
	}
	if few := &claims[0]; len(all) > 1 && few.isBest(pr.p, all, 0) {
		first.why = join(first.why, few.bestWhy)
	}
	taken := []string{first.name}
	for i := 1; i < len(all); i++ {
		o := &all[i]
		for _, say := range pr.saidOf(all, i) {
			if !slices.Contains(taken, say[0]) {
				o.name, o.why = say[0], say[1]
				taken = append(taken, o.name)
				break
			}
		}
		even := strings.Contains(o.why, " even ") // of evenness one thing is said
		for k := range claims {                   // and what else it is the best by
			c := &claims[k]
			if o.name != "" && !strings.Contains(o.why, c.bestWhy) && c.shown(pr.p, &o.total, &first.total) && c.isBest(pr.p, all, i) && !(even && c.role == roleEven) {
				o.why = join(o.why, c.bestWhy)
				even = even || c.role == roleEven
			}
		}
	}
}

// speakFor names those that nothing speaks for beside the first alone by what speaks for
// them beside others, or on one area, and leaves out those that nothing does: enough
// are worth more than many.
func (pr *proposer) speakFor(all []offered) []offered {
	for i := len(all) - 1; i > 0; i-- {
		if all[i].name == "" && (len(all) > fewOffers || pr.beside(all, i) == "") {
			all = slices.Delete(all, i, i+1)
		}
	}
	nameless := []string{"Another way", "A third way"}
	for i := range all {
		if all[i].name == "" {
			all[i].why = pr.beside(all, i)
			all[i].name, nameless = nameless[0], nameless[1:]
		}
	}
	return all[:min(len(all), mostOffers)]
}

// beside is what speaks for a choice on some area beside the first, or beside another
// of those that have names; "" for nothing.
func (pr *proposer) beside(all []offered, i int) string {
	o, first := &all[i], &all[0]
	for a, l := range o.layouts {
		for k := range claims {
			if c := &claims[k]; len(o.layouts) > 1 && c.shown(pr.p, &l.Measures, &first.layouts[a].Measures) {
				return "On " + pr.p.AreaName(l.Area) + " " + lower(c.moreWhy)
			}
		}
	}
	said := ""
	for g := range all {
		if k := slices.IndexFunc(claims, func(c claim) bool { return c.shown(pr.p, &o.total, &all[g].total) }); g != i && all[g].name != "" && k >= 0 {
			said = join(said, strings.Replace(claims[k].moreWhy, "the first", "“"+all[g].name+"”", 1))
		}
	}
	return said
}

const neatWhy = "Heads stand at corners and equal intervals."

// saidOf are the names that hold of a choice, each with its sentence, the one to
// take first first.
func (pr *proposer) saidOf(all []offered, i int) [][2]string {
	o, first := &all[i], &all[0]
	var own, rest [][2]string
	switch tidy := tidyAreas(o); {
	case o.role == roleTidy && tidy == len(o.layouts) && tidy > tidyAreas(first):
		own = append(own, [2]string{"Neatest to stake", neatWhy})
	case o.role == roleTidy && tidy > tidyAreas(first):
		own = append(own, [2]string{"Neater to stake", fmt.Sprintf("Heads stand at corners and equal intervals on %d of %d areas.", tidy, len(o.layouts))})
	case o.role == roleOther || otherFamily(o, first):
		own = append(own, pr.instead(o, first))
	}
	var more [][2]string
	for k := range claims {
		c := &claims[k]
		// Of another family's, what shows beside the first may not beside its own.
		if !c.shown(pr.p, &o.total, &first.total) || slices.ContainsFunc(all[1:i], func(g offered) bool {
			return otherFamily(o, first) && !otherFamily(o, &g) && !c.shown(pr.p, &o.total, &g.total)
		}) {
			continue
		}
		say, best := [2]string{c.more, c.moreWhy}, c.isBest(pr.p, all, i)
		if best {
			say = [2]string{c.best, c.bestWhy}
		}
		switch {
		case c.role == o.role:
			own = append(own, say)
		case best:
			rest = append(rest, say)
		default:
			more = append(more, say)
		}
	}
	return slices.Concat(own, rest, more)
}

// otherFamily reports whether a choice has another family than the first on some area.
func otherFamily(o, first *offered) bool {
	for i, l := range o.layouts {
		if l.Family != first.layouts[i].Family {
			return true
		}
	}
	return false
}

// instead names a choice by the family it has where the first has another.
func (pr *proposer) instead(o, first *offered) [2]string {
	var now, was []catalog.Family
	var on []plan.ID
	for i, l := range o.layouts {
		if f := first.layouts[i].Family; f != l.Family {
			now, was, on = append(now, l.Family), append(was, f), append(on, l.Area)
		}
	}
	slices.Sort(now)
	slices.Sort(was)
	now, was = slices.Compact(now), slices.Compact(was)
	if len(now) != 1 {
		return [2]string{"Other nozzles", "Nozzles of another family than the first's, where they do."}
	}
	where := ""
	if len(o.layouts) > 1 {
		where = " on " + plan.Several(namesOf(pr.p, on))
	}
	word := map[catalog.Family]string{catalog.Spray: "Sprays", catalog.Stream: "Streams", catalog.Rotor: "Rotors", catalog.Strip: "Strip nozzles"}[now[0]]
	return [2]string{word + " instead", fmt.Sprintf("%s in place of %s%s.", plan.Capital(familyWord(now[0])), list(familyWords(was)), where)}
}

func namesOf(p *plan.Plan, areas []plan.ID) []string {
	var out []string
	for _, id := range areas {
		out = append(out, p.AreaName(id))
	}
	return out
}

func familyWords(of []catalog.Family) []string {
	var out []string
	for _, f := range of {
		out = append(out, familyWord(f))
	}
	return out
}

// tidyAreas is on how many areas heads stand at equal intervals.
func tidyAreas(o *offered) int {
	n := 0
	for _, l := range o.layouts {
		if l.Tidy {
			n++
		}
	}
	return n
}

// join puts one sentence after another.
func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}
