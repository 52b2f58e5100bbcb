package web

import (
	"context"
	"errors"
	"net/http"

	"evenfall/internal/arrange"
	"evenfall/internal/plan"
	"evenfall/internal/zones"
)

// turning is the step of the search, as a page shows it.
const turning = "Turning heads off the bed"

// turnOff answers with how the heads of other zones are kept off one area of the stored
// plan. Nothing is changed by it: the page that takes it makes a step of its patch.
func (s *Site) turnOff(w http.ResponseWriter, r *http.Request) {
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	area, o, err := arrange.KeepOffAsked(q.p, r.URL.Query().Get)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	o.ZoneMost = zones.MostFlow(q.p)
	s.job(w, r, q.o, func(ctx context.Context, g *stages) (any, error) {
		found, err := s.search.turnOff(ctx, q.p, area, o, g.stage(turning, 1))
		var no *arrange.Refusal
		if errors.As(err, &no) {
			return noTurnOff(q.p, q.rev, area, no), nil
		}
		if err != nil {
			return nil, err
		}
		return turnOffWords(q.p, q.rev, found), nil
	})
}

// noTurnOff says why nothing can be looked at.
func noTurnOff(p *plan.Plan, rev int64, area plan.ID, no *arrange.Refusal) *TurnOffView {
	return &TurnOffView{
		Rev: rev, Says: sentence(no.Sentence), At: no.At, Area: area, AreaName: plan.Capital(p.AreaName(area)),
		Changes: []TurnChange{}, Rows: []TurnRow{}, Notes: []string{}, Caution: arrange.Caution,
	}
}

// turnOffWords puts what was found into words.
func turnOffWords(p *plan.Plan, rev int64, found *arrange.TurnOff) *TurnOffView {
	v := &TurnOffView{
		Rev: rev, Offered: found.Offered, Says: sentence(found.Says), Area: found.Area, AreaName: plan.Capital(p.AreaName(found.Area)),
		Changes: []TurnChange{}, Rows: []TurnRow{}, Notes: orEmpty(found.Notes), Caution: arrange.Caution,
		Evaluations: weighed(found.Evaluations, "change", "changes"), Label: found.Label, Patch: patchOf(found.Patch),
	}
	for _, c := range found.Changes {
		from, to := stands(p, []arrange.Placed{c.From}), stands(p, []arrange.Placed{c.To})
		v.Changes = append(v.Changes, TurnChange{Head: c.To.ID, Says: c.Says, From: from[0], To: to[0]})
	}
	for _, row := range found.Rows(p) {
		one := TurnRow{Area: row.Area, Name: plan.Capital(p.AreaName(row.Area)), Readings: []BeforeAfter{}}
		for _, b := range row.Readings {
			one.Readings = append(one.Readings, BeforeAfter{b.ID, b.Label, b.Before, b.After, b.Change})
		}
		v.Rows = append(v.Rows, one)
	}
	return v
}
