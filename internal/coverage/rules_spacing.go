package coverage

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Spacing over throw: 1.0 is head to head, 1.1 is 55 % of the diameter, the
// most that the Florida standards allow, and 1.2 is 60 % of it, the most for the
// longer side of a rectangle of heads in calm air (common practice). Rows at
// spacingRowsStop are wrong to build: with heads one throw apart along them the
// rectangle falls to a DU of 0.85 there, as a square does at 1.2 (reference,
// conical profile); where to draw the line is chosen.
const (
	spacingHeadToHead = 1.0
	spacingMost       = 1.1
	spacingLongSide   = 1.2
	spacingRowsStop   = 1.3
)

// wide is a pair of heads, or a head and its nearest neighbour, that stand too
// far apart.
type wide struct {
	a, b     *spot // a is the one to move
	distance float64
	over     float64 // distance over the larger throw
	rows     bool    // of rows pulled apart; along them the heads may stand well
	gaps     []Gap   // dry patches between the two
}

// stops reports whether the pair is wrong to build.
func (w *wide) stops() bool {
	if w.rows {
		return len(w.gaps) > 0 || over(w.over, spacingRowsStop)
	}
	return len(w.gaps) > 0 || over(w.over, spacingMost)
}

// spacing finds heads too far apart, area by area, and the dry patches with
// them: a patch that lies between two heads past the limit is told with their
// spacing, which is its cause; any other patch is told for itself. That an area
// without heads is dry is told by unwatered.
func spacing(s *survey) []plan.Finding {
	var found []plan.Finding
	gaps := map[plan.ID][]Gap{}
	for _, g := range s.r.Gaps {
		gaps[g.Area] = append(gaps[g.Area], g)
	}
	for _, area := range s.r.Areas {
		if !s.hasHead(area.ID) {
			continue
		}
		heads := s.arcHeads(area.ID)
		pairs := nearestTooFar(s, heads)
		open := byPlace(openPairs(heads, placesOf(heads)))
		for _, w := range open.list {
			if over(w.over, spacingLongSide) && s.stretched(area.ID, w) {
				w.rows = true
				pairs.join(w)
			}
		}
		var rest []Gap
		for _, g := range gaps[area.ID] {
			if w, ok := open.across(g); ok {
				pairs.join(w)
			} else {
				rest = append(rest, g)
			}
		}
		if len(pairs.list) > 0 {
			found = append(found, s.spacingFinding(area.ID, pairs.list))
		}
		if len(rest) > 0 {
			found = append(found, s.dryFinding(area, rest))
		}
	}
	return found
}

// arcHeads are the heads that stand for an area and throw an arc.
func (s *survey) arcHeads(area plan.ID) []spot {
	var out []spot
	for _, h := range s.areas[area] {
		if !h.strip() && h.throw() > 0 {
			out = append(out, h)
		}
	}
	return out
}

// nearestTooFar finds the heads whose nearest neighbour is farther than head to
// head. Two heads are neighbours when either throws towards the other, and the
// spacing counts by the longer of the throws that do.
func nearestTooFar(s *survey, heads []spot) *pairs {
	out := new(pairs)
	for i := range heads {
		h := &heads[i]
		if near, least := s.nearestTo(h); near != nil && over(least, spacingHeadToHead) {
			out.join(wide{a: h, b: near, distance: apart(h.at, near.at), over: least})
		}
	}
	return out
}

// nearestTo is the nearest neighbour of a head, by distance over throw, within
// farthestNeighbour throws; of two alike the one of the lesser id. Beyond that
// heads are no neighbours, and what is dry between them is told as such.
func (s *survey) nearestTo(h *spot) (near *spot, over float64) {
	least := math.Inf(1)
	for j, away := range s.places.outward(h.at, farthestNeighbour*s.reaches) {
		if away > least*s.reaches {
			break
		}
		k := &s.heads[j]
		d := apart(h.at, k.at)
		if k.id == h.id || k.strip() || d > least*max(h.throw(), k.throw()) {
			continue
		}
		reach := reachBetween(h, k)
		if reach <= 0 || d > farthestNeighbour*reach {
			continue
		}
		if d/reach < least || d/reach == least && k.id < near.id {
			near, least = k, d/reach
		}
	}
	return near, least
}

// besideDeg is how far beside the way to the next head another may stand that
// bridges the gap: the rows of an equilateral pattern stand 60° apart.
const besideDeg = 60

// stretched reports whether the ground between two heads that stand farther apart
// than the long side of a rectangle may be is left to them alone: it is all of
// their area, and neither has another head within reach that way. Rows pulled
// apart are found so, although along its row every head stands near enough to
// the next; a corner that a larger head beyond it reaches is not. Heads whose
// nozzle is not their zone's are told as that: the right one throws its own length.
func (s *survey) stretched(area plan.ID, w wide) bool {
	if s.odd()[w.a.id] || s.odd()[w.b.id] {
		return false
	}
	const steps = 8
	for i := 1; i < steps; i++ {
		if top := s.surfaceAt(towards(w.a.at, w.b.at, w.distance*float64(i)/steps)); top == nil || top.id != area {
			return false
		}
	}
	return !s.bridged(w.a, w.b) && !s.bridged(w.b, w.a)
}

