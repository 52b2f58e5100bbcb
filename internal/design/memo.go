package design

import (
	"strings"

	"evenfall/internal/plan"
)

// memo keeps the last value of one stage with the digest of what it was made
// from. One value is enough: a plan is edited from one state to the next.
type memo[V any] struct {
	key   string
	value V
	ok    bool
}

// state is a plan with the digests of what stages read of it. They are of its
// content, not a revision: previews have none, and an edit elsewhere must not cost
// anything. Each part is digested once, however many stages read it.
type state struct {
	p   *plan.Plan
	sum []string // by the bit of the part
}

func stateOf(p *plan.Plan) state { return state{p, p.Digests(anyReads)} }

// key is of the parts of a plan that a stage reads.
func (s state) key(reads plan.Parts) string {
	var b strings.Builder
	for i, sum := range s.sum {
		if reads.Has(1 << i) {
			b.WriteString(sum)
		}
	}
	return b.String()
}

// get returns the kept value when the parts of the plan that the stage reads are
// the same as then, and otherwise makes it anew from exactly those parts.
func (m *memo[V]) get(s state, reads plan.Parts, make func(view *plan.Plan) (V, error)) (V, error) {
	key := s.key(reads)
	if m.ok && m.key == key {
		return m.value, nil
	}
	m.ok = false
	value, err := make(s.p.View(reads))
	if err != nil {
		var none V
		return none, err
	}
	m.key, m.value, m.ok = key, value, true
	return value, nil
}
