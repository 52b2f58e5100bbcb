package arrange

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// site is what of a plan decides where heads may stand: the ground each area has,
// the property line, and what stands about. It is not safe for use by two
// goroutines at once.
type site struct {
	p        *plan.Plan
	plots    []plot           // areas that take ground, weakest first, as coverage ranks them
	lot      orb.MultiPolygon // nil without a property line
	lines    []barrier
	trunks   []trunk
	noDig    []orb.Polygon
	more     float64             // what set-backs are widened by for now, feet
	dry      []disc              // things to keep dry
	standFor map[plan.ID]plan.ID // area each head stands for, "" for none; see headsFor
	headsOf  map[plan.ID][]plan.ID
}

// plot is an area that takes ground.
type plot struct {
	id    plan.ID
	kind  plan.Kind
	poly  orb.Polygon
	bound orb.Bound
}

// barrier is a wall, fence or hedge.
type barrier struct {
	line  orb.LineString
	hedge bool // may be wetted, so heads stand close to it
}

// disc is a round thing.
type disc struct {
	at     orb.Point
	radius float64 // feet
}

// newSite gathers it. The plan is one that Validate passes; of what it would
// refuse the parts that cannot be read are left out.
func newSite(p *plan.Plan) (*site, error) {
	s := &site{p: p}
	for _, id := range coverage.GroundOrder(p) {
		a := p.Areas[id]
		poly, err := geom.Polygon(a.Outline, a.Holes)
		if err != nil || len(poly) == 0 {
			continue
		}
		s.plots = append(s.plots, plot{id: id, kind: a.Kind, poly: poly, bound: poly.Bound()})
	}
	for _, id := range plan.SortedIDs(p.Areas) {
		a := p.Areas[id]
		if a.Kind != plan.NoDig || !a.Status.Stands() {
			continue
		}
		if poly, err := geom.Polygon(a.Outline, a.Holes); err == nil && len(poly) > 0 {
			s.noDig = append(s.noDig, poly)
		}
	}
	if lot, err := geom.Polygon(p.Site.Lot, nil); err == nil && len(lot) > 0 {
		s.lot = orb.MultiPolygon{lot}
	}
	s.gatherThings()
	if err := s.headsFor(); err != nil {
		return nil, err
	}
	return s, nil
}

// gatherThings lists what stands about: barriers, trunks, things to keep dry.
func (s *site) gatherThings() {
	for _, id := range plan.SortedIDs(s.p.Barriers) {
		b := s.p.Barriers[id]
		if line := b.Line.Points(); b.Status.Stands() && len(line) >= 2 {
			s.lines = append(s.lines, barrier{line: line, hedge: b.Kind == plan.Hedge})
		}
	}
	for _, id := range plan.SortedIDs(s.p.Trees) {
		t := s.p.Trees[id]
		if t.Status.Stands() {
			s.trunks = append(s.trunks, trunk{
				at: geom.Snap(orb.Point{float64(t.X), float64(t.Y)}), radius: float64(t.TrunkIn) / 24,
			})
		}
	}
	for _, id := range plan.SortedIDs(s.p.KeepDry) {
		k := s.p.KeepDry[id]
		if k.Status.Stands() {
			s.dry = append(s.dry, disc{at: geom.Snap(orb.Point{float64(k.X), float64(k.Y)}), radius: float64(k.Radius())})
		}
	}
}

// ground is one planting area as a search sees it.
type ground struct {
	id    plan.ID
	name  string
	cover plan.Cover
	shape orb.MultiPolygon // the area, less what lies on it
	// wet is where overhead water is wanted: shape less the bands without spray.
	wet orb.MultiPolygon
	// stand is where a head may stand: shape less every set-back, trunk, no-dig
	// ground and whatever else keeps heads off. It may be in several parts.
	// Empty: nowhere.
	stand  orb.MultiPolygon
	edges  []edge // the boundary of stand, where edge heads go
	widest units.Feet
	// widest and typical are widths of the area: the greatest circle's diameter,
	// and the middle one of the greatest circles that each place lies in.
	typical units.Feet
	walls   []geom.Segment // what stops water near it
	trunks  []trunk        // that heads on it may stand near to
	clear   float64        // how near a trunk may not be thrown at, feet
	stays   []plan.ID      // heads that stand for it and stay: locked, existing
	goes    []plan.ID      // heads that stand for it and make room
	refuses string         // why no overhead water may be planned, in a sentence; "" when it may
}

