package arrange

import (
	"context"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// headsFor finds the area each head stands for: the one most of its water lands
// on, as coverage reads it; of a head without water yet, the planting area it
// stands on or beside and faces.
func (s *site) headsFor() error {
	s.standFor = map[plan.ID]plan.ID{}
	s.headsOf = map[plan.ID][]plan.ID{}
	if len(s.p.Heads) == 0 {
		return nil
	}
	r, err := coverage.Compute(context.Background(), s.p)
	if err != nil {
		return err
	}
	for _, h := range r.Heads {
		s.standFor[h.ID] = h.Area
	}
	for _, id := range plan.SortedIDs(s.p.Heads) {
		h := s.p.Heads[id]
		if !h.Status.Stands() {
			continue
		}
		if s.standFor[id] == "" {
			s.standFor[id] = s.besideOf(h)
		}
		if area := s.standFor[id]; area != "" {
			s.headsOf[area] = append(s.headsOf[area], id)
		}
	}
	return nil
}

// headsOfArea are the heads that stand for an area: those that stay as they are,
// because they are locked or there already, and those that make room.
func (s *site) headsOfArea(area plan.ID) (stays, goes []plan.ID) {
	for _, id := range s.headsOf[area] {
		if h := s.p.Heads[id]; h.Locked || h.Status == plan.Existing {
			stays = append(stays, id)
		} else {
			goes = append(goes, id)
		}
	}
	return stays, goes
}

// besideOf is the planting area watered overhead that a head without water stands
// on or, within nearby feet, beside: of several as near the one in the middle of
// its arc.
func (s *site) besideOf(h plan.Head) plan.ID {
	at := orb.Point{float64(h.X), float64(h.Y)}
	sin, cos := math.Sincos(float64(h.StartDeg+h.SweepDeg/2) * math.Pi / 180)
	ahead := orb.Point{at[0] + float64(cos/2), at[1] + float64(sin/2)}
	best, least := plan.ID(""), nearby
	for _, q := range s.plots { // stronger ones later: they win when as near
		a := s.p.Areas[q.id]
		if q.kind != plan.Planting || a.WateredBy() != plan.Overhead {
			continue
		}
		d := awayFrom(q.poly, at) + awayFrom(q.poly, ahead)/8
		if d <= least {
			best, least = q.id, d
		}
	}
	return best
}

// awayFrom is how far a place is from a polygon, in feet; 0 in it.
func awayFrom(poly orb.Polygon, at orb.Point) float64 {
	if geom.PolygonContains(poly, at) {
		return 0
	}
	return edgeDistance(orb.MultiPolygon{poly}, at)
}
