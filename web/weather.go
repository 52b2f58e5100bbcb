package web

import (
	"bytes"
	"fmt"
	"net/http"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
)

// weatherMost is the most a weather file may hold: thirty years of days.
const weatherMost = 4 << 20

// readWeather reads a user's weather file for the stored plan and answers with what it
// comes to. Nothing is kept: the page that takes it makes a step of the patch.
func (s *Site) readWeather(w http.ResponseWriter, r *http.Request) {
	b, err := sent(w, r, weatherMost, csvKind)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	saved, err := q.o.stored(r.Context(), s.Plans)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, weatherWords(q.p, saved.Doc, climate.ReadWeather(bytes.NewReader(b))))
}

func weatherWords(p *plan.Plan, doc []byte, f *climate.WeatherFile) *WeatherRead {
	v := &WeatherRead{Notes: orEmpty(f.Notes), Errors: []WeatherError{}, Months: []WaterClimate{}}
	for _, e := range f.Errors {
		says := sentence(e.Sentence)
		if e.Column != "" {
			says = "Column " + e.Column + ": " + says
		}
		v.Errors = append(v.Errors, WeatherError{e.Line, says})
	}
	one, many := "day", "days"
	if f.Monthly {
		one, many = "month", "months"
	}
	if n := len(v.Errors); n > 0 {
		v.Says = fmt.Sprintf("The file has %s. Mend %s and read it again; nothing is taken until then.",
			plan.Plural(n, "mistake", "mistakes"), plan.Choose(n, "it", "them"))
		return v
	}
	patch, notes, err := season.KeepWeather(p, f)
	v.Notes = append(v.Notes, orEmpty(notes)...)
	if err == nil {
		v.Months, err = monthsWith(doc, patch)
	}
	if err != nil {
		v.Says = sentence(err.Error())
		return v
	}
	v.Says = plan.Capital(plan.Plural(len(f.Records), one, many)) + " of weather read. Reference ET is reckoned from them month by month."
	v.Label, v.Patch = "Take the climate from a weather file", patchOf(patch)
	return v
}

// monthsWith is the climate that a stored plan has once a patch of it is taken.
func monthsWith(doc []byte, patch plan.Patch) ([]WaterClimate, error) {
	next, _, err := plan.Apply(doc, patch)
	if err != nil {
		return nil, err
	}
	p, err := plan.Decode(next)
	if err != nil {
		return nil, err
	}
	y, _, err := season.YearOf(p)
	return climateMonths(p.Show, y), err
}
