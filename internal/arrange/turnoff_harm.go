package arrange

import (
	"slices"

	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// What may be done to the ground of heads that are kept off a bed. Chosen: no more than
// a user would see on the map.
const (
	mostUneven = 0.05 // that its evenness may fall by, drawn
	mostDried  = 4.0  // square feet that may fall under half its mean: the least dry patch told of
)

// spoils reports whether ground other than the bed is clearly less even or drier.
func (s *sparer) spoils(before, after *trouble) bool {
	dry := map[plan.ID]units.SqFeet{}
	for _, g := range before.result.Gaps {
		dry[g.Area] -= g.AreaSqFt
	}
	for _, g := range after.result.Gaps {
		dry[g.Area] += g.AreaSqFt
	}
	for i := range before.result.Areas {
		was := &before.result.Areas[i]
		is := after.area(was.ID)
		if was.ID == s.bed || is == nil {
			continue
		}
		if is.DU < was.DU-mostUneven || dry[was.ID] >= mostDried {
			return true
		}
	}
	return false
}

// harms reports whether other ground is spoilt, or there is a stop that was not there.
// What is found of the bed under its own heads alone is not counted: it is told.
func (s *sparer) harms(before, after *trouble) bool {
	if s.spoils(before, after) {
		return true
	}
	was, is := s.elsewhere(before), s.elsewhere(after)
	return is.worseThan(&was)
}

// elsewhere is a trouble without what is found of the bed.
func (s *sparer) elsewhere(t *trouble) trouble {
	return trouble{result: t.result, found: slices.DeleteFunc(slices.Clone(t.found), func(f plan.Finding) bool {
		heads := 0
		for _, r := range f.About {
			switch collection, id := r.Split(); {
			case collection == "areas" && id == s.bed:
				return true
			case collection == "heads" && !s.own(id):
				return false
			case collection == "heads":
				heads++
			}
		}
		return heads > 0
	})}
}
