package coverage

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// valvePaving is how far a valve box stands off paving, in feet: 12 in by common
	// practice.
	valvePaving = 1.0
	// hedgeReach is how far from the line of a hedge its growth covers a box, in feet.
	// Chosen.
	hedgeReach = 1.5
	// lowShare is the lowest part of a lawn's fall in which a box fills with water,
	// and lowFall the fall, in feet, from which a lawn has a low part. Chosen.
	lowShare = 0.1
	lowFall  = 0.5
)

// valvePlaces finds valves where a box cannot stand well. One that is there
// already is worth knowing of: nobody moves it for that alone.
func valvePlaces(s *survey) []plan.Finding {
	var found []plan.Finding
	for _, id := range s.sortedZones() {
		z := s.p.Zones[id]
		if z.ValveAt == nil {
			continue
		}
		at := orb.Point{float64(z.ValveAt.X), float64(z.ValveAt.Y)}
		why, about := s.badForValve(at)
		if why == "" {
			continue
		}
		about = append(about, plan.RefTo("zones", id))
		f := plan.Found(plan.ValvePlace, fmt.Sprintf("The valve of %s stands %s.", s.p.ZoneName(id), why), about...).Looking(at)
		if !z.Status.IsNew() {
			f = f.Ranked(plan.Notice)
		}
		found = append(found, f)
	}
	return found
}

// badForValve says what is wrong with a place for a valve box, worst first; ""
// when nothing is. Of ground on the lot that nobody drew nothing is known, and
// a manifold often stands there, beside the house.
func (s *survey) badForValve(at orb.Point) (why string, about []plan.Ref) {
	top := s.surfaceAt(at)
	switch {
	case top != nil && top.Kind != plan.Planting && top.Kind != plan.Ground:
		return "on " + s.p.AreaName(top.id), []plan.Ref{plan.RefTo("areas", top.id)}
	case hasLot(s.p) && !s.onLot(at):
		return OnSurface(s.p, Outside), []plan.Ref{plan.RefToLot}
	}
	if d := s.pavingDistance(at); d < valvePaving-0.01 {
		return fmt.Sprintf("%s from paving, where %s is the least", s.p.Show.Inches(units.Feet(d).Inches()), s.p.Show.Inches(units.Feet(valvePaving).Inches())), nil
	}
	for _, id := range plan.SortedIDs(s.p.Barriers) {
		b := s.p.Barriers[id]
		if line := b.Line.Points(); b.Status.Stands() && b.Kind == plan.Hedge && len(line) > 1 {
			if d, _, _ := geom.DistanceToEdge(at, line); d <= hedgeReach {
				return "under " + nameOr(b.Name, "a hedge"), []plan.Ref{plan.RefTo("barriers", id)}
			}
		}
	}
	if id, d := s.rootsAt(at); id != "" {
		return fmt.Sprintf("in the root zone of %s, %s from the trunk", nameOr(s.p.Trees[id].Name, "a tree"), s.p.Show.Length(units.Feet(d))), []plan.Ref{plan.RefTo("trees", id)}
	}
	if top != nil && top.Kind == plan.Planting && top.Cover() == plan.Turf && s.lowIn(top, at) {
		return fmt.Sprintf("at the low end of %s, where water gathers", s.p.AreaName(top.id)), []plan.Ref{plan.RefTo("areas", top.id)}
	}
	return "", nil
}

// lowIn reports whether a place of a lawn lies in the lowest part of its fall.
func (s *survey) lowIn(l *land, at orb.Point) bool {
	z, known := s.relief().Height(at)
	if !known {
		return false
	}
	least, most := z, z
	look := func(p orb.Point) {
		h, _ := s.relief().Height(p)
		least, most = min(least, h), max(most, h)
	}
	for _, p := range l.shape[0] {
		look(p)
	}
	for _, id := range plan.SortedIDs(s.p.Elevations) { // the ground bends at them only
		e := s.p.Elevations[id]
		if p := (orb.Point{float64(e.X), float64(e.Y)}); l.bound.Contains(p) && geom.PolygonContains(l.shape, p) {
			look(p)
		}
	}
	return most-least >= lowFall && z <= least+lowShare*(most-least)
}

