package arrange

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// mostMends bounds how many changes are proposed at once: whoever needs more is
// served better by arranging the area anew. Chosen.
const mostMends = 60

// triedShare is the share of the effort asked for that is spent in readings of the
// map, which take longer than those of a layout in the making. Chosen: 12,000 as
// usual, some ten seconds on a house lot that has everything wrong.
const triedShare = 0.2

// search takes the findings one by one, the one that makes others read wrong
// first, and for each the change that lowers the trouble most, until nothing is
// left that a change cures. The error is the context's.
func (m *mender) search(ctx context.Context, tell func(done, total int)) error {
	m.cut = true // until it comes to its end
	given := m.given
	all := max(len(m.wanted(given)), 1)
	for len(m.mends) < mostMends && float64(m.evaluations) < triedShare*float64(m.o.Effort) {
		left := m.wanted(given)
		tell(min(max(all-len(left), 0)*900/all, 900), 1000)
		if len(left) == 0 {
			m.cut = false
			return nil
		}
		f := left[0]
		r, ok, err := m.best(ctx, f)
		if err != nil {
			return err
		}
		if ok {
			ok, err = m.keep(ctx, r)
		}
		if err != nil {
			return err
		}
		if !ok {
			given[keyOfFinding(f)] = true
		}
	}
	return nil
}

func keyOfFinding(f plan.Finding) string {
	var about []string
	for _, r := range f.About {
		about = append(about, string(r))
	}
	return sameMistake(f.Code) + " " + strings.Join(about, " ")
}

// wanted are the findings still to be cured, in the order they are taken.
func (m *mender) wanted(given map[string]bool) []plan.Finding {
	var out []plan.Finding
	for _, f := range m.now.found {
		if slices.Contains(watched, f.Code) && !given[keyOfFinding(f)] && m.concerns(f) {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b plan.Finding) int {
		return cmp.Compare(slices.Index(watched, a.Code), slices.Index(watched, b.Code))
	})
	return out
}

// concerns reports whether a finding is about an area asked for.
func (m *mender) concerns(f plan.Finding) bool {
	if len(m.asked) == 0 {
		return true
	}
	for _, r := range f.About {
		switch collection, id := r.Split(); collection {
		case "areas":
			if m.asked[id] {
				return true
			}
		case "heads":
			if m.asked[m.areaOf(id)] {
				return true
			}
		}
	}
	return false
}

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

// best is the remedy that lowers the trouble most for what it costs; ok is false
// when none is worth its while. What can be shifted is then shifted foot by foot.
func (m *mender) best(ctx context.Context, f plan.Finding) (best remedy, ok bool, err error) {
	s, err := m.scopeOf(ctx, f)
	if err != nil {
		return best, false, err
	}
	from := m.remedies(f)
	least := s.base.sum - worthwhile
	was := severity(&s.base, f)
	take := func(r remedy) (bool, error) {
		found, err := m.try(ctx, s, &r, true)
		if err != nil {
			return false, err
		}
		if found.sum+r.cost >= least-1e-9 || found.worseThan(&s.base) || severity(&found, f) > 0.97*was {
			return false, nil
		}
		best, ok, least = r, true, found.sum+r.cost
		return true, nil
	}
	many := checkedFew
	if slices.Contains(byFindings, f.Code) {
		many = checkedMany
	}
	if from, err = m.promising(ctx, s, from, many); err != nil {
		return best, false, err
	}
	for _, r := range from {
		r.why, r.key = f, keyOfFinding(f)
		if _, err := take(r); err != nil {
			return best, false, err
		}
	}
	for turn := 0; ok && best.step > 0 && turn < 12; turn++ {
		shifted := false
		for _, r := range m.shifts(best) {
			r.why, r.key = best.why, best.key
			better, err := take(r)
			if err != nil {
				return best, false, err
			}
			shifted = shifted || better
		}
		if !shifted {
			break
		}
	}
	return best, ok, nil
}

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

// severity is how bad what a finding tells of is, in square feet of dry ground: of
// all findings of its mistake about the same things.
func severity(t *trouble, f plan.Finding) float64 {
	sum := 0.0
	for _, g := range t.found {
		if !kin(g.Code, f.Code) || !slices.ContainsFunc(g.About, func(r plan.Ref) bool { return slices.Contains(f.About, r) }) {
			continue
		}
		if g.Rank == plan.Stop {
			sum += badStop
		} else {
			sum += badMend
		}
		for _, v := range []struct {
			name string
			bad  float64
		}{
			{"dry_sqft", 1}, {"distance_over_throw", 20}, {"gpm", badHard}, {"worst_off_share", 10}, {"turned_down_share", 10},
			{"corners", 15}, {"heads", 15},
		} {
			sum += v.bad * g.Values[v.name]
		}
		sum += 3 * float64(len(g.About))
	}
	return sum
}

