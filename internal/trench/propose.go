package trench

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/plan"
)

// mostOffers is how many really different ways are offered. Chosen.
const mostOffers = 4

// routed is a job that is done, with where its valves stand.
type routed struct {
	place placement
	job   *job
	cost  float64
	moved int // valves
}

// Propose seeks routes for p from the point of connection through the valves to the
// heads, with sleeves and, if asked, wire. Locked things stay, and so does what
// is there already. The same question has the same answer. It answers a *Refusal when
// nothing can be routed. tell may be nil.
func Propose(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int)) (*Proposal, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	f := newField(p)
	first := &job{p: p, o: o, f: f, nodeIDs: plan.SortedIDs(p.Nodes)}
	if err := first.gather(); err != nil {
		return nil, err
	}
	found := &Proposal{Blocked: []Blocked{}, Notes: first.notes, Offers: []Offer{}}
	places, err := first.ways(ctx, found)
	if err != nil {
		return nil, err
	}
	var done []routed
	for i, place := range places {
		part := func(d, total int) { tell(1000*i/len(places)+1000*d/max(total, 1)/len(places), 1000) }
		j, err := newJob(p, o, f, place.at)
		if err != nil {
			return nil, err
		}
		j.share(ctx, part)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		found.Evaluations += j.seek.looked / anEvaluation
		r := routed{place: place, job: j, cost: j.cost() + j.boxCost()}
		for _, id := range j.zones {
			if z := p.Zones[id]; z.ValveAt == nil || pointOf(*z.ValveAt) != j.valves[id] {
				r.moved++
			}
		}
		done = append(done, r)
	}
	// What reaches more ends comes before what costs less.
	slices.SortStableFunc(done, func(a, b routed) int {
		return cmp.Or(cmp.Compare(len(a.job.blockedEnds()), len(b.job.blockedEnds())), cmp.Compare(a.cost, b.cost), cmp.Compare(a.moved, b.moved))
	})
	found.Blocked = append(found.Blocked, done[0].job.blockedEnds()...)
	for _, r := range done[:min(mostOffers, len(done))] {
		offer, err := r.offer(ctx)
		if err != nil {
			return nil, err
		}
		found.Offers = append(found.Offers, *offer)
	}
	if found.Notes == nil {
		found.Notes = []string{}
	}
	tell(1000, 1000)
	return found, nil
}

// ways are the placements of the valves that are to be routed.
func (j *job) ways(ctx context.Context, found *Proposal) ([]placement, error) {
	zones, taken := j.movable()
	var bare []plan.ID
	for _, id := range j.zones {
		if _, ok := j.valves[id]; !ok {
			bare = append(bare, id)
		}
	}
	as := placement{"as placed", map[plan.ID]orb.Point{}}
	if len(bare) > 0 {
		for _, id := range j.zones {
			if at, ok := j.valves[id]; ok && slices.Contains(zones, id) {
				taken = append(taken, at)
			}
		}
		set := newSurvey(ctx, j, bare).placements(taken)
		if len(set) == 0 {
			return nil, &Refusal{plan.RefTo("zones", bare[0]), j.unplaced(bare[:1])[0].Why}
		}
		as.at = set[1].at
		found.Notes = append(found.Notes, fmt.Sprintf("%s had no place for %s; %s found.", plan.Capital(plan.Plural(len(bare), "zone", "zones")),
			plan.Choose(len(bare), "its valve", "their valves"), plan.Choose(len(bare), "one was", "places were")))
	}
	out := []placement{as}
	if j.o.Valves != Weighed || len(zones) == 0 {
		return out, nil
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	_, fixed := j.movable()
	now := map[plan.ID]orb.Point{}
	for _, id := range zones {
		if at, ok := as.at[id]; ok {
			now[id] = at
		} else {
			now[id] = j.valves[id]
		}
	}
	seen := []map[plan.ID]orb.Point{now}
	for _, place := range newSurvey(ctx, j, zones).placements(fixed) {
		if !slices.ContainsFunc(seen, func(s map[plan.ID]orb.Point) bool { return samePlaces(s, place.at) }) {
			seen = append(seen, place.at)
			out = append(out, place)
		}
	}
	return out, nil
}

// offer puts what was routed into an offer.
func (r *routed) offer(ctx context.Context) (*Offer, error) {
	j := r.job
	patch, err := plan.Diff(j.p.Encode(), j.drawn().Encode())
	if err != nil {
		return nil, err
	}
	o := &Offer{Patch: patch, Measures: j.measures(j.lanes()), Notes: []string{}}
	if string(patch) == "{}" {
		o.Patch = nil
	}
	o.Measures.Bound = j.bound(ctx)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	r.say(o)
	return o, nil
}
