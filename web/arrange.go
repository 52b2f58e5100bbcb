package web

import (
	"context"
	"errors"
	"net/http"

	"evenfall/internal/arrange"
	"evenfall/internal/coverage"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
	"evenfall/internal/season"
	"evenfall/internal/trench"
	"evenfall/internal/zones"
)

// proposers are the searches the site asks. Tests put others in their place.
type proposers struct {
	arrange func(context.Context, *plan.Plan, arrange.Options, func(arrange.Stage)) (*arrange.Proposal, error)
	improve func(context.Context, *plan.Plan, arrange.Options, func(done, total int)) (*arrange.Improvement, error)
	group   func(context.Context, *plan.Plan, zones.Options, func(done, total int)) (*zones.Offer, error)
	route   func(context.Context, *plan.Plan, trench.Options, func(done, total int)) (*trench.Proposal, error)
	water   func(context.Context, *plan.Plan, []coverage.Estimate, coverage.Progress) (*season.Program, error)
	turnOff func(context.Context, *plan.Plan, plan.ID, arrange.Options, func(done, total int)) (*arrange.TurnOff, error)

	audit    func(context.Context, *plan.Plan, plan.ID) (*proof.Audited, error)
	retrofit func(context.Context, *plan.Plan, []coverage.Estimate, coverage.Progress) (*proof.RetrofitPlan, error)
}

func ourProposers() proposers {
	return proposers{arrange.Propose, arrange.Improve, zones.Propose, trench.Propose, season.Work, arrange.KeepOff, proof.AuditOf, proof.Retrofit}
}

// The steps of the searches, as a page shows them.
const (
	arranging = "Setting out heads and weighing layouts"
	mending   = "Trying changes, one by one"
	grouping  = "Weighing groupings"
)

// arrange answers with layouts for planting areas of the stored plan, and while it
// seeks with the best so far. Nothing is changed by it: the page that takes an
// offer makes a step of its patch.
func (s *Site) arrange(w http.ResponseWriter, r *http.Request) {
	q, o, err := arrangeAsked(s, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		return s.arranged(ctx, q, o, g)
	})
}

// arrangeAsked reads the question of an arrangement or of an improvement.
func arrangeAsked(s *Site, r *http.Request) (question, arrange.Options, error) {
	q, err := s.question(r)
	if err != nil {
		return q, arrange.Options{}, err
	}
	o, err := arrange.Asked(q.p, r.URL.Query().Get)
	return q, o, err
}

func (s *Site) arranged(ctx context.Context, q question, o arrange.Options, g *stages) (any, error) {
	words := layoutWords{p: q.p, rev: q.rev, maps: mapsOf(q.p)}
	found, err := s.search.arrange(ctx, q.p, o, func(t arrange.Stage) {
		if t.Best != nil {
			best := t.Best
			g.best(func() any { return words.view(ctx, best, false) })
		}
		step := t.Words
		if step == "" {
			step = arranging
		}
		g.tell(step, float64(t.Done)/float64(max(t.Total, 1)))
	})
	var no *arrange.Refusal
	switch {
	case errors.As(err, &no):
		return words.refusal(no), nil
	case errors.Is(err, context.DeadlineExceeded) && found != nil && s.life.Err() == nil:
		v := words.view(context.WithoutCancel(ctx), found, false) // what it has
		v.Notes = append(v.Notes, "The search took as long as one may and was stopped. These are the best it had found.")
		return v, nil
	case err != nil:
		return nil, err
	}
	return words.view(ctx, found, true), nil
}

// improve answers with the fewest changes that mend the stored plan.
func (s *Site) improve(w http.ResponseWriter, r *http.Request) {
	q, o, err := arrangeAsked(s, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	o.ZoneMost = zones.MostFlow(q.p)
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		found, err := s.search.improve(ctx, q.p, o, g.stage(mending, 1))
		var no *arrange.Refusal
		if errors.As(err, &no) {
			return noMends(q.rev, no), nil
		}
		if err != nil {
			return nil, err
		}
		return mendWords(q.p, q.rev, found), nil
	})
}

// group answers with an offer of which heads of the stored plan share a valve.
func (s *Site) group(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	o, err := zones.Asked(q.p, r.URL.Query().Get)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		found, err := s.search.group(ctx, q.p, o, g.stage(grouping, 1))
		var no *zones.Refusal
		if errors.As(err, &no) {
			return noGroups(q.rev, no), nil
		}
		if err != nil {
			return nil, err
		}
		return groupWords(q.p, q.rev, found), nil
	})
}
