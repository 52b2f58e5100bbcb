package web

import (
	"fmt"
	"io"
	"net/http"

	"evenfall/internal/geom"
	"evenfall/internal/plan"
	"evenfall/internal/units"
)

// shapeView is one imported shape for the chooser.
type shapeView struct {
	Name    string         `json:"name"`
	Guess   plan.Use       `json:"kind_guess"`
	Outline geom.Outline   `json:"outline"`
	Holes   []geom.Outline `json:"holes,omitempty"`
	Area    string         `json:"area"`
	Size    string         `json:"size"`
}

// originView is the place on the earth the shapes are drawn from.
type originView struct {
	Latitude  float64 `json:"lat"`
	Longitude float64 `json:"lon"`
}

// importGeoJSON reads outlines and answers with shapes on the plan's plane.
// Nothing is kept: the page asks what each shape is, then makes a step of them.
func (s *Site) importGeoJSON(w http.ResponseWriter, r *http.Request) {
	origin, err := importOrigin(r)
	if err == nil {
		err = body(w, r, geoJSONMost, geoKind, jsonKind)
	}
	if err != nil {
		s.fail(w, r, err)
		return
	}
	sys, err := shownIn(r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	b, err := io.ReadAll(r.Body)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	read, err := plan.FromGeoJSON(b, origin)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	shapes := make([]shapeView, 0, len(read.Shapes))
	for _, sh := range read.Shapes {
		shapes = append(shapes, shapeView{
			Name: sh.Name, Guess: sh.Guess, Outline: sh.Outline, Holes: sh.Holes,
			Area: sys.Area(sh.AreaSqFt),
			Size: fmt.Sprintf("%s x %s", sys.Length(sh.EastFt), sys.Length(sh.NorthFt)),
		})
	}
	s.reply(w, r, http.StatusOK, map[string]any{
		"shapes":   shapes,
		"origin":   originView{read.Origin.Latitude, read.Origin.Longitude},
		"left_out": orEmpty(read.LeftOut),
	})
}

// importOrigin reads where the plan's origin is from the address; nil when it
// does not say.
func importOrigin(r *http.Request) (*plan.Origin, error) {
	q := r.URL.Query()
	if !q.Has("lat") && !q.Has("lon") {
		return nil, nil // no origin is a choice, not a fault
	}
	lat, err := coordinate(r, "lat")
	if err != nil {
		return nil, err
	}
	lon, err := coordinate(r, "lon")
	if err != nil {
		return nil, err
	}
	o := plan.Origin{Latitude: lat, Longitude: lon}
	if q.Has("north") {
		if o.NorthDeg, err = coordinate(r, "north"); err != nil {
			return nil, err
		}
	}
	return &o, nil
}

// shownIn reads the system of units to show sizes in.
func shownIn(r *http.Request) (units.System, error) {
	switch sys := units.System(r.URL.Query().Get("show")); sys {
	case "", units.US:
		return units.US, nil
	case units.Metric:
		return sys, nil
	default:
		return "", refuse(http.StatusBadRequest, "show is us or metric.")
	}
}
