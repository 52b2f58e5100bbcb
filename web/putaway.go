package web

import (
	"errors"
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"evenfall/internal/plan"
	"evenfall/web/view"
)

// copyPlan makes a new plan of one that is there, under the name asked for.
func (s *Site) copyPlan(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Name string `json:"name"`
	}
	err := s.asked(w, r, &asked)
	if err == nil && strings.TrimSpace(asked.Name) == "" {
		err = refuse(http.StatusUnprocessableEntity, "Give the copy a name.")
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := s.Plans.Copy(r.Context(), chi.URLParam(r, "id"), asked.Name)
	s.made(w, r, p, err)
}

// made answers with a plan that was just made.
func (s *Site) made(w http.ResponseWriter, r *http.Request, p plan.Saved, err error) {
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Location", "/plans/"+p.ID)
	s.reply(w, r, http.StatusCreated, map[string]string{"id": p.ID})
}

func (s *Site) archive(w http.ResponseWriter, r *http.Request)   { s.putAway(w, r, true) }
func (s *Site) unarchive(w http.ResponseWriter, r *http.Request) { s.putAway(w, r, false) }

// putAway puts a plan away or brings it back.
func (s *Site) putAway(w http.ResponseWriter, r *http.Request, away bool) {
	base, err := s.change(w, r, nil)
	if err == nil {
		err = s.Plans.Archive(r.Context(), chi.URLParam(r, "id"), base, away)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

// heldBy tells which backup holds a plan, before it is deleted.
func (s *Site) heldBy(w http.ResponseWriter, r *http.Request) {
	at, asNow, err := s.Plans.HeldBy(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		s.fail(w, r, err)
		return
	}
	answer := struct {
		At    string `json:"at"`     // RFC 3339; "" when no backup holds it
		AsNow bool   `json:"as_now"` // as the plan is now
	}{AsNow: asNow}
	if !at.IsZero() {
		answer.At = rfc(at)
	}
	s.reply(w, r, http.StatusOK, answer)
}

// recoverPlan makes a new plan of the newest state of a damaged one that is
// still whole.
func (s *Site) recoverPlan(w http.ResponseWriter, r *http.Request) {
	if err := s.asked(w, r, nil); err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := s.Plans.Recover(r.Context(), chi.URLParam(r, "id"))
	s.made(w, r, p, err)
}

// damagedPage says that a plan is damaged and what of it can be brought back.
func (s *Site) damagedPage(w http.ResponseWriter, r *http.Request, damage *plan.Damaged) {
	m := view.DamagedModel{ID: damage.ID, Reason: damage.Reason, DataPath: s.Data}
	good, err := s.Plans.LastGood(r.Context(), damage.ID)
	var none *plan.Damaged
	switch {
	case errors.As(err, &none):
	case err != nil:
		s.fail(w, r, err)
		return
	default:
		p, err := plan.Decode(good.Doc)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		m.Name = p.Name
		m.Good = &view.GoodState{
			Number: good.Step.Number, Label: good.Step.Label, At: rfc(good.Step.At), AtText: clock(good.Step.At),
			Lost: plan.Plural(int(good.Steps), "later step", "later steps"), Whole: good.Steps == 0,
		}
	}
	s.show(w, r, http.StatusGone, view.Damaged(m))
}
