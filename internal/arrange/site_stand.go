package arrange

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
)

// spare is added to every set-back that is not 0, in feet: what chords for arcs
// and tidied outlines may take from it, so that no head comes out nearer than its
// set-back. A fifth of an inch.
const spare = 1.0 / 64

// leastStand is the ground below which a part of stand is left out, in square
// feet: less than a head's body covers. Chosen.
const leastStand = 0.02

// place finds where heads may stand on a ground and along which edges.
func (s *site) place(g *ground) error {
	if err := s.bands(g); err != nil {
		return err
	}
	if g.refuses = s.narrow(g); g.refuses != "" {
		return nil
	}
	firm, err := s.firm(g)
	if err != nil {
		return err
	}
	inner, err := s.offOthers(g, firm)
	if err != nil {
		return err
	}
	if g.stand, err = s.offThings(inner); err != nil {
		return err
	}
	if s.longestSetBack() > 0 { // without any the outline itself is the edge
		g.stand = plain(g.stand)
	}
	if len(g.stand) == 0 {
		g.refuses = s.nowhere(g)
		return nil
	}
	g.edges, err = edgesOf(g.stand, inner, s.longestSetBack())
	return err
}

// firm is the ground less the set-backs from paving, streets, walls and the
// property line.
func (s *site) firm(g *ground) (orb.MultiPolygon, error) {
	var off []orb.MultiPolygon
	for i, q := range s.plots {
		var rule plan.RuleID
		switch q.kind {
		case plan.Paving:
			rule = plan.SetBackPaving
		case plan.RightOfWay:
			rule = plan.SetBackStreet
		case plan.Building:
			rule = plan.SetBackWall
		default:
			continue
		}
		d := s.setBack(rule)
		around := g.shape.Bound().Pad(d)
		if d == 0 || !q.bound.Intersects(around) {
			continue
		}
		mp := orb.MultiPolygon{q.poly}
		if q.kind == plan.RightOfWay { // it yields to planting: what is left of it
			var err error
			if mp, err = s.restOf(i); err != nil {
				return nil, err
			}
		}
		grown, err := grownIn(mp, d, around)
		if err != nil {
			return nil, err
		}
		off = append(off, grown)
	}
	for _, b := range s.lines {
		d := s.setBack(plan.SetBackWall)
		if b.hedge {
			d = s.setBack(plan.SetBackOther)
		}
		if d == 0 || !b.line.Bound().Intersects(g.shape.Bound().Pad(d)) {
			continue
		}
		along, err := beside(b.line, d, g.shape.Bound())
		if err != nil {
			return nil, err
		}
		off = append(off, along)
	}
	stand, err := less(g.wet, off...)
	if err != nil || s.lot == nil {
		return stand, err
	}
	within, err := geom.Inset(s.lot, s.setBack(plan.SetBackLot))
	if err != nil {
		return nil, err
	}
	stand, err = geom.Intersection(stand, within)
	return solid(stand), err
}

// others is what lies about the ground that no other set-back speaks of: other
// planting, bare and undrawn ground, water.
func (s *site) others(g *ground) (orb.MultiPolygon, error) {
	d := s.setBack(plan.SetBackOther)
	if d == 0 {
		return nil, nil
	}
	box := orb.MultiPolygon{g.shape.Bound().Pad(2 * d).ToPolygon()}
	off := []orb.MultiPolygon{g.shape}
	for i, q := range s.plots {
		if !q.bound.Intersects(box.Bound()) {
			continue
		}
		switch q.kind {
		case plan.Paving, plan.Building:
			off = append(off, orb.MultiPolygon{q.poly})
		case plan.RightOfWay:
			rest, err := s.restOf(i)
			if err != nil {
				return nil, err
			}
			off = append(off, rest)
		}
	}
	if s.lot != nil {
		var err error
		if box, err = geom.Intersection(box, s.lot); err != nil {
			return nil, err
		}
	}
	return less(box, off...)
}

// offOthers takes the set-back from any other edge off, as much of it as leaves
// somewhere to stand: in a strip narrower than twice that set-back heads go along
// the middle. Custom, not code, so it may give way; the firm ones never do.
func (s *site) offOthers(g *ground, firm orb.MultiPolygon) (orb.MultiPolygon, error) {
	d := s.setBack(plan.SetBackOther)
	if d == 0 || len(firm) == 0 {
		return firm, nil
	}
	within, err := s.withinOthers(g)
	if err != nil {
		return nil, err
	}
	for _, part := range []float64{1, 0.75, 0.5, 0.25} {
		left, err := within(firm, float64(d*part))
		if err != nil || len(left) > 0 {
			return left, err
		}
	}
	return firm, nil
}

