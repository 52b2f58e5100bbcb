package arrange

import (
	"context"
	"slices"

	"evenfall/internal/plan"
)

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
