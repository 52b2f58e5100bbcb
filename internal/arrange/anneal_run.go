package arrange

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// task is one run of annealing.
type task struct {
	from        candidate
	rnd         *rand.Rand
	evaluations int
	hot         float64 // the temperature to begin at, of cost
	// A symmetry to keep, how many heads there are to be, and how many on its line:
	// for those that have no mates yet.
	sym    *symmetry
	n, own int
	// How many heads are set elsewhere before it begins, where no symmetry is kept.
	scattered int
}

// run lowers the cost of a candidate: simulated annealing. It answers the best
// it met.
func (b *bench) run(ctx context.Context, t task) candidate {
	m := mover{s: b.s, rnd: t.rnd, sym: t.sym, mates: t.from.mates}
	now := candidate{heads: slices.Clone(t.from.heads)}
	if t.sym != nil && m.mates == nil {
		var ok bool
		for range 20 {
			if now.heads, m.mates, ok = m.balance(t.sym, t.from.heads, t.n, t.own); ok {
				break
			}
		}
		if !ok {
			now.heads, m.mates, m.sym = slices.Clone(t.from.heads), nil, nil
		}
	}
	now.sym, now.mates = m.sym, m.mates
	b.read(&now)
	best := now
	best.heads = slices.Clone(now.heads)
	var free []int
	for i := range now.heads {
		if !now.heads[i].stays {
			free = append(free, i)
		}
	}
	if len(free) == 0 || t.evaluations <= 0 {
		return best
	}
	if m.sym == nil && t.scattered > 0 {
		m.scatter(b, &now, free, t.scattered)
	}
	even := b.s.costOfEvenness(&now.tried)
	for k := range t.evaluations {
		if k%64 == 0 && ctx.Err() != nil {
			break
		}
		m.late = float64(k) / float64(t.evaluations)
		degrees := t.hot * math.Pow(cold/t.hot, m.late)
		i := free[t.rnd.IntN(len(free))]
		if !m.try(b, now.heads, i) {
			continue
		}
		b.reads++
		// What it may cost at most: by Metropolis, drawn before it is read, so that
		// what no evenness can make up for is not read in full.
		most := now.cost - degrees*math.Log(1-t.rnd.Float64())
		hopeless := most - even + hope*math.Pow(lessHope, m.late)
		h2h := b.s.headToHead(now.heads)
		cost := b.s.costOfStands(now.heads, h2h)
		if cost > hopeless {
			m.back(now.heads)
			continue
		}
		m.offer(b, now.heads)
		sums := b.trial.Sums()
		if cost += b.s.costOfSums(&sums); cost > hopeless {
			b.trial.Drop()
			m.back(now.heads)
			continue
		}
		b.trial.Lay()
		tried := b.trial.Read()
		if cost += b.s.costOfEvenness(&tried); cost > now.cost && cost >= most {
			b.trial.Undo()
			m.back(now.heads)
			continue
		}
		m.keep(b, now.heads)
		now.tried, now.cost, now.h2h, even = tried, cost, h2h, b.s.costOfEvenness(&tried)
		if now.cost < best.cost-1e-9 {
			best.tried, best.cost, best.h2h = tried, cost, h2h
			copy(best.heads, now.heads)
		}
	}
	return best
}

// scatter sets some of the free heads elsewhere.
func (m *mover) scatter(b *bench, c *candidate, free []int, n int) {
	for range n {
		i := free[m.rnd.IntN(len(free))]
		h := c.heads[i]
		if m.relocate(&h, b) {
			c.heads[i] = h
		}
	}
	b.read(c)
}

// hope is how much evener one change may make the ground, in cost, for all that a
// run reckons with as it begins, and lessHope what is left of that as it ends.
// Measured on the four reference shapes: the most that any change did by then.
const (
	hope     = 0.15
	lessHope = 0.08
)

// try changes head i, and its mate.
func (m *mover) try(b *bench, heads []stand, i int) bool {
	m.one, m.was = i, heads[i]
	m.other = -1
	h := heads[i]
	switch {
	case m.sym == nil:
		if !m.move(&h, b) {
			return false
		}
	case m.mates[i] == i:
		if !m.moveOwn(&h, m.sym) {
			return false
		}
	default:
		if !m.move(&h, b) {
			return false
		}
		g, ok := m.s.mate(m.sym, &h)
		if !ok {
			return false
		}
		m.other = m.mates[i]
		m.wasOther = heads[m.other]
		heads[m.other] = g
	}
	heads[i] = h
	return true
}

// offer offers the heads last tried on the bench.
func (m *mover) offer(b *bench, heads []stand) {
	b.trial.Offer(m.one, heads[m.one].thrown())
	if m.other >= 0 {
		b.trial.Offer(m.other, heads[m.other].thrown())
	}
}

// keep remembers what lies on the bench now.
func (m *mover) keep(b *bench, heads []stand) {
	b.on[m.one] = heads[m.one].thrown()
	if m.other >= 0 {
		b.on[m.other] = heads[m.other].thrown()
	}
}

// back takes the last try back.
func (m *mover) back(heads []stand) {
	heads[m.one] = m.was
	if m.other >= 0 {
		heads[m.other] = m.wasOther
	}
}