// kin reports whether two findings may tell of one mistake: what is dry is told by
// its cause where that is known.
func kin(a, b string) bool {
	dry := []string{plan.SpacingWide, plan.DryPatch, plan.NeighbourFacesAway, plan.CornerBare}
	return a == b || slices.Contains(dry, a) && slices.Contains(dry, b)
}

// fold makes one mend of a head that is added and what later mends change of it.
func (m *mender) fold() {
	for i := 0; i < len(m.mends); i++ {
		if m.mends[i].kind != MendAdd {
			continue
		}
		added := m.mends[i].of[0]
		one := plan.Plan{Heads: map[plan.ID]plan.Head{added.id: *added.added}, Nozzles: m.p.Nozzles, Bodies: m.p.Bodies}
		for _, later := range m.mends[i+1:] {
			if len(later.of) == 1 && later.of[0].id == added.id {
				later.apply(&one)
			}
		}
		h, there := one.Heads[added.id]
		if !there {
			continue
		}
		m.mends[i].of = []adjust{{id: added.id, added: &h}}
		m.mends = slices.DeleteFunc(m.mends, func(r remedy) bool {
			return r.kind != MendAdd && len(r.of) == 1 && r.of[0].id == added.id
		})
	}
}

// prune leaves out mends that the others make needless: the fewest are wanted.
func (m *mender) prune(ctx context.Context) error {
	for i := len(m.mends) - 1; i >= 0 && len(m.mends) > 1; i-- {
		without := slices.Delete(slices.Clone(m.mends), i, i+1)
		t, err := m.readWith(ctx, without)
		if err != nil {
			return err
		}
		if t.sum <= m.now.sum+m.mends[i].cost+worthwhile && !t.worseThan(&m.now) && len(m.left(&t)) <= len(m.left(&m.now)) {
			m.mends, m.now = without, t
		} else if _, err = m.readWith(ctx, m.mends); err != nil {
			return err
		}
	}
	return nil
}

// settle seeks each mend anew with the others in place: what was chosen before a
// head was moved may be better otherwise, and may do what a later one does.
func (m *mender) settle(ctx context.Context) error {
	for i := 0; i < len(m.mends); i++ {
		r := m.mends[i]
		others, spared := []remedy{}, r.cost
		at := 0
		for j := range m.mends {
			switch {
			case j == i:
				at = len(others)
			case j > i && m.mends[j].kind == r.kind && subset(m.mends[j].heads(), r.heads()):
				spared += m.mends[j].cost + worthwhile
			default:
				others = append(others, m.mends[j])
			}
		}
		now := m.now
		best, then, err := m.betterFor(ctx, i, at, others, now.sum+spared-0.5)
		if err != nil {
			m.now = now
			return err
		}
		m.now = now
		if best != nil {
			m.mends, m.now = best, then
		}
	}
	_, err := m.readWith(ctx, m.mends)
	return err
}

// alternatives is how many of a mend's alternatives are read on the whole plan, of
// those that measure best. Chosen.
const alternatives = 4

// betterFor is the best list of mends with another in place of the i-th, among
// the others at a place; nil when none comes below a sum.
func (m *mender) betterFor(ctx context.Context, i, at int, others []remedy, least float64) (best []remedy, then trouble, err error) {
	r, now := m.mends[i], m.now
	if m.now, err = m.readWith(ctx, others); err != nil {
		return nil, then, err
	}
	s, err := m.scopeOf(ctx, r.why)
	if err != nil {
		return nil, then, err
	}
	alts := slices.DeleteFunc(append(m.remedies(r.why), m.shifts(r)...), func(alt remedy) bool {
		return alt.kind != r.kind || !slices.Equal(alt.heads(), r.heads())
	})
	if alts, err = m.promising(ctx, s, alts, alternatives); err != nil {
		return nil, then, err
	}
	for _, alt := range alts {
		alt.why, alt.key = r.why, r.key
		list := slices.Insert(slices.Clone(others), at, alt)
		t, err := m.readWith(ctx, list)
		if err != nil {
			return nil, then, err
		}
		if t.sum+alt.cost < least && !t.worseThan(&now) && len(m.left(&t)) <= len(m.left(&now)) {
			best, then, least = list, t, t.sum+alt.cost
		}
	}
	return best, then, nil
}

func subset(of, all []plan.ID) bool {
	return !slices.ContainsFunc(of, func(id plan.ID) bool { return !slices.Contains(all, id) })
}

// readWith makes the plan anew with some mends and reads it.
func (m *mender) readWith(ctx context.Context, mends []remedy) (trouble, error) {
	clear(m.p.Heads)
	for id, h := range m.was.Heads {
		m.p.Heads[id] = h
	}
	for i := range mends {
		mends[i].apply(m.p)
	}
	return m.read(ctx)
}

// left are the findings that Improve looks for and that are still there.
func (m *mender) left(t *trouble) []plan.Finding {
	var out []plan.Finding
	for _, f := range t.found {
		if slices.Contains(watched, f.Code) && m.concerns(f) {
			out = append(out, f)
		}
	}
	return out
}
