package web

import (
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"
	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
	"evenfall/internal/design"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// opening returns the open plan of a request with its stored document read.
func (s *Site) opening(r *http.Request) (*opened, plan.Saved, *plan.Plan, error) {
	o := s.desk.take(chi.URLParam(r, "id"), s.Now())
	saved, err := o.stored(r.Context(), s.Plans)
	if err != nil {
		return nil, saved, nil, err
	}
	p, err := plan.Decode(saved.Doc)
	return o, saved, p, err
}

// board answers with what follows from the stored plan.
func (s *Site) board(w http.ResponseWriter, r *http.Request) {
	o, saved, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	if asked := r.URL.Query().Get("rev"); asked != "" && asked != strconv.FormatInt(saved.Rev, 10) {
		s.fail(w, r, &plan.Stale{Now: saved.Rev})
		return
	}
	var view *Board
	err = s.runAs(r.Context(), o, p, r.URL.Query().Get("as"), func(pic picture) error {
		pic.digs = r.URL.Query().Has("digs")
		view = newBoard(pic, saved.Rev)
		return nil
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, view)
}

// rate answers with the water at one place of the stored plan.
func (s *Site) rate(w http.ResponseWriter, r *http.Request) {
	x, errX := coordinate(r, "x")
	y, errY := coordinate(r, "y")
	for _, err := range []error{errX, errY} {
		if err != nil {
			s.fail(w, r, err)
			return
		}
	}
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	at, text := orb.Point{x, y}, ""
	if as := r.URL.Query().Get("as"); as != "" && as != asRunning {
		text, err = q.rateAs(as, at)
	} else {
		err = s.runAs(r.Context(), q.o, q.p, as, func(pic picture) error {
			text = rateText(q.p, pic.field, at)
			return nil
		})
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, map[string]string{"text": text})
}

// coordinate reads a coordinate in feet of the address.
func coordinate(r *http.Request, name string) (float64, error) {
	v, err := units.ParseNumber(r.URL.Query().Get(name))
	if err != nil {
		return 0, fmt.Errorf("%s: %w", name, err)
	}
	return v, nil
}

// waters is what tells the water at a place.
type waters interface {
	RateAt(at orb.Point) (coverage.Reading, bool)
}

// rateText says what water there is at a place.
func rateText(p *plan.Plan, w waters, at orb.Point) string {
	here, ok := w.RateAt(at)
	if !ok {
		return "no water here"
	}
	rate := p.Show.Rate(here.Rate)
	if here.OnTarget {
		return fmt.Sprintf("%s, %s of the mean on %s", rate, p.Show.Percent(here.OfMean), p.AreaName(here.Surface))
	}
	return rate + " " + coverage.OnSurface(p, here.Surface)
}

// rateAs is the water at a place under other circumstances: "field" or "windy".
func (q question) rateAs(kind string, at orb.Point) (string, error) {
	pic, err := q.asWorkedOut(kind)
	if err != nil {
		return "", err
	}
	return rateText(q.p, pic, at), nil
}

// estimateView is what one area comes to in the field and on a windy day.
type estimateView struct {
	ID    plan.ID `json:"id"`
	Name  string  `json:"name"`
	Text  string  `json:"text"`
	Mean  string  `json:"mean"` // evenness in the field
	P10   string  `json:"p10"`  // one installation in ten is below
	Off   string  `json:"off"`
	Windy string  `json:"windy"` // evenness on the windy day
}

// windowsView is the scheduling coefficient of one area by size of window.
type windowsView struct {
	ID      plan.ID      `json:"id"`
	Name    string       `json:"name"`
	Windows []windowView `json:"windows"`
}

type windowView struct {
	Share string `json:"share"` // of the area: 5 %
	Text  string `json:"text"`
}

// windowsViews puts the windows into words; areas without water have none.
func windowsViews(p *plan.Plan, all []coverage.Scheduling) []windowsView {
	list := []windowsView{}
	for _, s := range all {
		if len(s.Windows) == 0 {
			continue
		}
		v := windowsView{ID: s.ID, Name: p.AreaName(s.ID)}
		for _, w := range s.Windows {
			text := "no water"
			if w.SC > 0 {
				text = fmt.Sprintf("%.2f", w.SC)
			}
			v.Windows = append(v.Windows, windowView{p.Show.Percent(w.Share), text})
		}
		list = append(list, v)
	}
	return list
}

// estimateViews puts the estimates into words; the windy day has the same areas
// in the same order.
func estimateViews(p *plan.Plan, estimates []coverage.Estimate, windy *design.WindyDay) []estimateView {
	list := make([]estimateView, 0, len(estimates))
	for i, e := range estimates {
		v := estimateView{
			ID:    e.ID,
			Name:  p.AreaName(e.ID),
			Mean:  p.Show.Percent(e.Mean),
			P10:   p.Show.Percent(e.P10),
			Off:   p.Show.Percent(e.Off),
			Windy: p.Show.Percent(windy.Areas[i].DU),
		}
		v.Text = fmt.Sprintf("%s in the field, one in ten below %s", p.Show.Percent(e.Mean), v.P10)
		list = append(list, v)
	}
	return list
}
