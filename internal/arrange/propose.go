package arrange

import (
	"context"
	"fmt"
	"slices"

	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// Propose searches layouts for the areas asked for. tell is called from one
// goroutine at a time as the search comes along, and should return at once. A
// search called off answers what it has, with the context's error; without
// anything yet the proposal is nil. A *Refusal says why nothing can be arranged.
//
// The proposal of a whole search depends on the plan and the options alone, on
// one core as on many.
func Propose(ctx context.Context, p *plan.Plan, o Options, tell func(Stage)) (*Proposal, error) {
	if err := o.check(p); err != nil {
		return nil, err
	}
	pr, err := newProposer(ctx, p, o, tell)
	if err != nil {
		return nil, err
	}
	pr.look(ctx)
	if ctx.Err() != nil && !pr.any() {
		return nil, ctx.Err()
	}
	if ctx.Err() == nil {
		pr.tellBest("First layouts, from equal intervals")
	}
	for _, j := range pr.jobs {
		pr.work(ctx, j)
	}
	best, err := pr.proposal()
	if err != nil {
		return nil, err
	}
	if ctx.Err() == nil {
		if few := pr.onlyFew(best); few != "" {
			best.Notes = append(best.Notes, few)
		}
		pr.done = pr.total
		pr.say("Done", best)
	} else {
		if !pr.any() {
			return nil, ctx.Err()
		}
		best.Notes = append(best.Notes, "The search was called off: these are the best layouts so far.")
		return best, ctx.Err()
	}
	return best, nil
}

// check refuses what cannot be searched by.
func (o *Options) check(p *plan.Plan) error {
	switch {
	case !(o.AngleStep > 0 && o.AngleStep <= 90):
		return &Refusal{Sentence: "Arcs are set in steps of 1° to 90°: give a step."}
	case !(o.ThrowStep > 0):
		return &Refusal{Sentence: "Throws are turned down in steps of more than nothing: give a step."}
	case o.Effort <= 0:
		return &Refusal{Sentence: "A search needs a budget: give it evaluations."}
	case !(o.Hard >= 0 && o.Bare >= 0 && o.Other >= 0):
		return &Refusal{Sentence: "What may be wetted past the edge is a share of 0 or more."}
	}
	for _, id := range o.Areas {
		if _, ok := p.Areas[id]; !ok {
			return &Refusal{At: plan.RefTo("areas", id), Sentence: fmt.Sprintf("There is no area %s in the plan.", id)}
		}
	}
	return nil
}

// proposer is one search over some areas.
type proposer struct {
	p     *plan.Plan
	o     Options
	jobs  []*job // by area
	names *namer
	tell  func(Stage)
	total int // evaluations, as planned
	done  int
}

// job is the search of one area.
type job struct {
	p        *plan.Plan
	o        Options
	ground   *ground
	names    *namer
	stays    []stand
	kits     []*kit
	more     *kit      // to be tried where these offer few; nil for none
	searches []*search // by kit; nil until it is looked at
	nodesOf  map[plan.ID][]plan.ID
	pipesOf  map[plan.ID][]plan.ID
	seeds    [][]candidate // by kit
	pool     []finalist    // all found so far, every one measured
	gauge    *gauge        // nil until something is measured
	why      string        // why nothing can be arranged
	made     *made         // what is offered of pool; nil when that has changed
	looked   bool          // it has its first layouts, or never will; until then nobody else may look
	share    int           // of the proposer's total
}

func newProposer(ctx context.Context, p *plan.Plan, o Options, tell func(Stage)) (*proposer, error) {
	pr := &proposer{p: p, o: o, tell: tell, names: newNamer(p)}
	s, err := newSite(p)
	if err != nil {
		return nil, &Refusal{Sentence: err.Error()}
	}
	areas := slices.Clone(o.Areas)
	if len(areas) == 0 {
		for _, id := range plan.SortedIDs(p.Areas) {
			if a := p.Areas[id]; a.Kind == plan.Planting && a.WateredBy() == plan.Overhead && a.Status.Stands() {
				areas = append(areas, id)
			}
		}
	}
	if len(areas) == 0 {
		return nil, &Refusal{Sentence: "The plan has no planting area watered from above: draw one, or say that one is."}
	}
	slices.Sort(areas)
	nodesOf, pipesOf := pipework(p)
	each := shared(o.Effort, len(slices.Compact(areas)))
	for _, id := range slices.Compact(areas) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		g, err := s.ground(id)
		if err != nil {
			return nil, err
		}
		j := &job{p: p, o: o, ground: g, names: pr.names, nodesOf: nodesOf, pipesOf: pipesOf}
		j.o.Effort = each
		if j.stays, j.why = standing(p, g.stays); j.why == "" {
			j.why = j.settled()
		}
		if g.refuses != "" {
			j.why = g.refuses
		}
		if j.why == "" {
			j.kits, j.why = fitting(p, g, o)
		}
		j.kits, j.more = tried(j.kits)
		if j.why == "" {
			j.searches, j.seeds = make([]*search, len(j.kits)), make([][]candidate, len(j.kits))
			j.share = j.budget()
			pr.total += j.share
		}
		pr.jobs = append(pr.jobs, j)
	}
	return pr, nil
}

