package web

import (
	"io"
	"math"
	"net/http"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-json-experiment/json/jsontext"

	"evenfall/internal/plan"
)

// historyMost is how many steps are listed at once.
const historyMost = 200

// historyStep is one line of the history.
type historyStep struct {
	Rev    int64  `json:"rev"`
	Label  string `json:"label"`
	At     string `json:"at"` // UTC, RFC 3339
	Undone bool   `json:"undone"`
	Number int64  `json:"number"`
	What   string `json:"what"` // what it changed, counted: "3 heads, 1 area"
}

// historyPoint is a kept state in the history.
type historyPoint struct {
	ID     int64          `json:"id"`
	Number int64          `json:"number"`
	Kind   plan.PointKind `json:"kind"`
	Name   string         `json:"name"`
	At     string         `json:"at"` // UTC, RFC 3339
}

// earlierState is an earlier document, to be looked at.
type earlierState struct {
	Label string         `json:"label"`
	At    string         `json:"at"` // UTC, RFC 3339
	Doc   jsontext.Value `json:"doc"`
}

// history lists the newest steps of a plan, or those before a number, oldest
// first, and with the newest the states that were kept.
func (s *Site) history(w http.ResponseWriter, r *http.Request) {
	id, before := chi.URLParam(r, "id"), int64(math.MaxInt64)
	said := r.URL.Query().Get("before")
	if said != "" {
		var err error
		if before, err = strconv.ParseInt(said, 10, 64); err != nil || before < 1 {
			s.fail(w, r, refuse(http.StatusBadRequest, "The history before step %q was asked for; give the number of a step.", said))
			return
		}
	}
	steps, older, err := s.Plans.HistoryPage(r.Context(), id, before, historyMost)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	list := make([]historyStep, 0, len(steps))
	for _, st := range steps {
		list = append(list, historyStep{st.Rev, st.Label, rfc(st.At), st.Undone, st.Number, st.Patch.Says()})
	}
	points := []historyPoint{}
	if said == "" {
		kept, err := s.Plans.Points(r.Context(), id)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		for _, p := range kept {
			points = append(points, pointView(p))
		}
	}
	s.reply(w, r, http.StatusOK, struct {
		Steps  []historyStep  `json:"steps"`
		Older  bool           `json:"older"`
		Points []historyPoint `json:"points"`
	}{list, older, points})
}

// rfc writes a time for the page's script.
func rfc(t time.Time) string {
	if t.IsZero() {
		return noTime
	}
	return t.UTC().Format(time.RFC3339)
}

// noTime stands for a time that is no longer kept as one; the page shows it as it is.
const noTime = "time unknown"

func pointView(p plan.Point) historyPoint {
	return historyPoint{p.ID, p.Number, p.Kind, p.Name, rfc(p.At)}
}

// stepState hands out the document after a step, to be looked at.
func (s *Site) stepState(w http.ResponseWriter, r *http.Request) {
	number, err := number(r, "number")
	if err != nil {
		s.fail(w, r, err)
		return
	}
	doc, st, err := s.Plans.At(r.Context(), chi.URLParam(r, "id"), number)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, earlierState{st.Label, rfc(st.At), doc})
}

// pointState hands out the document of a kept state, to be looked at.
func (s *Site) pointState(w http.ResponseWriter, r *http.Request) {
	point, err := number(r, "point")
	if err != nil {
		s.fail(w, r, err)
		return
	}
	doc, p, err := s.Plans.PointDoc(r.Context(), chi.URLParam(r, "id"), point)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, earlierState{p.Name, rfc(p.At), doc})
}

// back makes the step that brings a plan to an earlier state.
func (s *Site) back(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Step  *int64 `json:"step"`
		Point *int64 `json:"point"`
	}
	base, err := s.change(w, r, &asked)
	if err == nil && (asked.Step == nil) == (asked.Point == nil) {
		err = refuse(http.StatusUnprocessableEntity, "Say which step to go back to, or which kept point.")
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	id := chi.URLParam(r, "id")
	var p plan.Saved
	if asked.Step != nil {
		p, err = s.Plans.GoBack(r.Context(), id, base, *asked.Step)
	} else {
		p, err = s.Plans.GoBackTo(r.Context(), id, base, *asked.Point)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.desk.moved(p)
	w.Header().Set("ETag", tag(p.Rev))
	s.reply(w, r, http.StatusOK, stored{p.Rev, p.Doc, p.Undo, p.Redo})
}

// keepPoint keeps the state after a step under a name.
func (s *Site) keepPoint(w http.ResponseWriter, r *http.Request) {
	var asked struct {
		Step int64  `json:"step"`
		Name string `json:"name"`
	}
	base, err := s.change(w, r, &asked)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	p, err := s.Plans.KeepPoint(r.Context(), chi.URLParam(r, "id"), base, asked.Step, asked.Name)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusCreated, pointView(p))
}

// forgetPoint removes a state the user gave a name.
func (s *Site) forgetPoint(w http.ResponseWriter, r *http.Request) {
	base, err := s.change(w, r, nil)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	point, err := number(r, "point")
	if err == nil {
		err = s.Plans.ForgetPoint(r.Context(), chi.URLParam(r, "id"), base, point)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}

// change reads the revision a request says it changes, and what it asks for
// into v unless that is nil.
func (s *Site) change(w http.ResponseWriter, r *http.Request, v any) (int64, error) {
	base, err := revision(r)
	if err == nil {
		err = s.asked(w, r, v)
	}
	return base, err
}

// asked reads a small request into v, unless that is nil.
func (s *Site) asked(w http.ResponseWriter, r *http.Request, v any) error {
	if err := body(w, r, smallMost, jsonKind); err != nil {
		return err
	}
	b, err := io.ReadAll(r.Body)
	if err != nil || v == nil {
		return err
	}
	return readStrictly(b, v)
}

// number reads a number in the path of a request.
func number(r *http.Request, name string) (int64, error) {
	n, err := strconv.ParseInt(chi.URLParam(r, name), 10, 64)
	if err != nil {
		return 0, plan.ErrNoPoint
	}
	return n, nil
}
