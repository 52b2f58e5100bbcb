package arrange

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
)

// made is what is offered for one area.
type made struct {
	picks   chosen
	answer  Answer
	changes []change // of each layout
}

// proposal is what would be offered of all found so far.
func (pr *proposer) proposal() (*Proposal, error) {
	out := &Proposal{}
	picks := make([]chosen, len(pr.jobs))
	changes := make([][]change, len(pr.jobs))
	for i, j := range pr.jobs {
		if !j.looked {
			out.Answers = append(out.Answers, Answer{Area: j.ground.id, Layouts: []Layout{}, Why: "It is laid out in a moment."})
			continue
		}
		m, err := j.make()
		if err != nil {
			return nil, err
		}
		picks[i], changes[i] = m.picks, m.changes
		out.Answers = append(out.Answers, m.answer)
		out.Evaluations += j.evaluations()
	}
	if err := pr.offers(out, picks, changes); err != nil {
		return nil, err
	}
	out.Notes = pr.notes(picks)
	if away := pr.offTheDrawing(out); away != "" {
		out.Notes = append(out.Notes, away)
	}
	return out, nil
}

// make puts what is offered for an area into layouts, once for each state of what
// was found: of many areas one changes at a time.
func (j *job) make() (*made, error) {
	if j.made != nil {
		return j.made, nil
	}
	m := &made{picks: j.choose()}
	m.answer = Answer{Area: j.ground.id, Layouts: []Layout{}, Why: j.reason(&m.picks)}
	for _, f := range m.picks.list {
		l, c, err := j.layout(f)
		if err != nil {
			return nil, err
		}
		m.answer.Layouts, m.changes = append(m.answer.Layouts, l), append(m.changes, c)
	}
	j.made = m
	return m, nil
}

// evaluations are those made so far.
func (j *job) evaluations() int {
	n := 0
	for _, s := range j.searches {
		if s != nil {
			n += s.evaluate
		}
	}
	return n
}

// layout is a finalist as it is offered.
func (j *job) layout(f finalist) (Layout, change, error) {
	l := Layout{Area: j.ground.id, Family: j.kits[f.kit].family, Tidy: f.c.tidy, Measures: f.m}
	for i := range f.c.heads {
		h := placed(&f.c.heads[i])
		if h.Stays {
			h.ID = j.staysAt(h.At)
		}
		l.Heads = append(l.Heads, h)
	}
	c := j.place(l.Heads)
	var err error
	if l.Patch, err = c.patch(); err != nil {
		return l, c, err
	}
	l.Says = j.says(&l)
	return l, c, nil
}

// staysAt is the head that stays nearest to a place: the one there.
func (j *job) staysAt(at orb.Point) plan.ID {
	return slices.MinFunc(j.ground.stays, func(a, b plan.ID) int {
		return cmp.Compare(distance(spotOf(j.p.Heads[a]), at), distance(spotOf(j.p.Heads[b]), at))
	})
}

// mostOffers is how many offers there are at the most.
const mostOffers = 5

// fewOffers is how many there are at the least where so many layouts are worth it.
const fewOffers = 3

// offers makes choices over all areas: for each role the layouts that have it,
// and the first one where an area has none.
func (pr *proposer) offers(out *Proposal, picks []chosen, changes [][]change) error {
	var all []offered
	for _, r := range []role{roleFirst, roleTidy, roleFewest, roleOther, roleInside, roleEven, roleKinds, roleSpare, roleLast} {
		if r >= roleSpare && len(all) >= fewOffers {
			break
		}
		o := offered{role: r}
		for i := range picks {
			if len(picks[i].list) == 0 {
				continue
			}
			at := picks[i].role[r]
			if at < 0 {
				at = picks[i].role[roleFirst]
			}
			o.picks = append(o.picks, Pick{Area: out.Answers[i].Area, Layout: at})
			o.layouts = append(o.layouts, &out.Answers[i].Layouts[at])
			o.changes = append(o.changes, &changes[i][at])
		}
		if len(o.picks) == 0 || slices.ContainsFunc(all, func(b offered) bool { return slices.Equal(b.picks, o.picks) }) {
			continue
		}
		o.total = total(o.layouts)
		all = append(all, o)
	}
	pr.call(all)
	all = pr.speakFor(all)
	for i := range all {
		offer, err := pr.offer(&all[i])
		if err != nil {
			return err
		}
		out.Offers = append(out.Offers, offer)
	}
	return nil
}

// offer puts a choice into an offer.
func (pr *proposer) offer(o *offered) (Offer, error) {
	c := newChange()
	for _, one := range o.changes {
		c.join(one)
	}
	patch, err := c.patch()
	return Offer{
		Name: o.name, Says: pr.offerSays(o), Picks: o.picks, Total: o.total, Patch: patch, Label: pr.offerLabel(o.layouts),
	}, err
}

// notes say why each area has the nozzles it has.
func (pr *proposer) notes(picks []chosen) []string {
	notes := []string{}
	for i, j := range pr.jobs {
		if len(picks[i].list) == 0 {
			continue
		}
		first, name := picks[i].list[0].kit, plan.Capital(j.ground.name)
		switch k := j.kits[first]; {
		case first == 0 && k.why != "":
			notes = append(notes, name+": "+lower(k.why))
		case k.family != j.kits[0].family:
			notes = append(notes, fmt.Sprintf("%s: %s, which its width asks for, come out less even in the field or wet more past its edge than %s.",
				name, familyWord(j.kits[0].family), familyWord(k.family)))
		}
	}
	return notes
}

// worthDrawing is the share of the flow past what is drawn from which the property
// line is asked for. Chosen: a half percent is the rim of the throws.
const worthDrawing = 0.005

// offTheDrawing says, where the property line is not drawn and some offer throws past
// what is, what would tell where that water falls; "" else.
func (pr *proposer) offTheDrawing(out *Proposal) string {
	away := func(s Past) bool { return s.Surface == coverage.Outside && s.Share >= worthDrawing }
	if len(pr.p.Site.Lot) > 2 || !slices.ContainsFunc(out.Offers, func(o Offer) bool { return slices.ContainsFunc(o.Total.Past, away) }) {
		return ""
	}
	return "Some water falls past what is drawn, where nobody knows what lies there. Draw the property line and what is beside the planting, and layouts are held to what may be wetted."
}
