package zones

import (
	"cmp"
	"context"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// draws is how many installations the field estimate of the minutes is made of: its
// mean is steady to about 0.01 from here on, and minutes are told no closer. Chosen.
const draws = 10

// Propose seeks a grouping. The same question has the same answer. It answers a
// *Refusal when there is none, such as one head that takes more than a zone may.
// tell may be nil.
func Propose(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int)) (*Offer, error) {
	return propose(ctx, p, o, tell, func(tell coverage.Progress) ([]coverage.Estimate, error) {
		return coverage.FieldEstimate(ctx, p, coverage.UsualSeed, draws, tell)
	})
}

// propose is Propose with the field estimate made by the caller, which takes longest.
func propose(ctx context.Context, p *plan.Plan, o Options, tell func(done, total int), estimate func(coverage.Progress) ([]coverage.Estimate, error)) (*Offer, error) {
	if tell == nil {
		tell = func(int, int) {}
	}
	part := func(from, to int) func(done, total int) {
		return func(done, total int) { tell(from+(to-from)*done/max(total, 1), 1000) }
	}
	o.Window = o.Window.or(p)
	j, err := newJob(ctx, p, o)
	if err != nil {
		return nil, err
	}
	found, err := j.group(ctx, part(50, 700))
	if err != nil {
		return nil, err
	}
	estimates, err := estimate(part(700, 950))
	if err != nil {
		return nil, err
	}
	offer, err := j.offer(ctx, found, estimates)
	if err == nil {
		tell(1000, 1000)
	}
	return offer, err
}

// offer puts a grouping into an offer.
func (j *job) offer(ctx context.Context, found *grouped, estimates []coverage.Estimate) (*Offer, error) {
	groups := found.groups
	j.identify(groups)
	slices.SortFunc(groups, func(a, b *group) int { return cmp.Compare(a.zone, b.zone) })
	places := j.manifolds(groups)
	inOrder(groups, places)
	stations := j.stations(groups, places)
	names := j.names(groups)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	next := j.changed(groups, names, places, stations)
	patch, err := plan.Diff(j.p.Encode(), next.Encode())
	if err != nil {
		return nil, err
	}
	out := &Offer{Patch: patch, Limit: j.limit, Evaluations: found.looked, Bound: j.bound(found), Notes: []string{}}
	weeks := coverage.Weeks(j.p, j.read, estimates, j.o.Window.Need)
	ground := newGrounds(j)
	for n, g := range groups {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		zone := Group{
			Zone: g.zone, Name: next.Zones[g.zone].Name, Station: stations[n], Areas: areasOf(g.heads), Kind: j.kindWords(g),
			Flow: g.flow(), Locked: g.fixed || j.p.Zones[g.zone].Locked, Manifold: places[n].shared, Valve: places[n].at,
		}
		if g.fixed {
			zone.Station = j.p.Zones[g.zone].Station
		}
		zone.Areas = slices.DeleteFunc(zone.Areas, func(id plan.ID) bool { return id == "" })
		var rate float64
		for _, h := range g.heads {
			zone.Heads = append(zone.Heads, h.id)
			rate += float64(weeks[h.area].Rate) * float64(h.flow) / float64(zone.Flow)
			zone.Minutes = max(zone.Minutes, weeks[h.area].Minutes)
		}
		zone.Rate = units.InchesPerHour(rate)
		zone.Where = j.where(ground, groups, places, n, func(m int) string { return next.ZoneName(groups[m].zone) })
		out.Minutes += zone.Minutes
		out.Groups = append(out.Groups, zone)
	}
	slices.SortStableFunc(out.Groups, func(a, b Group) int { return cmp.Compare(stationOrLast(a), stationOrLast(b)) })
	out.Fits, out.Window = j.o.Window.fits(j.p.Show, out.Minutes)
	j.say(out, found, next)
	return out, nil
}

// stationOrLast puts zones without a station after the others.
func stationOrLast(g Group) int {
	if g.Station == 0 {
		return 1 << 30
	}
	return g.Station
}
