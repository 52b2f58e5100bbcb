package pipesize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"evenfall/internal/catalog"
	"evenfall/internal/hydraulics"
	"evenfall/internal/pipework"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// mostRounds is how often sizes are sought again after a check found that heads
// take more, or get less, than was reckoned with. Chosen.
const mostRounds = 4

// Propose seeks the sizes of least cost for every pipe that is neither locked nor
// there already: the main for the zone that takes most through each of its
// pipes, laterals for their heads, all at planned flows. One pressure-true
// solution then checks them; where heads really take more than planned, sizes are
// sought again for that. It answers a *Refusal when no sizes can be offered.
func Propose(ctx context.Context, p *plan.Plan, tell func(done, total int)) (*Offer, error) {
	net := pipework.Of(p)
	ask := newAsked()
	var best *Offer
	for round := range mostRounds {
		// Another round is seldom needed: each is shown as half of what is left.
		ask.tell = progress(func(share float64) { tell(int(1000*share), 1000) }).part(1-math.Pow(0.5, float64(round)), 1-math.Pow(0.5, float64(round+1)))
		j, offer, err := ask.round(ctx, p, net, round == 0)
		if err != nil {
			return bestOr(best, err)
		}
		next, err := j.check(offer)
		if err != nil {
			return nil, err
		}
		if best == nil || offer.Holds || !best.Holds {
			best = offer
		}
		if offer.Holds || !j.learn(next, ask) {
			break
		}
	}
	tell(1000, 1000)
	return best, nil
}

// asked is what the rounds of one search ask for, as each has learnt it.
type asked struct {
	aims    map[plan.ID]aim       // of zones; not of those that are to work as planned
	flows   map[plan.ID]units.GPM // of heads, where a solution showed another than their zone's aim
	more    map[plan.ID]units.PSI // asked for beyond the aim of a zone
	tighter map[plan.ID]units.PSI // taken off the spread of a zone
	tell    progress
}

func newAsked() *asked {
	return &asked{map[plan.ID]aim{}, map[plan.ID]units.GPM{}, map[plan.ID]units.PSI{}, map[plan.ID]units.PSI{}, func(float64) {}}
}

// round seeks sizes once. Where give allows it, zones that no sizes let work as
// planned are sought sizes at which their heads stay within their tables.
func (a *asked) round(ctx context.Context, p *plan.Plan, net *pipework.Network, give bool) (*job, *Offer, error) {
	j, err := newJob(p, net, a)
	if err != nil {
		return nil, nil, err
	}
	c, ok, err := j.seek(ctx, -1, loosened{})
	if err == nil && !ok && give {
		if j, err = a.giveWay(ctx, j); err == nil {
			c, ok, err = j.seek(ctx, -1, loosened{})
		}
	}
	if err == nil && !ok {
		err = j.binding(ctx)
	}
	if err != nil {
		return nil, nil, err
	}
	o, err := j.toOffer(c)
	return j, o, err
}

// giveWay is the job with less asked of the zones that cannot work as planned.
func (a *asked) giveWay(ctx context.Context, j *job) (*job, error) {
	for i, z := range j.zones {
		_, alone, err := j.seek(ctx, i, loosened{})
		if err != nil {
			return nil, err
		}
		if alone {
			continue
		}
		_, unpressed, err := j.seek(ctx, i, loosened{least: true})
		if err != nil {
			return nil, err
		}
		if unpressed { // pressure is what it lacks
			a.aims[z.id] = withinTable
		}
	}
	return newJob(j.p, j.net, a)
}

// bestOr keeps an earlier offer when the next search found none.
func bestOr(best *Offer, err error) (*Offer, error) {
	var no *Refusal
	if best != nil && (errors.As(err, &no) || errors.Is(err, ErrLarge)) {
		return best, nil
	}
	return nil, err
}

// choice is what was found: a row for every pipe.
type choice struct {
	rows []catalog.PipeSize
	Answer
}

// seek finds the cheapest sizes; ok is false when none satisfies. Heads that get
// more than their tables hold cannot always be helped by pipe: that limit goes
// first, and the check tells of it.
func (j *job) seek(ctx context.Context, only int, l loosened) (c choice, ok bool, err error) {
	for try, most := range []bool{l.most, true} {
		l.most = most
		t := j.plot(only, l)
		a, ok, err := cheapest(ctx, t.Tree, mostLooks, j.tell.part(float64(try)/2, float64(try+1)/2))
		if err != nil {
			return choice{}, false, err
		}
		if ok {
			c.Answer = a
			for _, branch := range t.at {
				c.rows = append(c.rows, t.rows[branch][a.Sizes[branch]])
			}
			return c, true, nil
		}
	}
	return choice{}, false, nil
}

// toOffer puts a choice into an offer.
func (j *job) toOffer(c choice) (*Offer, error) {
	o := &Offer{Notes: slices.Clone(j.notes), Above: c.Above,
		Before: Cost{Known: true, Money: j.money}, After: Cost{Known: true, Money: j.money}}
	sys := j.p.Show
	for i, v := range j.pipes {
		if v.kept {
			o.Kept++
			continue
		}
		o.Sized++
		s := c.rows[i]
		o.After.Sum += j.cost(v, s)
		drawn := j.p.Pipes[v.ID]
		if v.Size.Inside <= 0 {
			o.Before.Known = false
		} else {
			o.Before.Sum += j.cost(v, v.Size)
		}
		if s.Nominal == drawn.NominalIn && v.class == drawn.Class {
			continue
		}
		change := Change{
			Pipe: v.ID, Name: j.pipeName(v.ID), Length: v.Length, To: sizeName(sys, s.Nominal, v.row), Larger: s.Nominal > drawn.NominalIn,
			Flow: v.flow, Velocity: hydraulics.Velocity(v.flow, s.Inside), class: v.class, fromClass: drawn.Class, nominal: s.Nominal,
		}
		if v.zone >= 0 {
			change.Zone = j.zones[v.zone].id
		}
		if drawn.NominalIn > 0 {
			row, _ := j.p.PipeClass(drawn.Class)
			change.From = sizeName(sys, drawn.NominalIn, row)
		}
		o.Changes = append(o.Changes, change)
	}
	if !o.Before.Known {
		o.Before.Sum = 0
	}
	station := func(id plan.ID) int { return j.p.Zones[id].Station }
	for _, z := range j.zones {
		o.Zones = append(o.Zones, Aim{z.id, z.flow, z.aim == asPlanned})
	}
	slices.SortStableFunc(o.Zones, func(a, b Aim) int { return cmp.Compare(station(a.Zone), station(b.Zone)) })
	slices.SortStableFunc(o.Changes, func(a, b Change) int {
		return cmp.Or(cmp.Compare(boolOf(a.Zone != ""), boolOf(b.Zone != "")), cmp.Compare(station(a.Zone), station(b.Zone)), cmp.Compare(a.Zone, b.Zone))
	})
	var err error
	if o.Patch, err = j.patch(o.Changes); err != nil {
		return nil, err
	}
	if !j.money {
		o.Notes = append(o.Notes, "Sizes are compared by the material in them, since not every class in use has prices for all its sizes.")
	}
	for _, z := range j.zones {
		if z.aim == withinTable {
			o.Notes = append(o.Notes, fmt.Sprintf("No sizes give %s the pressure it is planned at; these keep its heads within their nozzles' tables. Its water falls shorter than drawn.", j.p.ZoneName(z.id)))
		}
	}
	return o, nil
}

func boolOf(b bool) int {
	if b {
		return 1
	}
	return 0
}
