package arrange

import (
	"cmp"
	"context"
	"slices"
	"strings"

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
