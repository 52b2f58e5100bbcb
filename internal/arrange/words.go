package arrange

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
)

// countWord is a number of heads of a family: "12 sprays", "1 rotor".
func countWord(n int, f catalog.Family) string {
	words := familyWord(f)
	if n == 1 {
		words = strings.TrimSuffix(words, "s")
	}
	return fmt.Sprintf("%d %s", n, words)
}

// lower begins a sentence within another: only its first letter changes.
func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// says is a layout in a sentence.
func (j *job) says(l *Layout) string {
	m := &l.Measures
	how := ""
	if l.Tidy {
		how = " at equal intervals"
	}
	kept := 0
	for _, h := range l.Heads {
		if h.Stays {
			kept++
		}
	}
	text := countWord(m.Heads, l.Family) + how
	if kept > 0 {
		text += fmt.Sprintf(", %d of them as they are", kept)
	}
	text += fmt.Sprintf(": %s even as drawn, %s in the field; %s", j.p.Show.Percent(m.DU), j.p.Show.Percent(m.FieldMean), pastWords(j.p, m))
	text += "."
	if m.DU < evenEnough {
		text += fmt.Sprintf(" It falls short of the %s that a layout should reach.", j.p.Show.Percent(evenEnough))
	}
	if m.DU >= evenEnough && m.FieldP10 < lastsNarrow {
		text += fmt.Sprintf(" Small errors of setting cost it much: one installation in ten comes out under %s.", j.p.Show.Percent(m.FieldP10))
	}
	return text + blamedWords(m) + apartWords(m) + doubledWords(m)
}

// doubledWords says how many heads are doubled, "" for none.
func doubledWords(m *Measures) string {
	if m.Doubled == 0 {
		return ""
	}
	return fmt.Sprintf(" %d %s on or beside another that throws the same way.", m.Doubled, plan.Choose(m.Doubled, "head stands", "heads stand"))
}

// apartWords says which heads stand farther apart than head to head, "" for none.
func apartWords(m *Measures) string {
	switch {
	case m.HeadToHead < 0.999:
		return " Some heads stand farther apart than head to head."
	case m.Apart > 0:
		return fmt.Sprintf(" %d %s up to a tenth of a throw farther than head to head from the next, as far as published standards let them.",
			m.Apart, plan.Choose(m.Apart, "head stands", "heads stand"))
	}
	return ""
}

// blamedWords says which heads waste, "" for none.
func blamedWords(m *Measures) string {
	if m.Blamed == 0 {
		return ""
	}
	return fmt.Sprintf(" %d %s more than a fifth of the water on paving, on a wall or off the lot: look at it before you take it.",
		m.Blamed, plan.Choose(m.Blamed, "head throws", "heads throw"))
}

// pastWords says where the water past the edge falls: "1.2 % past the edge, most
// on Front walk".
func pastWords(p *plan.Plan, m *Measures) string {
	if len(m.Past) == 0 || m.PastEdge < 0.0005 {
		return "nothing past the edge"
	}
	text := SmallShare(p.Show, m.PastEdge) + " past the edge"
	if len(m.Past) == 1 {
		return text + ", " + onName(&m.Past[0])
	}
	return text + ", most " + onName(&m.Past[0])
}

// onName is a surface as it follows a figure.
func onName(s *Past) string {
	switch s.Name {
	case "off the lot", "past what is drawn":
		return s.Name
	}
	return "on " + s.Name
}

