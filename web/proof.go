package web

import (
	"context"
	"net/http"
	"strconv"

	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/proof"
)

// The steps of the jobs of proof, as a page shows them.
const (
	auditing    = "Holding the catches to what each head would bring"
	retrofitted = "Working out each zone as it was found and as it would be"
)

// proof answers with what was tested, found and measured, beside what is predicted.
func (s *Site) proof(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	v, err := s.proven(r.Context(), q)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, v)
}

// proven is the proof of a question, worked out now unless it is kept from before.
func (s *Site) proven(ctx context.Context, q question) (*ProofView, error) {
	a := q.o.recall(q.rev)
	if a.proof != nil {
		return a.proof, nil
	}
	var d *design.Design
	err := s.run(ctx, q.o, q.p, func(pic picture) error {
		d = pic.design // shared by then, and changed by nobody
		return nil
	})
	if err != nil {
		return nil, err
	}
	err = s.within(ctx, computeMost, []chan struct{}{s.cores}, func(context.Context) error {
		a.proof = proofWords(q.p, q.rev, d)
		return nil
	})
	if err != nil {
		return nil, err
	}
	q.o.remember(a)
	return a.proof, nil
}

// audit answers with one audit reckoned: its figures, what was predicted at the same
// cans, and which heads are at fault. Nothing is changed by it: the page that takes the
// uniformity into the watering plan makes a step of its patch.
func (s *Site) audit(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	id := plan.ID(r.URL.Query().Get("audit"))
	if !hasAudit(q.p, id) {
		s.fail(w, r, refuse(http.StatusNotFound, "The plan has no audit “%s”. It may have been taken away.", clipped(string(id))))
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		a := q.o.recall(q.rev)
		if a.audit != nil && a.audit.ID == id {
			return a.audit, nil
		}
		g.tell(auditing, 0)
		found, err := s.search.audit(ctx, q.p, id)
		if stopped := ctx.Err(); stopped != nil {
			return nil, stopped
		}
		if err != nil {
			return nil, refuse(http.StatusUnprocessableEntity, "%s", sentence(err.Error()))
		}
		a.audit = auditWords(q.rev, found)
		q.o.remember(a)
		return a.audit, nil
	})
}

// hasAudit reports whether a plan has an audit; "" is the one of older documents.
func hasAudit(p *plan.Plan, id plan.ID) bool {
	if id == "" {
		return len(p.Proof.Cans) > 0
	}
	_, ok := p.Proof.Audits[id]
	return ok
}

// cans answers with a layout of catch cans for an area. Nothing is changed by it.
func (s *Site) cans(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	get := r.URL.Query().Get
	by, count := get("by"), 0
	if by == "" {
		by = proof.CansByGrid
	}
	if said := get("count"); said != "" {
		if count, err = strconv.Atoi(said); err != nil {
			s.fail(w, r, refuse(http.StatusBadRequest, "The number of cans is a whole number such as 24, and the request says “%s”.", clipped(said)))
			return
		}
	}
	var v *CansView
	err = s.within(r.Context(), computeMost, []chan struct{}{s.cores}, func(context.Context) error {
		offer, err := proof.OfferCans(q.p, plan.ID(get("area")), by, count)
		if err != nil {
			return refuse(http.StatusUnprocessableEntity, "%s", sentence(err.Error()))
		}
		v = cansWords(q.p, q.rev, offer)
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, v)
}

// retrofit answers with what mending an old system would gain. Nothing is changed by it.
func (s *Site) retrofit(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		found, err := s.search.retrofit(ctx, q.p, q.estimates(), g.stage(retrofitted, 1))
		if stopped := ctx.Err(); stopped != nil {
			return nil, stopped
		}
		if err != nil {
			return noRetrofit(q.rev, sentence(err.Error())), nil
		}
		return retrofitWords(q.rev, found), nil
	})
}
