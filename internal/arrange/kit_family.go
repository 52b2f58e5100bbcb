package arrange

import (
	"fmt"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// choice is a family with the reason for it.
type choice struct {
	family catalog.Family
	why    string
}

// The widths families are for, in feet (common practice): strip nozzles wet a
// band of 4 to 6 ft, sprays throw to 15 ft, streams to 25, rotors from 28 on.
const (
	stripTo  units.Feet = 6.5
	sprayTo  units.Feet = 16
	streamTo units.Feet = 30
)

// familiesFor are the families to try on an area, the first the one to take
// first. Where the user narrowed the families or the stock all that are left are
// tried; else those that suit the width.
func familiesFor(g *ground, o Options, stock []item) []choice {
	order, why := suited(g)
	narrowed := len(o.Families) > 0 || len(o.Stock) > 0 || len(g.stays) > 0
	var out []choice
	for i, f := range order {
		if !slices.ContainsFunc(stock, func(it item) bool { return it.row.Family == f }) {
			continue
		}
		c := choice{f, why}
		if i > 0 {
			c.why = fmt.Sprintf("%s are the other way to water %s.", plan.Capital(familyWord(f)), g.name)
		}
		out = append(out, c)
	}
	if !narrowed {
		return out
	}
	for _, f := range []catalog.Family{catalog.Spray, catalog.Stream, catalog.Rotor, catalog.Strip} {
		has := slices.ContainsFunc(stock, func(it item) bool { return it.row.Family == f })
		if has && !slices.ContainsFunc(out, func(c choice) bool { return c.family == f }) {
			out = append(out, choice{f, fmt.Sprintf("%s were asked for.", plan.Capital(familyWord(f)))})
		}
	}
	return out
}

// suited are the families for the width of an area and what grows there, with
// the reason for the first. The width is the middle one of its parts: a lawn of
// narrow arms is not made for rotors by the one place where they meet.
func suited(g *ground) ([]catalog.Family, string) {
	width := g.typical
	bed := g.cover == plan.Flowers || g.cover == plan.Shrubs || g.cover == plan.Groundcover || g.cover == plan.Vegetables
	switch {
	case g.widest <= stripTo:
		return []catalog.Family{catalog.Strip, catalog.Spray},
			"Strip nozzles and small sprays suit ground this narrow."
	case bed && width <= streamTo:
		return []catalog.Family{catalog.Spray, catalog.Stream},
			"Sprays on tall bodies suit beds: their fans fall steeply among the plants."
	case width <= sprayTo:
		return []catalog.Family{catalog.Spray, catalog.Stream},
			"Sprays suit ground up to about 16 ft wide."
	case width <= streamTo:
		return []catalog.Family{catalog.Stream, catalog.Spray},
			"Stream nozzles suit ground of about 16 to 30 ft: fewer heads than sprays, and water that soaks in slowly."
	}
	return []catalog.Family{catalog.Rotor, catalog.Stream, catalog.Spray},
		"Rotors suit ground wider than about 30 ft."
}

// familyWord is a family in words, for several heads.
func familyWord(f catalog.Family) string {
	switch f {
	case catalog.Spray:
		return "sprays"
	case catalog.Stream:
		return "stream nozzles"
	case catalog.Rotor:
		return "rotors"
	case catalog.Strip:
		return "strip nozzles"
	}
	return string(f)
}