// reason says why an area has no layout, or why those it has fall short; "" when
// it has a good one.
func (j *job) reason(c *chosen) string {
	switch {
	case j.why != "":
		return j.why
	case len(c.list) > 0:
		return j.shortfall(c)
	case len(j.pool) == 0 && j.noStrips() != "":
		return j.noStrips()
	case len(j.pool) == 0:
		return fmt.Sprintf("No layout was found for %s with %s: no head has an arc on it that the stock can be set to. Try other nozzles.",
			j.ground.name, j.stockWords())
	}
	best := slices.MinFunc(j.pool, func(a, b finalist) int {
		return cmp.Or(cmp.Compare(max(a.hard-j.o.Hard, 0)+max(a.bare-j.o.Bare, 0)+max(a.soft-j.o.Other, 0),
			max(b.hard-j.o.Hard, 0)+max(b.bare-j.o.Bare, 0)+max(b.soft-j.o.Other, 0)), cmp.Compare(a.m.Heads, b.m.Heads))
	})
	what, share, limit := "paving, buildings and off the lot", best.hard, j.o.Hard
	if best.hard <= j.o.Hard {
		what, share, limit = "bare ground", best.bare, j.o.Bare
		if best.bare <= j.o.Bare+0.0005 {
			what, share, limit = "other planting", best.soft, j.o.Other
		}
	}
	return fmt.Sprintf("Every layout found for %s with %s puts at least %s of its water on %s, where %s may fall. Allow more, or stock nozzles that throw less far.",
		j.ground.name, j.stockWords(), SmallShare(j.p.Show, share), what, SmallShare(j.p.Show, limit))
}

// shortfall says what keeps the layouts of an area from being even enough.
func (j *job) shortfall(c *chosen) string {
	best := slices.MaxFunc(c.list, func(a, b finalist) int { return cmp.Compare(a.m.DU, b.m.DU) })
	if best.m.DU >= evenEnough {
		return ""
	}
	text := fmt.Sprintf("The best layout found for %s is %s even as drawn, where %s is asked for: ",
		j.ground.name, j.p.Show.Percent(best.m.DU), j.p.Show.Percent(evenEnough))
	least := j.kits[best.kit].least()
	evener := slices.ContainsFunc(j.pool, func(f finalist) bool { return !j.holds(&f) && f.m.DU > best.m.DU+0.01 })
	switch {
	case len(j.stays) > 0:
		return text + "the heads that stay keep it there. Let some of them go, or move them."
	case j.ground.widest < least:
		return text + fmt.Sprintf("it is %s wide at most, and the shortest throw of the stock is %s.", j.p.Show.Length(j.ground.widest), j.p.Show.Length(least))
	case evener:
		return text + "what may be wetted past its edge keeps it there. Allow more, or stock nozzles that throw less far."
	}
	return text + "its outline and the throws and arcs of the stock keep it there. Stock more nozzles, or finer steps of arc and throw."
}

// stockWords names the families that were tried.
func (j *job) stockWords() string {
	var names []string
	for _, k := range j.kits {
		if w := familyWord(k.family); !slices.Contains(names, w) {
			names = append(names, w)
		}
	}
	return strings.Join(names, " or ")
}

// offerSays is an offer in a sentence or two.
func (pr *proposer) offerSays(o *offered) string {
	layouts, t := o.layouts, &o.total
	count := map[catalog.Family]int{}
	for _, l := range layouts {
		count[l.Family] += l.Measures.Heads
	}
	var parts []string
	for _, f := range []catalog.Family{catalog.Rotor, catalog.Stream, catalog.Spray, catalog.Strip} {
		if n := count[f]; n > 0 {
			parts = append(parts, countWord(n, f))
		}
	}
	even := "even"
	if len(layouts) > 1 {
		even = "even or better on every area"
	}
	sys := pr.p.Show
	text := fmt.Sprintf("%s, %s: %s %s as drawn, %s in the field; %s.", list(parts), sys.Flow(t.Flow),
		sys.Percent(t.DU), even, sys.Percent(t.FieldMean), pastWords(pr.p, t))
	text = join(text, o.why)
	text += blamedWords(t) + apartWords(t) + doubledWords(t)
	if t.DU < evenEnough {
		text += fmt.Sprintf(" It falls short of the %s that a layout should reach.", sys.Percent(evenEnough))
	}
	return text
}

// offerLabel is the label of the step that takes an offer.
func (pr *proposer) offerLabel(layouts []*Layout) string {
	heads := 0
	for _, l := range layouts {
		for _, h := range l.Heads {
			if !h.Stays {
				heads++
			}
		}
	}
	word := fmt.Sprintf("%d %s", heads, plan.Choose(heads, "head", "heads"))
	if len(layouts) == 1 {
		return fmt.Sprintf("Arrange %s on %s", word, pr.p.AreaName(layouts[0].Area))
	}
	return fmt.Sprintf("Arrange %s on %d areas", word, len(layouts))
}

// list joins names: "a", "a and b", "a, b and c".
func list(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
