package design

import "evenfall/internal/plan"

// memo keeps the last value of one stage with the digest of what it was made
// from. One value is enough: a plan is edited from one state to the next.
type memo[V any] struct {
	key   string
	value V
	ok    bool
}

// get returns the kept value when the parts of p that the stage reads are the
// same as then, and otherwise makes it anew from exactly those parts. The key is
// a digest of their content, not a revision: previews have none, and an edit
// elsewhere must not cost anything.
func (m *memo[V]) get(p *plan.Plan, reads plan.Parts, make func(view *plan.Plan) (V, error)) (V, error) {
	view := p.View(reads)
	key := plan.Digest(view.Encode())
	if m.ok && m.key == key {
		return m.value, nil
	}
	m.ok = false
	value, err := make(view)
	if err != nil {
		var none V
		return none, err
	}
	m.key, m.value, m.ok = key, value, true
	return value, nil
}
