package arrange

import (
	"cmp"
	"context"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// scope is what of a plan a search for one finding reads: the heads whose water or
// whose valve has to do with it.
type scope struct {
	p    *plan.Plan
	base trouble
}

// scopeOf is the scope of a finding: the heads that stand for its areas or whose
// water lands there, and all of their zones.
func (m *mender) scopeOf(ctx context.Context, f plan.Finding) (*scope, error) {
	areas, zones := map[plan.ID]bool{}, map[plan.ID]bool{}
	for _, r := range f.About {
		switch collection, id := r.Split(); collection {
		case "areas":
			areas[id] = true
		case "heads":
			areas[m.areaOf(id)] = true
			zones[m.p.Heads[id].Zone] = true
		case "zones":
			zones[id] = true
		}
	}
	own := *m.p
	own.Heads = map[plan.ID]plan.Head{}
	for _, h := range m.now.result.Heads {
		if areas[h.Area] {
			zones[m.p.Heads[h.ID].Zone] = true
		}
		if areas[h.Area] || slices.ContainsFunc(h.Landed, func(l coverage.Landing) bool { return areas[l.Surface] && l.GPM > 0 }) {
			own.Heads[h.ID] = m.p.Heads[h.ID]
		}
	}
	for _, id := range plan.SortedIDs(m.p.Heads) {
		if h := m.p.Heads[id]; h.Zone != "" && zones[h.Zone] || h.Zone == "" && slices.Contains(f.About, plan.RefTo("heads", id)) {
			own.Heads[id] = h
		}
	}
	m.nearOnly(&own, areas)
	s := &scope{p: &own}
	var err error
	s.base, err = m.readOf(ctx, s.p, m.local, true)
	return s, err
}

// nearOnly leaves out of a scope's plan the areas that no water of its heads
// comes near, wherever one of them may be moved.
func (m *mender) nearOnly(p *plan.Plan, areas map[plan.ID]bool) {
	most := 0.0
	for _, id := range plan.SortedIDs(p.Heads) {
		most = max(most, float64(m.throwOf(id)))
	}
	around := headsBound(p)
	for _, id := range plan.SortedIDs(areas) {
		around = around.Union(p.Areas[id].Outline.Bound())
	}
	p.Areas = areasIn(p, around.Pad(3*most+10))
}

// headsBound is the rectangle that holds the heads of a plan.
func headsBound(p *plan.Plan) orb.Bound {
	var all orb.MultiPoint
	for _, id := range plan.SortedIDs(p.Heads) {
		all = append(all, spotOf(p.Heads[id]))
	}
	return all.Bound()
}

// areasIn are the areas that come into a rectangle.
func areasIn(p *plan.Plan, in orb.Bound) map[plan.ID]plan.Area {
	out := map[plan.ID]plan.Area{}
	for id, a := range p.Areas {
		if in.Intersects(a.Outline.Bound()) {
			out[id] = a
		}
	}
	return out
}

// try reads a scope with a remedy, and leaves it as it was.
func (m *mender) try(ctx context.Context, s *scope, r *remedy, checks bool) (trouble, error) {
	had := make([]plan.Head, len(r.of))
	there := make([]bool, len(r.of))
	for i := range r.of {
		had[i], there[i] = s.p.Heads[r.of[i].id]
	}
	r.apply(s.p)
	t, err := m.readOf(ctx, s.p, m.local, checks)
	for i := range r.of {
		if there[i] {
			s.p.Heads[r.of[i].id] = had[i]
		} else {
			delete(s.p.Heads, r.of[i].id)
		}
	}
	return t, err
}

// byFindings are the mistakes that the measures of a reading do not tell: there
// more changes are held to the findings themselves.
var byFindings = []string{
	plan.HeadsDoubled, plan.NozzleNotFitting, plan.OutsideTable, plan.HeadCloseToPaving, plan.NoDigging, plan.SprayOnWall, plan.ThingInThrow,
	plan.NeighbourFacesAway, plan.CornerBare, plan.SpacingWide,
}

// How many changes are held to the findings, of those that measure best. Chosen.
const (
	checkedFew  = 12
	checkedMany = 60
)

// promising are the remedies that measure best, in the order they came.
func (m *mender) promising(ctx context.Context, s *scope, from []remedy, many int) ([]remedy, error) {
	if len(from) <= many {
		return from, nil
	}
	costs := make([]float64, len(from))
	order := make([]int, len(from))
	for i := range from {
		t, err := m.try(ctx, s, &from[i], false)
		if err != nil {
			return nil, err
		}
		costs[i], order[i] = t.measured+from[i].cost, i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(costs[a], costs[b]) })
	order = order[:many]
	slices.Sort(order)
	out := make([]remedy, len(order))
	for k, i := range order {
		out[k] = from[i]
	}
	return out, nil
}