// fitting are the kits that may be tried on an area, or why none may: what Places
// and Improve say of an area before anything is searched.
func fitting(p *plan.Plan, g *ground, o Options) ([]*kit, string) {
	switch {
	case g.refuses != "":
		return nil, g.refuses
	case len(g.stand) == 0:
		return nil, fmt.Sprintf("Nowhere on %s may a head stand: set-backs from its edges, trunks and ground not to be dug leave nothing.", g.name)
	}
	return kitsFor(p, g, o)
}

// dryShare is the share of the mean under which ground is dry, as the finding of dry
// patches has it.
const dryShare = 0.5

// settled says that an area whose heads all stay needs no more of them: what they
// wet is even enough, none of it dry, and past the edge falls no more than may. ""
// when that is not so.
func (j *job) settled() string {
	g := j.ground
	if len(j.stays) == 0 || len(g.goes) > 0 || len(g.shape) == 0 {
		return ""
	}
	if _, why := rateOfStays(j.p, g); why != "" {
		return ""
	}
	one, err := j.newGauge()
	if err != nil {
		return ""
	}
	lay(one.fine, j.stays)
	if t := one.fine.Read(); t.DU < evenEnough || t.Driest2 < dryShare {
		return ""
	}
	f := one.measure(0, candidate{heads: j.stays})
	if !j.holds(&f) || f.m.Blamed > 0 {
		return ""
	}
	return fmt.Sprintf("There is nothing to arrange on %s: %s it already, %s even as drawn, %s.",
		g.name, plan.Plural(len(j.stays), "head that stays waters", "heads that stay water"), j.p.Show.Percent(f.m.DU), pastWords(j.p, &f.m))
}

// pipework lists the nodes of each head and the pipes of each node, by id.
func pipework(p *plan.Plan) (nodesOf, pipesOf map[plan.ID][]plan.ID) {
	nodesOf, pipesOf = map[plan.ID][]plan.ID{}, map[plan.ID][]plan.ID{}
	for _, id := range plan.SortedIDs(p.Nodes) {
		if h := p.Nodes[id].Head; h != "" {
			nodesOf[h] = append(nodesOf[h], id)
		}
	}
	for _, id := range plan.SortedIDs(p.Pipes) {
		v := p.Pipes[id]
		pipesOf[v.From] = append(pipesOf[v.From], id)
		if v.To != v.From {
			pipesOf[v.To] = append(pipesOf[v.To], id)
		}
	}
	return nodesOf, pipesOf
}

// standing are the heads of a plan that stay, as a search takes them.
func standing(p *plan.Plan, ids []plan.ID) ([]stand, string) {
	var out []stand
	for _, id := range ids {
		h := p.Heads[id]
		run, err := coverage.Running(p, id)
		if err != nil {
			return nil, err.Error()
		}
		n, _ := nozzleRow(p, h.Nozzle)
		b, _ := bodyRow(p, h.Body)
		set := &setting{
			nozzle: h.Nozzle, body: h.Body, sweep: min(h.SweepDeg, 360), throw: run.Throw, turned: run.Throw < run.TableThrow,
			fixed: n.Fixed(), flow: run.Flow, rate: run.Rate, strip: n.Strip, fall: coverage.FallOf(n, b),
		}
		if n.Family == "strip" {
			set.sweep = 0
		}
		out = append(out, stand{at: spotOf(h), start: h.StartDeg, set: set, stays: true})
	}
	return out, ""
}

// good reports whether the area has a layout that needs no excuse.
func (j *job) good() bool {
	return slices.ContainsFunc(j.pool, func(f finalist) bool { return j.holds(&f) && f.m.DU >= evenEnough })
}

// any reports whether some area has a layout.
func (pr *proposer) any() bool {
	return slices.ContainsFunc(pr.jobs, func(j *job) bool { return len(j.pool) > 0 })
}

func (pr *proposer) tellBest(words string) {
	if pr.tell == nil {
		return
	}
	if best, err := pr.proposal(); err == nil {
		pr.say(words, best)
	}
}

func (pr *proposer) say(words string, best *Proposal) {
	if pr.tell != nil {
		pr.tell(Stage{Done: min(pr.done, pr.total), Total: pr.total, Words: words, Best: best})
	}
}

// evenEnough is the layout evenness that an offer must reach, or say why it does
// not: common practice asks for 0.70 to 0.75 in the field, which a layout of 0.85
// on paper comes to.
const evenEnough units.Ratio = 0.85
