package coverage

import (
	"fmt"
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// sharedEdges finds heads that stand for two areas whose other heads water at
// different rates.
func sharedEdges(s *survey) []plan.Finding {
	type line struct{ a, b plan.ID }
	shared := map[line][]spot{}
	var order []line
	for _, h := range s.heads {
		on := s.sharesOf(h)
		if len(on) < 2 {
			continue
		}
		key := line{min(on[0], on[1]), max(on[0], on[1])}
		if shared[key] == nil {
			order = append(order, key)
		}
		shared[key] = append(shared[key], h)
	}
	var found []plan.Finding
	for _, key := range order {
		heads := shared[key]
		a, b := s.rateWithout(key.a, heads), s.rateWithout(key.b, heads)
		if a <= 0 || b <= 0 || !over(max(a, b)/min(a, b)-1, matchedStop) {
			continue
		}
		text := fmt.Sprintf("%s on the line between %s (%s) and %s (%s) and %s both.",
			plan.Capital(s.named(heads))+plan.Choose(len(heads), " stands", " stand"),
			s.p.AreaName(key.a), s.p.Show.Rate(units.InchesPerHour(a)), s.p.AreaName(key.b), s.p.Show.Rate(units.InchesPerHour(b)),
			plan.Choose(len(heads), "waters", "water"))
		found = append(found, plan.Found(plan.EdgeShared, text, append(refs(heads), plan.RefTo("areas", key.a), plan.RefTo("areas", key.b))...).
			Looking(s.p.MiddleOf(refs(heads))))
	}
	return found
}

// sharesOf are the areas that get at least assignedShare of a head's water each,
// most first.
func (s *survey) sharesOf(h spot) []plan.ID {
	return slices.DeleteFunc(h.assigned(), func(id plan.ID) bool {
		_, overhead := s.means[id]
		return !overhead
	})
}

// rateWithout is the middle rate of the heads that stand for an area, without
// some; 0 when none is left.
func (s *survey) rateWithout(area plan.ID, without []spot) float64 {
	left := map[plan.ID]bool{}
	for _, w := range without {
		left[w.id] = true
	}
	var own []float64
	for _, h := range s.areas[area] {
		if !left[h.id] {
			own = append(own, h.ownRate())
		}
	}
	if len(own) == 0 {
		return 0
	}
	slices.Sort(own)
	return own[(len(own)-1)/2]
}
