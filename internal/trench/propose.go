package trench

import (
	"context"
	"fmt"

	"evenfall/internal/plan"
)

// Propose seeks routes for p from the point of connection through the valves to the
// heads, with sleeves and, if asked, wire. Locked things stay, and so does what
// is there already. It answers a *Refusal when nothing can be routed.
func Propose(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int)) (*Proposal, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	f := newField(p)
	j, err := newJob(p, o, f, nil)
	if err != nil {
		return nil, err
	}
	j.share(ctx, tell)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	found := &Proposal{Blocked: j.blockedEnds(), Notes: j.notes, Evaluations: j.seek.looked, Offers: []Offer{}}
	if found.Blocked == nil {
		found.Blocked = []Blocked{}
	}
	if found.Notes == nil {
		found.Notes = []string{}
	}
	offer, err := j.offer("As placed")
	if err != nil {
		return nil, err
	}
	found.Offers = append(found.Offers, *offer)
	return found, nil
}

// offer puts the routes of a job into an offer.
func (j *job) offer(name string) (*Offer, error) {
	next := j.drawn()
	patch, err := plan.Diff(j.p.Encode(), next.Encode())
	if err != nil {
		return nil, err
	}
	o := &Offer{Name: name, Patch: patch, Measures: j.measures(j.lanes()), Notes: []string{}}
	if string(patch) == "{}" {
		o.Patch = nil
	}
	m, show := o.Measures, j.p.Show
	o.Says = fmt.Sprintf("%s of trench, %s.", show.Length(m.Trench), plan.Plural(m.Crossings, "crossing", "crossings"))
	o.Label = "Route trenches"
	return o, nil
}
