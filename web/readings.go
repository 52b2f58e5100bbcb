package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"
	"github.com/paulmach/orb"

	"evenfall/internal/coverage"
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
	err = s.run(r.Context(), o, p, func(pic picture) error {
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
	o, _, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	text := ""
	err = s.run(r.Context(), o, p, func(pic picture) error {
		text = rateText(pic, orb.Point{x, y})
		return nil
	})
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

// rateText says what water there is at a place.
func rateText(pic picture, at orb.Point) string {
	here, ok := pic.field.RateAt(at)
	if !ok {
		return "no water here"
	}
	rate := pic.plan.Show.Rate(here.Rate)
	switch {
	case here.OnTarget:
		return fmt.Sprintf("%s, %s of the mean on %s", rate, pic.plan.Show.Percent(here.OfMean), pic.plan.AreaName(here.Surface))
	case here.Surface == coverage.Outside:
		return rate + " outside every area"
	default:
		return rate + " on " + pic.plan.AreaName(here.Surface)
	}
}

// estimateView is the field estimate of one area.
type estimateView struct {
	ID   plan.ID `json:"id"`
	Name string  `json:"name"`
	Text string  `json:"text"`
	P10  string  `json:"p10"`
	Off  string  `json:"off"`
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

// estimate answers with what takes too long for the drag path: the evenness to be
// expected in the field, and the scheduling coefficient by size of window.
func (s *Site) estimate(w http.ResponseWriter, r *http.Request) {
	o, _, p, err := s.opening(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	var list []estimateView
	var windows []windowsView
	err = s.compute(r.Context(), o.estimating, func(ctx context.Context) error {
		estimates, err := coverage.FieldEstimate(ctx, p, coverage.UsualSeed, coverage.UsualDraws, nil)
		if err != nil {
			return err
		}
		list = estimateViews(p, estimates)
		scheduling, err := coverage.SchedulingCoefficients(ctx, p)
		windows = windowsViews(p, scheduling)
		return err
	})
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, map[string]any{"areas": list, "scheduling": windows})
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

func estimateViews(p *plan.Plan, estimates []coverage.Estimate) []estimateView {
	list := make([]estimateView, 0, len(estimates))
	for _, e := range estimates {
		v := estimateView{
			ID:   e.ID,
			Name: p.AreaName(e.ID),
			P10:  p.Show.Percent(e.P10),
			Off:  p.Show.Percent(e.Off),
		}
		v.Text = fmt.Sprintf("%s in the field, one in ten below %s", p.Show.Percent(e.Mean), v.P10)
		list = append(list, v)
	}
	return list
}
