package plan

import (
	"math"

	"github.com/go-json-experiment/json"
	"github.com/paulmach/orb"

	"evenfall/internal/geom"
)

type outCollection struct {
	Type     string       `json:"type"`
	Features []outFeature `json:"features"`
}

type outFeature struct {
	Type       string      `json:"type"`
	ID         string      `json:"id,omitzero"`
	Properties any         `json:"properties"`
	Geometry   outGeometry `json:"geometry"`
}

type outProperties struct {
	Name     string  `json:"name"`
	Kind     string  `json:"kind"` // lot, a kind of area, or a kind of barrier
	HeightFt float64 `json:"height_ft,omitzero"`
}

type outGeometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// ToGeoJSON writes the lot, the areas and the barriers of a plan as GeoJSON (RFC
// 7946) in longitude and latitude, to 1e-9 degrees; arcs become chords no
// farther than 1/256 ft from them. The same plan gives the same bytes. A plan
// without latitude and longitude is refused with a *Problem.
func ToGeoJSON(p *Plan) ([]byte, error) {
	plane, err := p.onEarth()
	if err != nil {
		return nil, err
	}
	out := outCollection{Type: "FeatureCollection", Features: []outFeature{}}
	if len(p.Site.Lot) > 0 {
		out.Features = append(out.Features, outFeature{
			Type: "Feature", Properties: outProperties{Name: "Lot", Kind: string(UseLot)},
			Geometry: plane.polygon(p.Site.Lot, nil),
		})
	}
	for _, id := range SortedIDs(p.Areas) {
		a := p.Areas[id]
		out.Features = append(out.Features, outFeature{
			Type: "Feature", ID: string(id), Properties: outProperties{Name: a.Name, Kind: string(a.Kind)},
			Geometry: plane.polygon(a.Outline, a.Holes),
		})
	}
	for _, id := range SortedIDs(p.Barriers) {
		b := p.Barriers[id]
		kind := b.Kind
		if kind == "" {
			kind = defaultBarrier
		}
		out.Features = append(out.Features, outFeature{
			Type: "Feature", ID: string(id), Properties: outProperties{b.Name, string(kind), float64(b.HeightFt)},
			Geometry: outGeometry{"LineString", plane.lonLats(b.Line.Points(), false)},
		})
	}
	doc, err := json.Marshal(out, json.Deterministic(true))
	if err != nil {
		return nil, problem("", "The outlines could not be written: %v.", err)
	}
	return append(doc, '\n'), nil
}

// polygon has its outline anticlockwise and its holes clockwise, as RFC 7946
// section 3.1.6 asks.
func (t *tangentPlane) polygon(outline geom.Outline, holes []geom.Outline) outGeometry {
	rings := [][][2]float64{t.ring(outline, orb.CCW)}
	for _, h := range holes {
		rings = append(rings, t.ring(h, orb.CW))
	}
	return outGeometry{"Polygon", rings}
}

func (t *tangentPlane) ring(o geom.Outline, way orb.Orientation) [][2]float64 {
	ring := o.Ring()
	return t.lonLats(orb.LineString(ring), ring.Orientation() != way)
}

// lonLats turns places on the plan into longitudes and latitudes.
func (t *tangentPlane) lonLats(places orb.LineString, reverse bool) [][2]float64 {
	out := make([][2]float64, len(places))
	for i, at := range places {
		ll := t.lonLat(at)
		if reverse {
			i = len(places) - 1 - i
		}
		out[i] = [2]float64{tidyDegrees(ll[0]), tidyDegrees(ll[1])}
	}
	return out
}

// tidyDegrees rounds to 1e-9 degrees, about 0.0004 ft.
func tidyDegrees(v float64) float64 { return math.Round(v*1e9)/1e9 + 0 }
