package arrange

import (
	"fmt"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// bands takes the bands along paving that no overhead water may reach off what is
// to be wet. A trial of the area counts water in them as hard (coverage.Band).
func (s *site) bands(g *ground) error {
	d := s.setBack(plan.BandPaving)
	if d == 0 {
		return nil
	}
	var off []orb.MultiPolygon
	around := g.shape.Bound().Pad(d)
	for _, q := range s.plots {
		if q.kind != plan.Paving || !q.bound.Intersects(around) {
			continue
		}
		grown, err := grownIn(orb.MultiPolygon{q.poly}, d, around)
		if err != nil {
			return err
		}
		off = append(off, grown)
	}
	if len(off) == 0 {
		return nil
	}
	wet, err := less(g.shape, off...)
	if err != nil {
		return err
	}
	g.wet = wet
	return nil
}

// narrow refuses ground between pavings that is narrower than overhead water is
// allowed on, and ground of which the bands leave nothing.
func (s *site) narrow(g *ground) string {
	least, source := s.p.LocalRule(plan.StripLeast)
	if g.widest < least && s.pavedSides(g) >= 2 {
		return fmt.Sprintf("%s is nowhere wider than %s, with paving along two sides or more: no overhead water goes on strips narrower than %s (%s).",
			plan.Capital(g.name), s.p.Show.Length(g.widest), s.p.Show.Length(least), source)
	}
	if len(g.wet) == 0 {
		band, source := s.p.LocalRule(plan.BandPaving)
		return fmt.Sprintf("%s lies wholly within %s of paving, where no overhead water goes (%s).",
			plan.Capital(g.name), s.p.Show.Length(band), source)
	}
	return ""
}

// pavedSides counts the sides of a ground that have paving or a right of way along
// them, as the finding about thin strips does.
func (s *site) pavedSides(g *ground) int {
	var paved []orb.Polygon
	for _, q := range s.plots {
		if q.kind == plan.Paving || q.kind == plan.RightOfWay {
			paved = append(paved, q.poly)
		}
	}
	most := 0
	for _, poly := range g.shape {
		most = max(most, coverage.PavedSides(poly[0], paved))
	}
	return most
}
