package arrange

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// spareTold is a sparer's layouts before and after, read at the plan's own cell.
type spareTold struct {
	*sparer
	next          *plan.Plan
	patch         plan.Patch
	before, after trouble
	heads         []plan.ID // that change, by id
}

// answer reads what was found at the plan's own cell, undoes what does not hold there,
// and judges it. What is not worth it is answered by what keeping all off would do.
func (s *sparer) answer(ctx context.Context) (*TurnOff, error) {
	t := &spareTold{sparer: s}
	if err := t.read(ctx); err != nil {
		return nil, err
	}
	for len(t.heads) > 0 && s.harms(&t.before, &t.after) {
		if err := s.undo(ctx, t.leastOff()); err != nil {
			return nil, err
		}
		if err := t.readAfter(ctx); err != nil {
			return nil, err
		}
	}
	part := 1 - t.share()
	if part < worthShare {
		if err := s.all(ctx); err != nil {
			return nil, err
		}
		if err := t.readAfter(ctx); err != nil {
			return nil, err
		}
		s.forced = t.share() > 1-worthShare || s.harms(&t.before, &t.after)
	}
	return t.tell(ctx, part)
}

// read reads the plan as it was and as it would be.
func (t *spareTold) read(ctx context.Context) error {
	var err error
	if t.before, err = t.fine(ctx, t.was); err != nil {
		return err
	}
	return t.readAfter(ctx)
}

func (t *spareTold) readAfter(ctx context.Context) error {
	t.heads = nil
	for _, id := range plan.SortedIDs(t.was.Heads) {
		if setCost(t.was.Heads[id], t.p.Heads[id]) > 0 {
			t.heads = append(t.heads, id)
		}
	}
	t.next, t.patch, t.after = t.was, nil, t.before
	if len(t.heads) == 0 {
		return nil
	}
	r := remedy{of: []adjust{}}
	for _, id := range t.heads {
		r.of = append(r.of, t.difference(id))
	}
	doc := t.was.Encode()
	patch, err := plan.Diff(doc, with(t.was, &r).Encode())
	if err != nil {
		return err
	}
	next, err := plan.Preview(doc, patch)
	if err != nil {
		t.heads = nil // no plan comes of it, so nothing is offered
		return nil
	}
	t.next, t.patch = next, patch
	t.after, err = t.fine(ctx, next)
	return err
}

// difference is what a head is changed by.
func (t *spareTold) difference(id plan.ID) adjust {
	was, is := t.was.Heads[id], t.p.Heads[id]
	a := asItWas(id, is)
	if was.StartDeg == is.StartDeg && was.SweepDeg == is.SweepDeg {
		a.arc = nil
	}
	if sameThrow(was, is) {
		a.throw = nil
	}
	if was.Nozzle == is.Nozzle {
		a.nozzle = ""
	}
	a.body = ""
	return a
}

// fine reads a plan at its own cell.
func (t *spareTold) fine(ctx context.Context, p *plan.Plan) (trouble, error) {
	m := mender{was: p, p: p, o: t.o, flowed: t.flowed}
	read, err := m.readOf(ctx, p, coverage.NewUnseen(), true)
	t.evaluations += m.evaluations
	return read, err
}

// share is the share of the water of others that is left, at the plan's own cell.
func (t *spareTold) share() float64 {
	had, _ := t.water(t.before.result)
	left, _ := t.water(t.after.result)
	return float64(shareOf(left, had))
}

// leastOff is the changed head whose change keeps least off the bed.
func (t *spareTold) leastOff() plan.ID {
	least, most := plan.ID(""), 0.0
	for _, id := range t.heads {
		was, is := t.before.head(id), t.after.head(id)
		if was == nil || is == nil {
			return id
		}
		if off := landedOn(was, t.bed) - landedOn(is, t.bed); least == "" || off < most {
			least, most = id, off
		}
	}
	return least
}

// undo sets a head as it was.
func (s *sparer) undo(ctx context.Context, id plan.ID) error {
	r := s.one(MendArc, 0, asItWas(id, s.was.Heads[id]))
	return s.take(ctx, &r)
}

// tell makes the answer; part is the share of the water that can be kept off unharmed.
func (t *spareTold) tell(ctx context.Context, part float64) (*TurnOff, error) {
	out := &TurnOff{
		Area: t.bed, Offered: !t.forced && len(t.heads) > 0, Changes: []Turned{}, Grounds: []TurnedGround{}, Notes: []string{},
		Before: t.bedWater(t.was, &t.before), After: t.bedWater(t.next, &t.after), Evaluations: t.evaluations,
	}
	fields := fieldEstimates{wanted: true, of: map[estimateKey]units.Ratio{}}
	both := func(area plan.ID, before, after *State) (err error) {
		if before.FieldP10, err = fields.p10(ctx, 0, t.was, &t.before, area); err == nil {
			after.FieldP10, err = fields.p10(ctx, 1, t.next, &t.after, area)
		}
		return err
	}
	if len(t.heads) > 0 {
		if err := both(t.bed, &out.Before.State, &out.After.State); err != nil {
			return nil, err
		}
	}
	for _, id := range t.grounds() {
		g := TurnedGround{Area: id, Before: stateOf(t.was, &t.before, id), After: stateOf(t.next, &t.after, id)}
		if err := both(id, &g.Before, &g.After); err != nil {
			return nil, err
		}
		out.Grounds = append(out.Grounds, g)
	}
	for _, id := range t.heads {
		out.Changes = append(out.Changes, t.change(id))
	}
	if out.Offered {
		out.Patch = t.patch
		out.Label = fmt.Sprintf("Keep %s off %s", t.was.HeadNames(t.heads), t.was.AreaName(t.bed))
		out.Says = t.worthWords(out)
	} else {
		out.Says = t.notWorthWords(out, part)
	}
	out.Notes = append(out.Notes, t.notes(out)...)
	return out, nil
}

// grounds are the areas watered overhead that the changed heads stood for, by id.
func (t *spareTold) grounds() []plan.ID {
	var out []plan.ID
	for _, id := range t.heads {
		if h := t.before.head(id); h != nil && h.Area != "" && h.Area != t.bed && !slices.Contains(out, h.Area) {
			out = append(out, h.Area)
		}
	}
	slices.Sort(out)
	return out
}

// bedWater is what comes to the bed.
func (s *sparer) bedWater(p *plan.Plan, of *trouble) BedWater {
	w := s.rate(of.result)
	w.State = stateOf(p, of, s.bed)
	return w
}

// rate is the water that comes to the bed as means over it.
func (s *sparer) rate(r *coverage.Result) (w BedWater) {
	others, own := s.water(r)
	if size := s.size(); size > 0 {
		w.Others, w.Own = units.PrecipitationRate(gpm(others), size), units.PrecipitationRate(gpm(own), size)
	}
	return w
}

// change tells what is changed of a head, in a sentence or two.
func (t *spareTold) change(id plan.ID) Turned {
	a := t.difference(id)
	r := &remedy{area: t.bed, of: []adjust{a}}
	from, to := placedOf(t.was, &t.before, r), placedOf(t.next, &t.after, r)
	words := telling{m: t.mender, r: r, p: t.was, next: t.next, before: &t.before, after: &t.after, mend: &Mend{From: from, To: to}}
	var says []string
	switch {
	case a.arc != nil:
		says = append(says, words.arcWords())
	case a.nozzle != "":
		says = append(says, words.nozzleWords())
	}
	if a.throw != nil && a.nozzle == "" {
		says = append(says, words.throwWords())
	}
	return Turned{Says: strings.Join(says, " "), From: from[0], To: to[0]}
}