// withinOthers gives what takes a set-back from other edges off a stand. Where no
// firm set-back is less than that from other edges, as is usual, it does not matter
// what lies along which edge: the ground is drawn in all round, which is quicker.
func (s *site) withinOthers(g *ground) (func(firm orb.MultiPolygon, d float64) (orb.MultiPolygon, error), error) {
	if s.setBack(plan.SetBackOther) <= s.leastFirm() {
		return func(firm orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
			in, err := geom.Inset(g.shape, d)
			if err != nil || sameShape(firm, g.shape) {
				return solid(in), err
			}
			in, err = geom.Intersection(firm, in)
			return solid(in), err
		}, nil
	}
	others, err := s.others(g)
	return func(firm orb.MultiPolygon, d float64) (orb.MultiPolygon, error) {
		if len(others) == 0 {
			return firm, nil
		}
		grown, err := grownIn(others, d, firm.Bound())
		if err != nil {
			return nil, err
		}
		return less(firm, grown)
	}, err
}

// offThings takes off what stands or lies in the ground: trunks with their
// set-back, ground where nobody may dig, things to keep dry. Root zones stay: heads
// may stand there.
func (s *site) offThings(from orb.MultiPolygon) (orb.MultiPolygon, error) {
	if len(from) == 0 {
		return nil, nil
	}
	in := from.Bound()
	var off []orb.MultiPolygon
	round := func(at orb.Point, r float64) {
		if r > 0 && at.Bound().Pad(r).Intersects(in) {
			off = append(off, orb.MultiPolygon{{geom.Sector(at, r, 0, 360)}})
		}
	}
	for _, t := range s.trunks {
		round(t.at, t.radius+s.setBack(plan.SetBackTrunk)+spare+s.more)
	}
	for _, k := range s.dry {
		round(k.at, k.radius+spare+s.more)
	}
	d := max(s.setBack(plan.SetBackOther), spare+s.more) // nor on the edge of it
	for _, poly := range s.noDig {
		if !poly.Bound().Pad(d).Intersects(in) {
			continue
		}
		grown, err := grownIn(orb.MultiPolygon{poly}, d, in)
		if err != nil {
			return nil, err
		}
		off = append(off, grown)
	}
	return less(from, off...)
}

// restOf is the ground that plot i keeps from the stronger ones.
func (s *site) restOf(i int) (orb.MultiPolygon, error) {
	var over []orb.MultiPolygon
	for _, r := range s.plots[i+1:] {
		if r.bound.Intersects(s.plots[i].bound) {
			over = append(over, orb.MultiPolygon{r.poly})
		}
	}
	return less(orb.MultiPolygon{s.plots[i].poly}, over...)
}

// setBack is a set-back of the plan with what geometry may take from it, in feet;
// 0 for none.
func (s *site) setBack(rule plan.RuleID) float64 {
	d, _ := s.p.LocalRule(rule)
	if !(d > 0) {
		return 0
	}
	return float64(d) + spare + s.more
}

// leastFirm is the least of the set-backs that never give way, in feet.
func (s *site) leastFirm() float64 {
	least := math.Inf(1)
	for _, r := range []plan.RuleID{plan.SetBackPaving, plan.SetBackStreet, plan.SetBackWall, plan.SetBackLot} {
		least = min(least, s.setBack(r))
	}
	return least
}

// longestSetBack is the widest of the set-backs along edges, in feet.
func (s *site) longestSetBack() float64 {
	most := 0.0
	for _, r := range []plan.RuleID{plan.SetBackPaving, plan.SetBackStreet, plan.SetBackWall, plan.SetBackLot, plan.SetBackOther, plan.BandPaving} {
		most = max(most, s.setBack(r))
	}
	return most
}

// nowhere says why no head may stand on a ground.
func (s *site) nowhere(g *ground) string {
	if s.lot != nil {
		if in, err := geom.Intersection(g.shape, s.lot); err == nil && geom.Area(in) < leastStand {
			return plan.Capital(g.name) + " lies off the lot: no head may stand there."
		}
	}
	return fmt.Sprintf("There is no place for a head on %s: it is %s wide at most, and the set-backs and what stands in it leave nothing.",
		g.name, s.p.Show.Length(g.widest))
}
