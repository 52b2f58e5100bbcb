package trench

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// astrayLeast is the shortest stretch in ground where no trench goes that is found,
// in feet. Chosen: less is how exactly a plan is drawn.
const astrayLeast = 1.0

// stretches is pieces of trench that a finding is about.
type stretches struct {
	about   []plan.Ref
	at      orb.Point // in the longest
	length  units.Feet
	longest units.Feet
}

func (s *stretches) add(seg *Segment) {
	for _, id := range seg.Pipes {
		s.about = append(s.about, plan.RefTo("pipes", id))
	}
	for _, id := range seg.Wires {
		s.about = append(s.about, plan.RefTo("wires", id))
	}
	s.length += seg.Length
	if seg.Length > s.longest {
		s.longest, s.at = seg.Length, middle(seg.From, seg.To)
	}
}

// does says what the trenches do: one for each pipe or wire run.
func (s *stretches) does(one, many string) string {
	runs := slices.DeleteFunc(slices.Clone(s.about), func(r plan.Ref) bool {
		collection, _ := r.Split()
		return collection != "pipes" && collection != "wires"
	})
	slices.Sort(runs)
	if n := len(slices.Compact(runs)); n > 1 {
		return fmt.Sprintf("%d trenches %s", n, many)
	}
	return "A trench " + one
}

// roots finds new trenches nearer to a trunk than its roots bear. Pipe that leads to
// a head in the root zone is told of with the head.
func (c *checker) roots() []plan.Finding {
	perInch, _ := c.p.Figure(plan.RootsPerInch)
	var found []plan.Finding
	for _, id := range plan.SortedIDs(c.p.Trees) {
		t := c.p.Trees[id]
		if !t.Status.Stands() {
			continue
		}
		trunk, clear := orb.Point{float64(t.X), float64(t.Y)}, float64(t.TrunkIn)*perInch
		zone := max(clear, float64(t.RootZoneFt))
		var cut stretches
		nearest := math.Inf(1)
		for i := range c.d.Segments {
			s := &c.d.Segments[i]
			if !s.Dug || c.toHeadIn(s, trunk, zone) {
				continue
			}
			at := geom.NearestOnSegment(trunk, s.From, s.To)
			d := math.Hypot(at[0]-trunk[0], at[1]-trunk[1])
			if d >= clear-0.05 {
				continue
			}
			cut.add(s)
			if d < nearest {
				nearest, cut.at = d, at
			}
		}
		if len(cut.about) == 0 {
			continue
		}
		name := "a tree"
		if t.Name != "" {
			name = t.Name
		}
		text := fmt.Sprintf("%s %s from the trunk of %s, where %s is the least for its %s.", cut.does("passes", "pass"),
			c.p.Show.Length(units.Feet(nearest)), name, c.p.Show.Length(units.Feet(clear)), c.p.Show.Inches(t.TrunkIn))
		f := plan.Found(plan.RootsCut, text, append(cut.about, plan.RefTo("trees", id))...).Looking(cut.at).Measured("distance_ft", nearest).Measured("needed_ft", clear)
		f.Title = "Trench in a root zone"
		f.Why = "It cuts roots that hold and feed the tree."
		f.Do = "Lead it round outside the drip line, or far enough off for its trunk; else dig by hand or bore beneath the roots."
		found = append(found, c.byFigure(f, plan.RootsPerInch))
	}
	return found
}

// toHeadIn reports whether everything in a segment leads to a new head that stands
// in a root zone itself.
func (c *checker) toHeadIn(s *Segment, trunk orb.Point, zone float64) bool {
	return len(s.Wires) == 0 && !slices.ContainsFunc(s.Pipes, func(id plan.ID) bool {
		n := c.p.Nodes[c.net.Pipes[id].To]
		h, ok := c.p.Heads[n.Head]
		return !ok || !h.Status.IsNew() || math.Hypot(float64(h.X)-trunk[0], float64(h.Y)-trunk[1]) >= zone
	})
}

// noDig finds new trenches through ground that is not to be dug.
func (c *checker) noDig() []plan.Finding {
	return c.through(NotToDig, 0, func(area plan.ID, s *stretches) plan.Finding {
		text := fmt.Sprintf("%s through %s, which is not to be dug.", s.does("goes", "go"), c.p.AreaName(area))
		f := plan.Found(plan.NoDigging, text, append(s.about, plan.RefTo("areas", area))...).Looking(s.at)
		f.Do = "Lead the pipe round. Have the line marked before digging near it; local law decides how near."
		return f
	})
}

// through gathers new trenches in ground of one kind by its areas, those of at least
// a length.
func (c *checker) through(g Ground, least units.Feet, tell func(plan.ID, *stretches) plan.Finding) []plan.Finding {
	by := map[plan.ID]*stretches{}
	for i := range c.d.Segments {
		s := &c.d.Segments[i]
		if s.Ground != g || !s.New || len(s.Pipes)+len(s.Wires) == 0 || g == Indoors && c.mayBeIndoors(s) {
			continue
		}
		if by[s.Area] == nil {
			by[s.Area] = &stretches{}
		}
		by[s.Area].add(s)
	}
	var found []plan.Finding
	for _, area := range plan.SortedIDs(by) {
		if by[area].length > least {
			found = append(found, tell(area, by[area]))
		}
	}
	return found
}

// mayBeIndoors reports whether a stretch in a building is wire, or the main of a
// supply that begins in the same building: that is clipped to a wall and not dug.
func (c *checker) mayBeIndoors(s *Segment) bool {
	if len(s.Pipes) == 0 {
		return true
	}
	n := c.p.Nodes[c.net.Source]
	return s.Main && c.net.Source != "" && geom.RingContains(c.p.Areas[s.Area].Outline.Ring(), orb.Point{float64(n.X), float64(n.Y)})
}

// astray finds new trenches through buildings and water, and off the lot.
func (c *checker) astray() []plan.Finding {
	var found []plan.Finding
	for _, g := range []Ground{Indoors, Wet} {
		found = append(found, c.through(g, astrayLeast, func(area plan.ID, s *stretches) plan.Finding {
			text := fmt.Sprintf("%s %s through %s.", s.does("goes", "go"), c.p.Show.Length(s.length), c.p.AreaName(area))
			return plan.Found(plan.TrenchAstray, text, append(s.about, plan.RefTo("areas", area))...).Looking(s.at).Measured("length_ft", float64(s.length))
		})...)
	}
	var off stretches
	onlyMain := true
	for i := range c.d.Segments {
		if s := &c.d.Segments[i]; s.Dug && (s.Ground == OffLot || s.Ground == Street) {
			off.add(s)
			onlyMain = onlyMain && s.Main && s.Ground == Street
		}
	}
	if off.length <= astrayLeast {
		return found
	}
	where := "off the lot"
	if len(c.p.Site.Lot) < 3 {
		where = "in the right of way"
	}
	text := fmt.Sprintf("%s %s %s.", off.does("goes", "go"), c.p.Show.Length(off.length), where)
	f := plan.Found(plan.TrenchAstray, text, off.about...).Looking(off.at).Measured("length_ft", float64(off.length))
	f.Title = "Trench off the lot"
	f.Why = "That ground is somebody else's: a street is dug only by permit, and a neighbour can have it all taken out again."
	f.Do = "Lead it within the property line, or get leave in writing and the permit that local law asks for."
	if onlyMain {
		f = f.Ranked(plan.Notice) // to the meter
	}
	return append(found, f)
}