// bridged reports whether some other head stands within reach of h on the way to k.
func (s *survey) bridged(h, k *spot) bool {
	way := geom.Bearing(h.at, k.at)
	for o := range s.near(h.at, spacingMost*s.reaches) {
		if o.id == h.id || o.id == k.id || o.strip() || o.at == h.at {
			continue
		}
		turn := geom.NormDeg(geom.Bearing(h.at, o.at) - way)
		if min(turn, 360-turn) <= besideDeg && !over(apart(h.at, o.at), spacingMost*reachBetween(h, o)) {
			return true
		}
	}
	return false
}

// reachBetween is the longest throw of the two heads that is thrown towards the
// other; 0 when both face away.
func reachBetween(h, k *spot) float64 {
	reach := 0.0
	if h.faces(k.at, arcSlack) {
		reach = h.throw()
	}
	if k.faces(h.at, arcSlack) {
		reach = max(reach, k.throw())
	}
	return reach
}

// pairs are the wide pairs of one area, none twice.
type pairs struct {
	list []wide
	at   map[[2]plan.ID]int // into list, the lesser id first
}

// join adds a pair, or its dry patches to the same pair.
func (p *pairs) join(w wide) {
	key := [2]plan.ID{min(w.a.id, w.b.id), max(w.a.id, w.b.id)}
	if i, ok := p.at[key]; ok {
		p.list[i].gaps = append(p.list[i].gaps, w.gaps...)
		return
	}
	if p.at == nil {
		p.at = map[[2]plan.ID]int{}
	}
	p.at[key] = len(p.list)
	p.list = append(p.list, w)
}

// spacingFinding tells of all pairs too far apart on one area.
func (s *survey) spacingFinding(area plan.ID, pairs []wide) plan.Finding {
	worst := pairs[0]
	var dry units.SqFeet
	var gaps []Gap
	about := []plan.Ref{plan.RefTo("areas", area)}
	for _, w := range pairs {
		if w.over > worst.over {
			worst = w
		}
		about = append(about, plan.RefTo("heads", w.a.id), plan.RefTo("heads", w.b.id))
		gaps = append(gaps, w.gaps...)
		for _, g := range w.gaps {
			dry += g.AreaSqFt
		}
	}
	patches := len(gaps)
	text := s.manySpacings(area, pairs, worst)
	if len(pairs) == 1 {
		text = s.oneSpacing(area, &worst)
	}
	if patches > 0 && len(pairs) > 1 {
		text += fmt.Sprintf(" Between them %s.", s.dryWords(area, dry, gaps))
	}
	f := plan.Found(plan.SpacingWide, text, about...).Looking(worst.middle()).
		Measured("distance_ft", worst.distance).Measured("distance_over_throw", worst.over)
	if patches > 0 {
		f.Title = "Dry patch: heads too far apart"
		f = f.Looking(largest(gaps).At).Measured("dry_sqft", float64(dry))
	}
	if !slices.ContainsFunc(pairs, func(w wide) bool { return w.stops() }) {
		f = f.Ranked(plan.Mend)
	}
	return f
}

func (w *wide) middle() orb.Point {
	return orb.Point{(w.a.at[0] + w.b.at[0]) / 2, (w.a.at[1] + w.b.at[1]) / 2}
}

// timesThrow prints a distance over a throw: 1.7, and nearer to the limits 1.02
// and 1.21, which must not read as 1.0 and 1.2.
func timesThrow(over float64) string {
	if over < 1.295 {
		return fmt.Sprintf("%.2f", over)
	}
	return fmt.Sprintf("%.1f", over)
}

func (s *survey) manySpacings(area plan.ID, pairs []wide, worst wide) string {
	heads := map[plan.ID]bool{}
	for _, w := range pairs {
		heads[w.a.id], heads[w.b.id] = true, true
	}
	return fmt.Sprintf("%d heads on %s stand too far apart, the farthest %s and %s: %s, %s times their throw of %s.",
		len(heads), s.p.AreaName(area), s.p.HeadName(worst.a.id), s.p.HeadName(worst.b.id),
		s.p.Show.Length(units.Feet(worst.distance)), timesThrow(worst.over), s.p.Show.Length(units.Feet(worst.distance/worst.over)))
}

// oneSpacing tells of one pair, names the head to move, and says where to.
func (s *survey) oneSpacing(area plan.ID, w *wide) string {
	moved, to, beyond := s.cure(area, w)
	if moved == w.b.id {
		w.a, w.b = w.b, w.a
	}
	text := fmt.Sprintf("%s stands %s from %s, the next one to the %s: %s times the throw of %s",
		plan.Capital(s.p.HeadName(w.a.id)), s.p.Show.Length(units.Feet(w.distance)), s.p.HeadName(w.b.id),
		s.p.Compass(w.a.at, w.b.at), timesThrow(w.over), s.p.Show.Length(units.Feet(w.distance/w.over)))
	var dry units.SqFeet
	for _, g := range w.gaps {
		dry += g.AreaSqFt
	}
	if dry > 0 {
		text += ", and between them " + s.dryWords(area, dry, w.gaps)
	}
	if moved == "" {
		return text + ". Move one towards the other, or add a head between them."
	}
	return text + fmt.Sprintf(". Move %s about %s %s, halfway between %s.", s.p.HeadName(moved),
		s.p.About(units.Feet(apart(w.a.at, to))), s.p.Compass(w.a.at, to), s.p.HeadNames([]plan.ID{w.b.id, beyond}))
}
