package coverage

import (
	"fmt"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// shortBodies finds pop-ups too short for what grows around them, area by area.
func shortBodies(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, l := range s.lands {
		need := leastHeight(l.Area)
		var short []spot
		for _, h := range s.areas[l.id] {
			if h.body.Height < need {
				short = append(short, h)
			}
		}
		if len(short) == 0 {
			continue
		}
		text := fmt.Sprintf("%s %s up %s in %s, where %s is the least for %s.",
			plan.Capital(s.named(short)), plan.Choose(len(short), "pops", "pop"), s.p.Show.Inches(short[0].body.Height),
			s.p.AreaName(l.id), s.p.Show.Inches(need), s.coverWord(l.Area))
		found = append(found, plan.Found(plan.PopupShort, text, refs(short)...).Looking(s.p.MiddleOf(refs(short))).
			Measured("least_in", float64(need)))
	}
	return found
}

// leastHeight is the shortest pop-up for a planting: 4 in on turf mown at 3 in
// or lower, 6 in above that, 12 in among plants (common practice); 0 for ground
// that asks for none.
func leastHeight(a plan.Area) units.Inches {
	if a.Kind != plan.Planting {
		return 0
	}
	switch a.Cover() {
	case plan.Flowers, plan.Shrubs, plan.Groundcover, plan.Vegetables:
		return 12
	case plan.TreeBed:
		return 0
	}
	if a.MowHeight() > 3 {
		return 6
	}
	return 4
}

func (s *survey) coverWord(a plan.Area) string {
	if a.Cover() == plan.Turf && a.MowHeight() > 3 {
		return "turf mown above " + s.p.Show.Inches(3)
	}
	return string(a.Cover())
}
