package coverage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// areasOf are the planting areas that a zone's heads stand for, by id.
func (s *survey) areasOf(zone plan.ID) []land {
	stands := map[plan.ID]bool{}
	for i := range s.zones[zone] {
		stands[s.zones[zone][i].reading.Area] = true
	}
	var out []land
	for _, id := range plan.SortedIDs(stands) {
		if i, ok := s.landOf[id]; ok {
			out = append(out, s.lands[i])
		}
	}
	return out
}

// groups sorts areas under what is said of them, in words.
func groups(areas []land, of func(plan.Area) string) (words []string, names map[string][]plan.ID) {
	names = map[string][]plan.ID{}
	for _, l := range areas {
		w := of(l.Area)
		if names[w] == nil {
			words = append(words, w)
		}
		names[w] = append(names[w], l.id)
	}
	slices.Sort(words)
	return words, names
}

// mixedPlantings finds zones that water different plantings.
func mixedPlantings(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, zone := range s.sortedZones() {
		areas := s.areasOf(zone)
		words, names := groups(areas, func(a plan.Area) string { return string(a.Cover()) })
		if len(words) < 2 {
			continue
		}
		found = append(found, s.mixed(plan.PlantingsMixed, zone, areas, words, names))
	}
	return found
}

// mixedExposure finds zones that water sun and shade, different soils, or the
// top and the toe of a slope.
func mixedExposure(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, zone := range s.sortedZones() {
		areas := s.areasOf(zone)
		for _, of := range []func(plan.Area) string{exposureWord, soilWord} {
			if words, names := groups(known(areas, of), of); len(words) > 1 {
				found = append(found, s.mixed(plan.ExposureMixed, zone, areas, words, names))
			}
		}
		found = append(found, s.topAndToe(zone, areas)...)
	}
	return found
}

func exposureWord(a plan.Area) string {
	return plan.Words(string(a.Sunlight()))
}

// soilWord is the area's texture; "" when it is not said, which is no
// difference.
func soilWord(a plan.Area) string { return plan.Words(a.Soil) }

func known(areas []land, of func(plan.Area) string) []land {
	return slices.DeleteFunc(slices.Clone(areas), func(l land) bool { return of(l.Area) == "" })
}

func (s *survey) mixed(code string, zone plan.ID, areas []land, words []string, names map[string][]plan.ID) plan.Finding {
	about := []plan.Ref{plan.RefTo("zones", zone)}
	for _, l := range areas {
		about = append(about, plan.RefTo("areas", l.id))
	}
	var said []string
	for _, w := range words {
		var list []string
		for _, id := range names[w] {
			list = append(list, s.p.AreaName(id))
		}
		said = append(said, fmt.Sprintf("%s (%s)", w, strings.Join(list, ", ")))
	}
	text := fmt.Sprintf("%s waters %s together.", plan.Capital(s.p.ZoneName(zone)), plan.Series(said))
	return plan.Found(code, text, about...).Looking(s.p.MiddleOf(refs(s.zones[zone])))
}

// steep is the slope from which the toe of a slope wants its own valve: 25 %,
// where 23 CCR 492.7 limits the rate.
const steep = 0.25

// topAndToe finds zones with heads both in the upper and in the lower third of
// a steep area, measured down its fall.
func (s *survey) topAndToe(zone plan.ID, areas []land) []plan.Finding {
	var found []plan.Finding
	for _, l := range areas {
		if float64(l.SlopeShare) < steep {
			continue
		}
		sin, cos := math.Sincos(float64(l.SlopeTowardDeg) * math.Pi / 180)
		down := func(x, y float64) float64 { return float64(x*cos) + float64(y*sin) }
		top, toe := math.Inf(1), math.Inf(-1)
		for _, p := range l.shape[0] {
			top, toe = min(top, down(p[0], p[1])), max(toe, down(p[0], p[1]))
		}
		var upper, lower []spot
		for _, h := range s.zones[zone] {
			if h.reading.Area != l.id {
				continue
			}
			switch share := (down(h.at[0], h.at[1]) - top) / (toe - top); {
			case share < 1.0/3:
				upper = append(upper, h)
			case share > 2.0/3:
				lower = append(lower, h)
			}
		}
		if len(upper) == 0 || len(lower) == 0 {
			continue
		}
		text := fmt.Sprintf("%s waters the top (%s) and the toe (%s) of %s, which falls %s.", plan.Capital(s.p.ZoneName(zone)),
			s.named(upper), s.named(lower), s.p.AreaName(l.id), s.p.Show.Percent(l.SlopeShare))
		found = append(found, plan.Found(plan.ExposureMixed, text, append(refs(append(upper, lower...)), plan.RefTo("zones", zone))...).
			Looking(s.p.MiddleOf(refs(lower))))
	}
	return found
}

