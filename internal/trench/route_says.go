package trench

import (
	"fmt"
	"math"

	"evenfall/internal/plan"
)

// names are what offers are called, by the way their valves are placed.
var names = map[string]string{
	"as placed": "Valves as placed", "spread": "Valves near their heads", "joined": "Valves joined where it saves", "grouped": "Valves in the fewest boxes",
}

// groundWords are the grounds a trench is told by.
var groundWords = []struct {
	is    Ground
	words string
}{{Lawn, "in lawn"}, {Bed, "in beds"}, {Loose, "in gravel, mulch or deck"}, {Roots, "among roots"}, {Street, "in the right of way"}, {Undrawn, "in ground not drawn"}}

// say puts an offer into words.
func (r *routed) say(o *Offer) {
	m, show := &o.Measures, r.job.p.Show
	o.Name = names[r.place.name]
	o.Label = "Route trenches"
	if r.moved > 0 {
		o.Label = "Route trenches and set valves"
	}
	var grounds []string
	for _, g := range groundWords {
		if l := m.By[g.is]; l >= 0.5 {
			grounds = append(grounds, fmt.Sprintf("%s %s", r.job.p.About(l), g.words))
		}
	}
	o.Says = fmt.Sprintf("%s of trench", r.job.p.About(m.Trench))
	if len(grounds) > 0 {
		o.Says += ": " + plan.Series(grounds)
	}
	switch {
	case m.Crossings == 1:
		o.Says += fmt.Sprintf("; one crossing of paving, %s long", show.Length(m.Longest))
	case m.Crossings > 1:
		o.Says += fmt.Sprintf("; %d crossings of paving, the longest %s", m.Crossings, show.Length(m.Longest))
	default:
		o.Says += "; no paving is crossed"
	}
	o.Says += fmt.Sprintf("; valves in %s.", plan.Plural(m.Boxes, "box", "boxes"))
	if m.Bound > 0 && m.Cost > 0 {
		gap := 100 * (1 - m.Bound/m.Cost)
		if gap < 0.5 {
			o.Says += fmt.Sprintf(" By the plan's figures it comes to %.0f, and no routes to these valves by the places looked at come to less.", m.Cost)
		} else {
			o.Says += fmt.Sprintf(" By the plan's figures it comes to %.0f; no routes to these valves by the places looked at come to less than %.0f, %.0f %% below.", m.Cost, m.Bound, math.Ceil(gap))
		}
	}
	if o.Patch == nil {
		o.Notes = append(o.Notes, "This is what is drawn already; nothing changes.")
		if m.Trench < 0.5 && m.Crossings == 0 {
			o.Says = "All that is asked for is joined by what stays; nothing more is dug."
		}
	}
	if r.moved > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("%s given another place.", plan.Plural(r.moved, "valve is", "valves are")))
	}
	if longest, _ := r.job.p.Figure(plan.BoreLongest); float64(m.Longest) > longest {
		o.Notes = append(o.Notes, "The longest crossing is one for those who bore for a living.")
	}
}
