package arrange

import (
	"context"
	"maps"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// teller makes mends of remedies, each on the plan with those before it, and reads
// every state at the plan's own cell. A remedy that does not hold there is left out.
type teller struct {
	m, fine *mender
	p       *plan.Plan // with the mends told
	doc     []byte
	before  trouble
	fields  fieldEstimates
	mends   []Mend
}

// newTeller reads the plan as it was. With estimates every state has its field
// estimate.
func (m *mender) newTeller(ctx context.Context, estimates bool) (*teller, error) {
	t := &teller{m: m, p: m.was, doc: m.was.Encode(), mends: []Mend{}}
	t.fine = &mender{was: m.was, p: m.was, o: m.o, field: coverage.NewUnseen(), asked: m.asked, flowed: m.flowed, given: m.given}
	t.fields = fieldEstimates{wanted: estimates, of: map[estimateKey]units.Ratio{}}
	var err error
	t.before, err = t.fine.read(ctx)
	return t, err
}

// add tells one more remedy. The error is the context's, and then it is not told.
func (t *teller) add(ctx context.Context, r *remedy) error {
	patch, err := plan.Diff(t.doc, with(t.p, r).Encode())
	if err != nil {
		return err
	}
	next, err := plan.Preview(t.doc, patch)
	if err != nil || string(patch) == "{}" {
		return nil // no plan comes of it, or no change, so nothing is offered
	}
	t.fine.p = next
	after, err := t.fine.read(ctx)
	if err != nil {
		return err
	}
	if after.sum > t.before.sum || after.worseThan(&t.before) {
		return nil // later ones may be left without their head by this
	}
	one := Mend{
		Kind: r.kind, Heads: r.heads(), Area: r.area, Patch: patch,
		Before: stateOf(t.p, &t.before, r.area), After: stateOf(next, &after, r.area),
		From: placedOf(t.p, &t.before, r), To: placedOf(next, &after, r),
	}
	if one.Before.FieldP10, err = t.fields.p10(ctx, len(t.mends), t.p, &t.before, r.area); err != nil {
		return err
	}
	if one.After.FieldP10, err = t.fields.p10(ctx, len(t.mends)+1, next, &after, r.area); err != nil {
		return err
	}
	one.At = middleOf(one.To, one.From)
	tell := telling{m: t.m, r: r, p: t.p, next: next, before: &t.before, after: &after, mend: &one}
	one.Says, one.Label, one.Why = tell.says(), tell.label(), tell.why()
	t.mends = append(t.mends, one)
	t.p, t.doc, t.before = next, next.Encode(), after
	return nil
}

// done is what was told, with what is left.
func (t *teller) done() *Improvement {
	fine := t.fine
	fine.p, fine.now, fine.cut = t.p, t.before, t.m.cut
	out := &Improvement{Mends: t.mends, Left: []string{}, Evaluations: t.m.evaluations + t.m.early.fine.evaluations}
	for _, f := range fine.left(&t.before) {
		out.Left = append(out.Left, fine.leftWords(f))
	}
	out.Says = fine.whole(len(out.Mends), len(out.Left), &t.before)
	return out
}

// tellAll tells the remedies kept, with estimates.
func (m *mender) tellAll(ctx context.Context) (*Improvement, error) {
	t, err := m.newTeller(ctx, true)
	if err != nil {
		return nil, err
	}
	for i := range m.mends {
		if err := t.add(ctx, &m.mends[i]); err != nil {
			return nil, err
		}
	}
	m.evaluations += t.fine.evaluations
	return t.done(), nil
}

// fieldEstimates are the field estimates of areas, each state's made once.
type fieldEstimates struct {
	wanted bool
	of     map[estimateKey]units.Ratio
}

type estimateKey struct {
	mends int // taken before
	area  plan.ID
}

// p10 is the tenth percentile of an area's field estimate, drawn with the heads
// whose water lands there; 0 when none is wanted.
func (e *fieldEstimates) p10(ctx context.Context, mends int, p *plan.Plan, t *trouble, area plan.ID) (units.Ratio, error) {
	key := estimateKey{mends, area}
	if v, made := e.of[key]; made || !e.wanted {
		return v, nil
	}
	own := *p
	own.Heads = map[plan.ID]plan.Head{}
	most := 0.0
	for _, h := range t.result.Heads {
		if slices.ContainsFunc(h.Landed, func(l coverage.Landing) bool { return l.Surface == area && l.GPM > 0 }) {
			own.Heads[h.ID] = p.Heads[h.ID]
			most = max(most, float64(h.Throw))
		}
	}
	own.Areas = areasIn(p, headsBound(&own).Union(p.Areas[area].Outline.Bound()).Pad(1.5*most+10))
	all, err := coverage.FieldEstimate(ctx, &own, coverage.UsualSeed, coverage.UsualDraws, nil)
	if err != nil {
		return 0, err
	}
	for _, one := range all {
		if one.ID == area {
			e.of[key] = one.P10
		}
	}
	return e.of[key], nil
}

// with is a plan with a remedy, its pipe joints gone along with their heads.
func with(p *plan.Plan, r *remedy) *plan.Plan {
	next := *p
	next.Heads, next.Nozzles, next.Bodies = orEmpty(maps.Clone(p.Heads)), orEmpty(maps.Clone(p.Nozzles)), orEmpty(maps.Clone(p.Bodies))
	next.Nodes, next.Pipes = maps.Clone(p.Nodes), maps.Clone(p.Pipes)
	r.apply(&next)
	for _, id := range plan.SortedIDs(p.Nodes) {
		n := p.Nodes[id]
		i := slices.IndexFunc(r.of, func(a adjust) bool { return a.id == n.Head })
		switch {
		case n.Head == "" || i < 0:
		case r.of[i].gone:
			letGo(&next, id)
		case r.of[i].to != nil && n.X == p.Heads[n.Head].X && n.Y == p.Heads[n.Head].Y:
			h := next.Heads[n.Head]
			n.X, n.Y = h.X, h.Y
			next.Nodes[id] = n
		}
	}
	return &next
}

// letGo takes the joint of a head that is gone off the pipes: with its pipe where
// nothing comes after it, else it stays as a plain joint.
func letGo(p *plan.Plan, node plan.ID) {
	var at []plan.ID
	for _, id := range plan.SortedIDs(p.Pipes) {
		if v := p.Pipes[id]; v.From == node || v.To == node {
			at = append(at, id)
		}
	}
	if len(at) > 1 {
		n := p.Nodes[node]
		n.Kind, n.Head = "joint", ""
		p.Nodes[node] = n
		return
	}
	for _, id := range at {
		delete(p.Pipes, id)
	}
	delete(p.Nodes, node)
}

// stateOf is what an area reads.
func stateOf(p *plan.Plan, t *trouble, area plan.ID) State {
	var s State
	if a := t.area(area); a != nil {
		s.DU = a.DU
	}
	for _, g := range t.result.Gaps {
		if g.Area == area {
			s.DrySqFt += g.AreaSqFt
		}
	}
	m := mender{p: p}
	rates := map[plan.ID]float64{}
	for _, z := range t.result.Zones {
		rates[z.ID] = float64(z.HeadToHead)
	}
	flow := 0.0
	for i := range t.result.Heads {
		h := &t.result.Heads[i]
		if h.Area != area {
			continue
		}
		flow += float64(h.FlowGPM)
		s.HardGPM += gpm(m.hardOf(h))
		if rate := rates[p.Heads[h.ID].Zone]; rate > 0 {
			s.RateOff = max(s.RateOff, shareOf(abs(float64(h.OwnRate)-rate), rate))
		}
	}
	s.HardPart = shareOf(float64(s.HardGPM), flow)
	return s
}

// placedOf are the heads that a remedy changes, as a plan has them.
func placedOf(p *plan.Plan, t *trouble, r *remedy) []Placed {
	out := []Placed{}
	for _, id := range r.heads() {
		h, ok := p.Heads[id]
		if !ok {
			continue
		}
		one := Placed{
			ID: id, At: spotOf(h), Start: h.StartDeg, Sweep: h.SweepDeg, Nozzle: h.Nozzle, Body: h.Body,
		}
		if is := t.head(id); is != nil {
			one.Throw, one.Flow = is.Throw, is.FlowGPM
			one.Turned = float64(is.Throw) < 0.995*float64(is.TableThrow)
		} else if h.ThrowFt != nil {
			one.Throw = *h.ThrowFt
		}
		out = append(out, one)
	}
	return out
}