// relief is the ground through the spot heights, made when it is first wanted.
func (s *survey) relief() *geom.Relief {
	if s.heights == nil {
		s.heights = s.p.Relief()
	}
	return s.heights
}

// rootsAt is the tree in whose root zone a place lies, the nearest, with the
// distance to its trunk in feet; "" when in none. A root zone that is not given
// is taken as 1 ft for each inch of trunk (common practice).
func (s *survey) rootsAt(at orb.Point) (tree plan.ID, distance float64) {
	distance = math.Inf(1)
	for _, id := range plan.SortedIDs(s.p.Trees) {
		t := s.p.Trees[id]
		if !t.Status.Stands() {
			continue
		}
		zone := float64(t.RootZoneFt)
		if zone == 0 {
			zone = float64(t.TrunkIn)
		}
		if d := apart(at, orb.Point{float64(t.X), float64(t.Y)}); d < zone-0.01 && d < distance {
			tree, distance = id, d
		}
	}
	return tree, distance
}

// digging finds what is to be dug in where no one may dig, and where roots are.
// What is there already needs no digging.
func digging(s *survey) []plan.Finding {
	heads, valves := map[plan.ID][]spot{}, map[plan.ID][]plan.ID{}
	roots := map[plan.ID][]spot{}
	for _, h := range s.heads {
		if !h.Status.IsNew() {
			continue
		}
		for _, id := range s.noDigAt(h.at) {
			heads[id] = append(heads[id], h)
		}
		if tree, _ := s.rootsAt(h.at); tree != "" {
			roots[tree] = append(roots[tree], h)
		}
	}
	for _, id := range s.sortedZones() {
		if z := s.p.Zones[id]; z.ValveAt != nil && z.Status.IsNew() {
			for _, area := range s.noDigAt(orb.Point{float64(z.ValveAt.X), float64(z.ValveAt.Y)}) {
				valves[area] = append(valves[area], id)
			}
		}
	}
	var found []plan.Finding
	for _, l := range s.lands {
		if len(heads[l.id])+len(valves[l.id]) > 0 {
			found = append(found, s.noDigFinding(l, heads[l.id], valves[l.id]))
		}
	}
	for _, id := range plan.SortedIDs(roots) {
		in := roots[id]
		_, near := s.rootsAt(in[0].at)
		text := fmt.Sprintf("%s %s in the root zone of %s, %s from its trunk.", plan.Capital(s.named(in)), plan.Choose(len(in), "stands", "stand"),
			nameOr(s.p.Trees[id].Name, "a tree"), s.p.Show.Length(units.Feet(near)))
		if len(in) > 1 {
			text = fmt.Sprintf("%s stand in the root zone of %s.", plan.Capital(s.named(in)), nameOr(s.p.Trees[id].Name, "a tree"))
		}
		found = append(found, plan.Found(plan.RootsCut, text, append(refs(in), plan.RefTo("trees", id))...).Looking(s.p.MiddleOf(refs(in))))
	}
	return found
}

func (s *survey) noDigFinding(l land, heads []spot, valves []plan.ID) plan.Finding {
	about := append(refs(heads), plan.RefTo("areas", l.id))
	var what []string
	at := geom.InsidePoint(l.shape)
	if len(heads) > 0 {
		what, at = append(what, s.named(heads)), heads[0].at
	}
	for _, id := range valves {
		what, about = append(what, "the valve of "+s.p.ZoneName(id)), append(about, plan.RefTo("zones", id))
	}
	verb := plan.Choose(len(heads)+len(valves), "stands", "stand")
	return plan.Found(plan.NoDigging, fmt.Sprintf("%s %s on %s, which is not to be dug.", plan.Capital(plan.Series(what)), verb, s.p.AreaName(l.id)), about...).Looking(at)
}

// noDigAt are the areas not to be dug that a place lies in.
func (s *survey) noDigAt(at orb.Point) []plan.ID {
	var in []plan.ID
	for _, i := range s.ground.at(at) {
		if l := &s.lands[i]; l.Kind == plan.NoDig && l.bound.Contains(at) && geom.PolygonContains(l.shape, at) {
			in = append(in, l.id)
		}
	}
	return in
}
