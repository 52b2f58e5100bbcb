package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"net/http"

	"evenfall/internal/climate"
	"evenfall/internal/plan"
	"evenfall/internal/season"
	"evenfall/internal/units"
)

// weatherMost is the most a weather file may hold: thirty years of days.
const weatherMost = 4 << 20

// readWeather reads a user's weather file for the stored plan and answers with what it
// comes to. Nothing is kept: the page that takes it makes a step of the patch.
func (s *Site) readWeather(w http.ResponseWriter, r *http.Request) {
	if err := body(w, r, weatherMost, csvKind); err != nil {
		s.fail(w, r, err)
		return
	}
	b, err := io.ReadAll(r.Body)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	q, err := s.question(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	s.reply(w, r, http.StatusOK, weatherWords(q.p, climate.ReadWeather(bytes.NewReader(b))))
}

func weatherWords(p *plan.Plan, f *climate.WeatherFile) *WeatherRead {
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
	y, notes, err := yearOfWeather(p, f)
	v.Notes = append(v.Notes, orEmpty(notes)...)
	if err != nil {
		v.Says = sentence(err.Error())
		return v
	}
	sum := units.Inches(0)
	for _, m := range y.Months {
		sum += m.ET
	}
	v.Says = fmt.Sprintf("%s read. They come to %s of reference ET a year.", plan.Capital(plan.Plural(len(f.Records), one, many)), depthOf(p.Show, sum))
	v.Months = climateMonths(p.Show, y)
	v.Label = "Take the climate from a weather file"
	v.Patch = weatherPatch(y)
	return v
}

// yearOfWeather is the year of a file at the plan's site; months it lacks are those the
// plan has.
func yearOfWeather(p *plan.Plan, f *climate.WeatherFile) (climate.Year, []string, error) {
	if p.Site.Latitude == nil {
		return climate.Year{}, nil, errors.New("reference ET is reckoned with the latitude of the site; give it one in the plan's settings first")
	}
	at := climate.Place{LatitudeDeg: *p.Site.Latitude}
	if z := p.Site.ElevationFt; z != nil {
		at.ElevationM = z.Metres()
	}
	var base *climate.Year
	if y, peakOnly, err := season.YearOf(p); err == nil && !peakOnly {
		base = &y
	}
	return f.Year(at, base)
}

func weatherPatch(y climate.Year) json.RawMessage {
	var et, rain []float64
	for _, m := range y.Months {
		et = append(et, math.Round(float64(m.ET)*1000)/1000)
		rain = append(rain, math.Round(float64(m.Rain)*1000)/1000)
	}
	return wateringPatch(map[string]any{"et_in": et, "rain_in": rain, "et_from": y.Source})
}