// trunk is a tree's trunk near an area.
type trunk struct {
	at     orb.Point
	radius float64 // feet
}

// nearby is how far from an area things are still kept with its ground, in feet:
// beyond every usual set-back. Chosen.
const nearby = 5.0

// hair is by how much set-backs are widened to get past shapes that cannot be
// combined, in feet: a sixteenth of an inch. Chosen.
const hair = 1.0 / 192

// ground makes the ground of an area. It answers a *Refusal for what is no area of
// the plan; why an area cannot be arranged is in the ground itself.
func (s *site) ground(area plan.ID) (*ground, error) {
	a, ok := s.p.Areas[area]
	if !ok {
		return nil, &Refusal{At: plan.RefTo("areas", area), Sentence: fmt.Sprintf("The plan has no area %s.", area)}
	}
	g := &ground{id: area, name: s.p.AreaName(area), cover: a.Cover()}
	if g.refuses = s.notOverhead(a, g.name); g.refuses != "" {
		return g, nil
	}
	err := s.fill(g)
	// Some shapes the library of booleans cannot combine as they lie (a few in a
	// thousand yards drawn at random); a hair farther apart it can.
	for s.more = hair; err != nil && s.more <= 4*hair; s.more += hair {
		err = s.fill(g)
	}
	s.more = 0
	if err != nil {
		// A drawing must not stop the search of the other areas.
		g.stand, g.edges = nil, nil
		g.refuses = fmt.Sprintf("Where heads may stand on %s could not be worked out: %v. Draw it, or what lies on it, with fewer corners.", g.name, err)
	}
	return g, nil
}

// fill works out what the ground of an area is and where heads may stand on it.
func (s *site) fill(g *ground) error {
	var err error
	if g.shape, err = s.shapeOf(g.id); err != nil {
		return err
	}
	g.wet = g.shape
	if len(g.shape) == 0 {
		g.refuses = fmt.Sprintf("%s has no ground of its own: other areas cover all of it.", plan.Capital(g.name))
		return nil
	}
	g.widest, g.typical = widths(g.shape)
	around := g.shape.Bound().Pad(nearby)
	g.walls = s.wallsNear(around)
	clear, _ := s.p.LocalRule(plan.TrunkClear)
	g.clear, g.trunks = float64(clear), nil
	for _, t := range s.trunks {
		if g.shape.Bound().Pad(max(nearby, g.clear) + t.radius).Contains(t.at) {
			g.trunks = append(g.trunks, t)
		}
	}
	g.stays, g.goes = s.headsOfArea(g.id)
	return s.place(g)
}

// notOverhead says why an area is none that heads are arranged on, "" when it is.
func (s *site) notOverhead(a plan.Area, name string) string {
	switch {
	case !a.Status.Stands():
		return plan.Capital(name) + " is to be removed: nothing is arranged on it."
	case a.Kind != plan.Planting:
		return plan.Capital(name) + " is no planting area: heads are arranged on planting only."
	case a.WateredBy() != plan.Overhead:
		return plan.Capital(name) + " is not watered from overhead: it gets its water another way."
	}
	return ""
}

// shapeOf is the ground an area has: its outline less the stronger areas.
func (s *site) shapeOf(area plan.ID) (orb.MultiPolygon, error) {
	for i, q := range s.plots {
		if q.id != area {
			continue
		}
		var over []orb.MultiPolygon
		for _, r := range s.plots[i+1:] {
			if r.bound.Intersects(q.bound) {
				over = append(over, orb.MultiPolygon{r.poly})
			}
		}
		shape, err := geom.Union(orb.MultiPolygon{q.poly})
		if err != nil {
			return nil, err
		}
		return less(shape, over...)
	}
	return nil, nil
}

// wallsNear are the sides of buildings and the walls, fences and hedges that come
// into a rectangle.
func (s *site) wallsNear(in orb.Bound) []geom.Segment {
	var out []geom.Segment
	of := 0
	add := func(line []orb.Point) {
		for i := 0; i+1 < len(line); i++ {
			if orb.MultiPoint(line[i : i+2]).Bound().Intersects(in) {
				out = append(out, geom.Segment{A: line[i], B: line[i+1], Of: of})
			}
		}
		of++
	}
	for _, q := range s.plots {
		if q.kind == plan.Building {
			for _, r := range q.poly {
				add(r)
			}
		}
	}
	for _, b := range s.lines {
		add(b.line)
	}
	return out
}
