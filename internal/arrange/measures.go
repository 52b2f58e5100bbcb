package arrange

import (
	"math"

	"evenfall/internal/coverage"
	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Cells that finalists are re-read on, in feet. No whole or half foot is a multiple
// of them, so that heads set on an edge do not line up with them (reference
// coverage §6b); on large ground they grow with it.
const (
	fineCell  = 0.2371
	driftCell = 0.4739 // of the field estimate, whose spread is wider than what coarse cells cost
	fineFeet  = 4000.  // square feet from which the cells grow
)

// gauge measures the layouts of one area.
type gauge struct {
	j     *job
	fine  *coverage.Trial
	drift *coverage.Trial
	need  units.Inches // a week at peak
}

func (j *job) newGauge() (*gauge, error) {
	reach := units.Feet(0)
	for _, k := range j.kits {
		s := search{kit: k, stays: j.stays}
		reach = max(reach, s.reach())
	}
	for _, h := range j.stays { // where no kit is
		reach = max(reach, h.set.throw)
	}
	area := geom.Area(j.ground.shape)
	grow := max(1, math.Sqrt(area/fineFeet))
	g := &gauge{j: j, need: j.p.PeakWeek(j.ground.cover)}
	var err error
	if g.fine, err = coverage.NewTrial(j.p, j.ground.id, units.Feet(fineCell*grow), reach); err != nil {
		return nil, err
	}
	g.drift, err = coverage.NewTrial(j.p, j.ground.id, units.Feet(driftCell*grow), reach)
	return g, err
}

// finalist is a candidate with what it measures.
type finalist struct {
	kit  int
	c    candidate
	m    Measures
	hard units.Ratio // shares of the flow past the edge and on walls, by class
	bare units.Ratio
	soft units.Ratio
	key  string

	away units.Ratio // share of the flow past what is drawn or off the lot
}

// measure reads a candidate on cells that no head lines up with.
func (g *gauge) measure(k int, c candidate) finalist {
	lay(g.fine, c.heads)
	t := g.fine.Read()
	m := Measures{
		Heads: len(c.heads), DU: t.DU, CU: t.CU, Driest2: t.Driest2, Mean: t.Mean, Flow: t.Flow,
		Settings: kinds(c.heads), HeadToHead: c.h2h,
	}
	m.Doubled = len(doubled(c.heads))
	if g.j.o.Facing {
		m.Apart = loose(c.heads)
	}
	if at := g.fine.Driest(); t.Mean > 0 {
		m.Driest = &at
	}
	for _, s := range g.fine.Past() {
		name := s.Name
		if name == "" {
			name = coverage.SurfaceName(g.j.p, s.Surface)
		}
		m.Past = append(m.Past, Past{Surface: s.Surface, Name: name, Kind: s.Kind, Share: share(s.GPM, t.Flow)})
	}
	for _, s := range g.fine.Walled() {
		m.walled(g.j.p, s.By, share(s.GPM, t.Flow))
	}
	sortPast(m.Past)
	f := finalist{kit: k, c: c, hard: share(t.Hard+t.Walled, t.Flow), bare: share(t.Bare, t.Flow), soft: share(t.Other, t.Flow)}
	m.PastEdge = f.hard + f.bare + f.soft
	for i := range c.heads {
		if l := g.fine.Landed(i); l.Blamed(c.heads[i].set.flow) {
			m.Blamed++
		}
	}
	for _, s := range m.Past {
		if s.Surface == coverage.Outside {
			f.away = s.Share
		}
	}
	lay(g.drift, c.heads)
	m.FieldMean, m.FieldP10 = g.drift.Astray(coverage.UsualSeed, coverage.UsualDraws)
	m.Minutes = coverage.WeekMinutes(g.need, m.Mean, m.FieldMean)
	f.m = m
	return f
}

// lay puts heads on a trial and no others.
func lay(t *coverage.Trial, heads []stand) {
	for i := range heads {
		t.Set(i, heads[i].thrown())
	}
	for t.Len() > len(heads) {
		t.Take(t.Len() - 1)
	}
}

func share(part, of units.GPM) units.Ratio {
	if !(of > 0) {
		return 0
	}
	return units.Ratio(float64(part) / float64(of))
}

// kindOf is what makes two heads the same to set.
type kindOf struct {
	nozzle plan.ID
	sweep  units.Degrees
	throw  units.Feet
}

// kinds is how many different settings heads have.
func kinds(heads []stand) int {
	seen := map[kindOf]bool{}
	for i := range heads {
		seen[kindOf{heads[i].set.nozzle, heads[i].set.sweep, heads[i].set.throw}] = true
	}
	return len(seen)
}

// total is what layouts of several areas come to together: the least even of
// them, sums of heads, flow and minutes, shares of the whole flow.
func total(layouts []*Layout) Measures {
	t := Measures{DU: 1, CU: 1, FieldMean: 1, FieldP10: 1, Driest2: 1}
	past := map[plan.ID]int{}
	kinds := map[kindOf]bool{}
	rates, near := 0.0, 0.0
	for _, l := range layouts {
		m := &l.Measures
		t.Heads += m.Heads
		t.Blamed += m.Blamed
		t.Apart += m.Apart
		t.Doubled += m.Doubled
		t.Flow += m.Flow
		t.Minutes += m.Minutes
		t.DU, t.CU = min(t.DU, m.DU), min(t.CU, m.CU)
		t.FieldMean, t.FieldP10 = min(t.FieldMean, m.FieldMean), min(t.FieldP10, m.FieldP10)
		if m.Driest2 < t.Driest2 || t.Driest == nil {
			t.Driest2, t.Driest = m.Driest2, m.Driest
		}
		near += float64(m.HeadToHead) * float64(m.Heads)
		if m.Mean > 0 {
			rates += float64(m.Flow) / float64(m.Mean) // the ground they water, but for a factor
		}
		for _, h := range l.Heads {
			kinds[kindOf{h.Nozzle, h.Sweep, h.Throw}] = true
		}
		for _, s := range m.Past {
			i, has := past[s.Surface]
			if !has {
				i = len(t.Past)
				past[s.Surface] = i
				t.Past = append(t.Past, Past{Surface: s.Surface, Name: s.Name, Kind: s.Kind})
			}
			t.Past[i].Share += s.Share * units.Ratio(m.Flow) // gpm for now
		}
		t.PastEdge += m.PastEdge * units.Ratio(m.Flow)
	}
	t.Doubled += doubledBetween(layouts)
	t.Settings = len(kinds)
	if t.Heads > 0 {
		t.HeadToHead = units.Ratio(near / float64(t.Heads))
	}
	if t.Flow > 0 {
		t.PastEdge /= units.Ratio(t.Flow)
		for i := range t.Past {
			t.Past[i].Share /= units.Ratio(t.Flow)
		}
	}
	if rates > 0 {
		t.Mean = units.InchesPerHour(float64(t.Flow) / rates)
	}
	sortPast(t.Past)
	return t
}

// walled tells of water that a wall, a fence or a building stops: it runs down it
// and counts as what lands on a building.
func (m *Measures) walled(p *plan.Plan, by plan.Ref, part units.Ratio) {
	collection, id := by.Split()
	for i := range m.Past {
		if m.Past[i].Surface == id {
			m.Past[i].Share += part
			return
		}
	}
	name := "the wall of " + p.AreaName(id)
	if collection == "barriers" {
		b := p.Barriers[id]
		if name = b.Name; name == "" {
			name = "the " + string(b.Kind)
		}
	}
	m.Past = append(m.Past, Past{Surface: id, Name: name, Kind: plan.Building, Share: part})
}