// steepMost is the most that may be put down on slopes past steep, in inches an
// hour (23 CCR 492.7).
const steepMost = 0.75

// steepRates finds steep areas that get their water too fast.
func steepRates(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, l := range s.lands {
		rate := float64(s.means[l.id])
		if !over(float64(l.SlopeShare), steep) || !over(rate, steepMost) {
			continue
		}
		text := fmt.Sprintf("%s falls %s and gets %s; on slopes past %s, %s is the most.", plan.Capital(s.p.AreaName(l.id)),
			s.p.Show.Percent(l.SlopeShare), s.p.Show.Rate(s.means[l.id]), s.p.Show.Percent(steep), s.p.Show.Rate(steepMost))
		found = append(found, plan.Found(plan.SlopeRate, text, plan.RefTo("areas", l.id)).
			Looking(geom.InsidePoint(l.shape)).Measured("rate_in_per_h", rate))
	}
	return found
}

// unwatered finds plantings to be watered overhead that no head stands for or
// in, and says which plantings are watered without heads. A plan without any head
// has just been begun: that it lacks them is one note.
func unwatered(s *survey) []plan.Finding {
	var found []plan.Finding
	var point, begun []plan.Ref
	var names, bare []string
	for _, l := range s.lands {
		if l.Kind != plan.Planting {
			continue
		}
		if l.Watering == plan.PointSource {
			point, names = append(point, plan.RefTo("areas", l.id)), append(names, s.p.AreaName(l.id))
		}
		if !l.Watering.IsZero() || s.hasHead(l.id) || len(s.sameOutline(&l)) > 0 {
			continue // of areas drawn twice that is told
		}
		if len(s.heads) == 0 {
			begun, bare = append(begun, plan.RefTo("areas", l.id)), append(bare, s.p.AreaName(l.id))
			continue
		}
		name := plan.Capital(s.p.AreaName(l.id))
		text := fmt.Sprintf("%s is to be watered overhead, but no head stands for it.", name)
		if mean := s.means[l.id]; mean >= wetRate {
			text = fmt.Sprintf("%s is to be watered overhead, but gets only what the heads of its neighbours throw over, %s.", name, s.p.Show.Rate(mean))
		}
		found = append(found, plan.Found(plan.NothingAssigned, text, plan.RefTo("areas", l.id)).Looking(geom.InsidePoint(l.shape)))
	}
	if len(begun) > 0 {
		text := fmt.Sprintf("%s %s to be watered overhead and %s no head yet.",
			plan.Capital(plan.Several(bare)), plan.Choose(len(bare), "is", "are"), plan.Choose(len(bare), "has", "have"))
		first := s.lands[s.landOf[begun[0].ID()]]
		found = append(found, plan.Found(plan.NothingAssigned, text, begun...).Ranked(plan.Notice).Looking(geom.InsidePoint(first.shape)))
	}
	if len(point) > 0 {
		text := fmt.Sprintf("%s %s watered by point source: no heads, and nothing of it on this parts list.",
			plan.Capital(plan.Series(names)), plan.Choose(len(names), "is", "are"))
		found = append(found, plan.Found(plan.NoHeadsNeeded, text, point...))
	}
	return found
}

// hasHead reports whether some head is there for an area: most of its water or
// assignedShare of it lands there, or, if it cannot run, it stands there.
func (s *survey) hasHead(area plan.ID) bool { return len(s.areas[area]) > 0 || s.served[area] }
