package coverage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

const (
	// doubledWithin is how near two heads that throw the same way are one too many,
	// in feet. Chosen: rows back to back stand so near, but throw apart.
	doubledWithin = 1.0
	// doubledSpot is from how near no two bodies can stand, in feet. Chosen.
	doubledSpot = 0.25
	// doubledArc is the share of the lesser arc that both throw over. Chosen.
	doubledArc = 0.5
	// sameStrip is how far two strip nozzles may be turned and still wet one strip,
	// in degrees. Chosen.
	sameStrip = 45
)

// twin is a head that another stands on or beside, throwing the same way.
type twin struct {
	extra, first *spot
	apart        float64
}

// doubledHeads finds heads on the spot of another, as a copy pasted twice leaves
// them, by the area of the head that was there first.
func doubledHeads(s *survey) []plan.Finding {
	by := map[plan.ID][]twin{}
	for i := range s.heads {
		if t, ok := s.doubles(&s.heads[i]); ok {
			by[t.first.reading.Area] = append(by[t.first.reading.Area], t)
		}
	}
	var found []plan.Finding
	for _, area := range plan.SortedIDs(by) {
		found = append(found, s.doubledFinding(by[area]))
	}
	return found
}

// doubles is the nearest head of a lesser id that h doubles.
func (s *survey) doubles(h *spot) (twin, bool) {
	t := twin{extra: h, apart: math.Inf(1)}
	for k := range s.near(h.at, doubledWithin) {
		d := apart(h.at, k.at)
		if k.id < h.id && d <= doubledWithin && d < t.apart && h.alongside(k) {
			t.first, t.apart = k, d
		}
	}
	return t, t.first != nil
}

// alongside reports whether two heads on one spot would throw the same way.
func (h *spot) alongside(k *spot) bool {
	if h.strip() != k.strip() {
		return false
	}
	if h.strip() {
		return sameWay(h.StartDeg, 0, k.StartDeg, 0)
	}
	return h.SweepDeg > 0 && k.SweepDeg > 0 && sameWay(h.StartDeg, h.SweepDeg, k.StartDeg, k.SweepDeg)
}

// Doubles reports whether the finding about doubled heads would name one of two heads
// for standing on or beside the other and throwing the same way.
func Doubles(a, b Thrown) bool {
	return apart(a.At, b.At) <= doubledWithin && (a.Sweep == 0) == (b.Sweep == 0) && sameWay(a.Start, a.Sweep, b.Start, b.Sweep)
}

// sameWay reports whether two arcs, or two strips (of no sweep), wet the same ground
// from one spot.
func sameWay(startA, a, startB, b units.Degrees) bool {
	if a == 0 {
		turn := geom.NormDeg(float64(startA - startB))
		return min(turn, 360-turn) <= sameStrip
	}
	return sharedArc(float64(startA), float64(a), float64(startB), float64(b)) >= doubledArc*float64(min(a, b))
}

// sharedArc is how much of two arcs is in both, in degrees.
func sharedArc(startA, a, startB, b float64) float64 {
	from, shared := geom.NormDeg(startB-startA), 0.0 // of b, where a begins at 0
	for _, turn := range []float64{-360, 0, 360} {
		shared += max(0, min(a, from+turn+b)-max(0, from+turn))
	}
	return shared
}

func (s *survey) doubledFinding(twins []twin) plan.Finding {
	var extra, both []spot
	nearest := twins[0]
	for _, t := range twins {
		extra = append(extra, *t.extra)
		both = append(both, *t.extra, *t.first)
		if t.apart < nearest.apart {
			nearest = t
		}
	}
	where := "on the spot of"
	if nearest.apart > doubledSpot {
		where = s.p.Show.Inches(units.Feet(nearest.apart).Inches()) + " from"
	}
	text := fmt.Sprintf("%s stands %s %s and throws the same way.",
		plan.Capital(s.p.HeadName(nearest.extra.id)), where, s.p.HeadName(nearest.first.id))
	if len(twins) > 1 {
		text = fmt.Sprintf("%s stand on or beside others that throw the same way: %s %s %s, and so on.",
			plan.Capital(s.named(extra)), s.p.HeadName(nearest.extra.id), where, s.p.HeadName(nearest.first.id))
	}
	f := plan.Found(plan.HeadsDoubled, text, refs(both)...).Looking(nearest.extra.at).
		Measured("heads", float64(len(twins))).Measured("apart_ft", nearest.apart)
	if nearest.apart > doubledSpot {
		f = f.Ranked(plan.Mend)
	}
	return f
}

// doubledAreas finds areas of one kind with the same outline.
func doubledAreas(s *survey) []plan.Finding {
	var found []plan.Finding
	for i := range s.lands {
		l := &s.lands[i]
		twins := s.sameOutline(l)
		if len(twins) == 0 || twins[0] < l.id {
			continue // told with the first of them
		}
		names, about := []string{s.p.AreaName(l.id)}, []plan.Ref{plan.RefTo("areas", l.id)}
		for _, id := range twins {
			names, about = append(names, s.p.AreaName(id)), append(about, plan.RefTo("areas", id))
		}
		text := fmt.Sprintf("%s have the same outline: only one of them has the ground.", plan.Capital(plan.Several(names)))
		found = append(found, plan.Found(plan.AreasDoubled, text, about...).Looking(geom.InsidePoint(l.shape)))
	}
	return found
}

// sameOutline lists the other areas of a land's kind with its outline, by id.
func (s *survey) sameOutline(l *land) []plan.ID {
	var out []plan.ID
	for _, i := range s.ground.at(l.shape[0][0]) {
		o := &s.lands[i]
		if o.id != l.id && o.Kind == l.Kind && o.bound == l.bound && outlineKey(o) == outlineKey(l) {
			out = append(out, o.id)
		}
	}
	slices.Sort(out)
	return out
}

// outlineKey is the corners of a land in an order of their own, so that it does not
// matter which was drawn first.
func outlineKey(l *land) string {
	var corners []string
	for _, ring := range l.shape {
		for _, p := range ring[1:] {
			corners = append(corners, fmt.Sprintf("%.3f %.3f", p[0], p[1]))
		}
	}
	slices.Sort(corners)
	return strings.Join(corners, ";")
}
