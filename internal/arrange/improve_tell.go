package arrange

import (
	"context"
	"maps"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// tellAll makes mends of the remedies kept, each on the plan with those before it,
// and reads every state at the plan's own cell. A remedy that does not hold there
// is left out. With estimates every state has its field estimate.
func (m *mender) tellAll(ctx context.Context, estimates bool) (*Improvement, error) {
	out := &Improvement{Mends: []Mend{}, Left: []string{}}
	fine := &mender{was: m.was, p: m.was, o: m.o, field: coverage.NewUnseen(), asked: m.asked, flowed: m.flowed, given: m.given, cut: m.cut}
	before, err := fine.read(ctx)
	if err != nil {
		return nil, err
	}
	fine.now = before
	p, doc := m.was, m.was.Encode()
	// A mend that is left out may leave later ones without their head.
	fields := fieldEstimates{wanted: estimates, of: map[estimateKey]units.Ratio{}}
	for i := range m.mends {
		r := &m.mends[i]
		changed := with(p, r)
		patch, err := plan.Diff(doc, changed.Encode())
		if err != nil {
			return nil, err
		}
		next, err := plan.Preview(doc, patch)
		if err != nil || string(patch) == "{}" {
			continue // no plan comes of it, or no change, so nothing is offered
		}
		fine.p = next
		after, err := fine.read(ctx)
		if err != nil {
			return nil, err
		}
		if after.sum > before.sum || after.worseThan(&before) {
			continue
		}
		one := Mend{
			Kind: r.kind, Heads: r.heads(), Area: r.area, Patch: patch,
			Before: stateOf(p, &before, r.area), After: stateOf(next, &after, r.area),
			From: placedOf(p, &before, r), To: placedOf(next, &after, r),
		}
		if one.Before.FieldP10, err = fields.p10(ctx, len(out.Mends), p, &before, r.area); err != nil {
			return nil, err
		}
		if one.After.FieldP10, err = fields.p10(ctx, len(out.Mends)+1, next, &after, r.area); err != nil {
			return nil, err
		}
		one.At = middleOf(one.To, one.From)
		tell := telling{m: m, r: r, p: p, next: next, before: &before, after: &after, mend: &one}
		one.Says, one.Label, one.Why = tell.says(), tell.label(), tell.why()
		out.Mends = append(out.Mends, one)
		p, doc, before = next, next.Encode(), after
	}
	fine.p, fine.now = p, before
	m.evaluations += fine.evaluations
	out.Evaluations = m.evaluations
	for _, f := range fine.left(&before) {
		out.Left = append(out.Left, fine.leftWords(f))
	}
	out.Says = fine.whole(len(out.Mends), len(out.Left), &before)
	return out, nil
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
