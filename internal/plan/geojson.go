package plan

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/geom"
	"evenfall/internal/units"
)

// Outlines are the closed shapes of a GeoJSON text, on the plane of a plan.
type Outlines struct {
	Origin  Origin        `json:"origin"`
	Shapes  []ImportShape `json:"shapes"`             // in the order of the text
	LeftOut []string      `json:"left_out,omitempty"` // what was passed over, in sentences
}

// ImportShape is one polygon of the text.
type ImportShape struct {
	Name     string         `json:"name"`
	Guess    Use            `json:"kind_guess"` // what it seems to be; the user decides
	Outline  geom.Outline   `json:"outline"`
	Holes    []geom.Outline `json:"holes,omitempty"`
	AreaSqFt units.SqFeet   `json:"area_sqft"`
	EastFt   units.Feet     `json:"east_ft"`  // extent along x
	NorthFt  units.Feet     `json:"north_ft"` // extent along y
}

// Use is what an imported shape becomes: one of the kinds of area, the lot, or
// nothing.
type Use string

// The uses that are not kinds of area.
const (
	UseLot  Use = "lot"  // the property line
	UseSkip Use = "skip" // leave it out
)

// maxShapes is how many shapes one import may bring: a chooser of more is of no
// use to anybody.
const maxShapes = 2_000

// widestImport is how far, in degrees, shapes may lie apart before they are
// taken for something other than a property: about 7 miles of latitude.
const widestImport = 0.1

// refuseImport makes the *Problem of an import that is not taken.
func refuseImport(format string, args ...any) error {
	return problem("", format, args...)
}

// FromGeoJSON reads the polygons of a GeoJSON text (RFC 7946: a feature
// collection, a feature or a geometry, in longitude and latitude) onto the plane
// that touches the earth at the origin; see Origin. Without an origin the
// south-west corner of the shapes becomes (0, 0). Coordinates are rounded to
// 0.0001 ft. Points and lines are passed over and told in LeftOut; anything
// wrong, such as an outline that crosses itself, keeps all of it out and comes
// back as a *Problem.
func FromGeoJSON(data []byte, origin *Origin) (*Outlines, error) {
	polygons, left, err := readGeoJSON(data)
	if err != nil {
		return nil, err
	}
	bound, err := degreesBound(polygons)
	if err != nil {
		return nil, err
	}
	if origin == nil {
		origin = &Origin{Latitude: bound.Min[1], Longitude: bound.Min[0]}
	}
	if err := origin.check(bound); err != nil {
		return nil, err
	}
	out := &Outlines{Origin: *origin, LeftOut: left}
	plane := origin.plane()
	for _, g := range polygons {
		s, err := g.onto(&plane)
		if err != nil {
			return nil, err
		}
		out.Shapes = append(out.Shapes, s)
	}
	guessByPlace(out.Shapes)
	return out, nil
}

// degreesBound checks that every number is a longitude or latitude and that all
// of them are of one property.
func degreesBound(polygons []geoPolygon) (orb.Bound, error) {
	bound := polygons[0].rings[0].Bound()
	for _, g := range polygons {
		for _, ring := range g.rings {
			for _, at := range ring {
				if err := checkDegrees(g.name, at); err != nil {
					return orb.Bound{}, err
				}
				bound = bound.Extend(at)
			}
		}
	}
	if bound.Max[0]-bound.Min[0] > 180 {
		return orb.Bound{}, refuseImport("The shapes lie on both sides of the 180° meridian. Bring them in one side at a time.")
	}
	wide := (bound.Max[0] - bound.Min[0]) * math.Cos(bound.Center()[1]*math.Pi/180)
	if high := bound.Max[1] - bound.Min[1]; wide > widestImport || high > widestImport {
		return orb.Bound{}, refuseImport("The shapes lie %.3g° apart, more than one property does. Cut the file down to the property; if its numbers are feet or metres, save it as longitude and latitude (WGS 84).",
			max(wide, high))
	}
	return bound, nil
}

// projectedFrom is where a number is surely no angle: map projections count
// metres or feet in the thousands.
const projectedFrom = 1000

// checkDegrees refuses a place that is not on the earth, with the likeliest
// reason.
func checkDegrees(name string, at orb.Point) error {
	lon, lat := at[0], at[1]
	switch {
	case math.Abs(lon) >= projectedFrom || math.Abs(lat) >= projectedFrom:
		return refuseImport("%s has the coordinates %.6g, %.6g: these look like metres or feet of a map projection, not degrees. Save the file as longitude and latitude (WGS 84).", name, lon, lat)
	case math.Abs(lat) > 90 && math.Abs(lat) <= 180 && math.Abs(lon) <= 90:
		return refuseImport("%s has the coordinates %.6g, %.6g, and no latitude is beyond 90°. The two seem to be swapped: GeoJSON has longitude first.", name, lon, lat)
	case math.Abs(lon) > 180 || math.Abs(lat) > 90:
		return refuseImport("%s has the coordinates %.6g, %.6g: longitude runs from -180° to 180° and latitude from -90° to 90°. Save the file as longitude and latitude (WGS 84).", name, lon, lat)
	case math.Abs(lat) > 85:
		return refuseImport("%s lies at latitude %.6g°, too near the pole to draw a property there. Check that longitude stands first.", name, lat)
	}
	return nil
}

// check refuses an origin that is no place, or too far from the shapes.
func (o Origin) check(bound orb.Bound) error {
	if !(math.Abs(o.Latitude) <= 85 && math.Abs(o.Longitude) <= 180 && math.Abs(o.NorthDeg) <= 360) {
		return refuseImport("The plan's place (latitude %.6g°, longitude %.6g°) cannot be used. Give the site a latitude from -85° to 85° and a longitude from -180° to 180°.", o.Latitude, o.Longitude)
	}
	at := orb.Point{o.Longitude, o.Latitude}
	far := bound.Extend(at)
	wide := (far.Max[0] - far.Min[0]) * math.Cos(o.Latitude*math.Pi/180)
	if high := far.Max[1] - far.Min[1]; wide > 2*widestImport || high > 2*widestImport {
		return refuseImport("The shapes lie about %.3g° from the plan's place (latitude %.6g°, longitude %.6g°). Check the site's latitude and longitude, or import into a new plan.",
			max(wide, high), o.Latitude, o.Longitude)
	}
	return nil
}

// onto puts a polygon on the plane and checks it.
func (g geoPolygon) onto(plane *tangentPlane) (ImportShape, error) {
	s := ImportShape{Name: g.name, Guess: g.guess, Outline: plane.outline(g.rings[0])}
	for _, hole := range g.rings[1:] {
		s.Holes = append(s.Holes, plane.outline(hole))
	}
	var f *geom.Fault
	if err := geom.ValidatePolygon(s.Outline, s.Holes); errors.As(err, &f) {
		at := plane.lonLat(f.At)
		return s, refuseImport("%s cannot be used as an outline. %s The place is near longitude %.6f°, latitude %.6f°.", g.name, f.Sentence, at[0], at[1])
	}
	b := s.Outline.Bound()
	s.EastFt, s.NorthFt = units.Feet(b.Max[0]-b.Min[0]), units.Feet(b.Max[1]-b.Min[1])
	poly, err := geom.Polygon(s.Outline, s.Holes)
	if err != nil {
		return s, fmt.Errorf("plan: %s: %w", g.name, err)
	}
	s.AreaSqFt = units.SqFeet(geom.Area(orb.MultiPolygon{poly}))
	return s, nil
}

// outline puts a ring on the plane: the closing corner and corners that repeat
// the one before, as real files have them, left out.
func (t *tangentPlane) outline(ring orb.Ring) geom.Outline {
	out := make(geom.Outline, 0, len(ring))
	for _, lonLat := range ring {
		at := t.feet(lonLat)
		at = orb.Point{tidyFeet(at[0]), tidyFeet(at[1])}
		if n := len(out); n == 0 || geom.Snap(out[n-1].Point()) != geom.Snap(at) {
			out = append(out, geom.Vertex{X: at[0], Y: at[1]})
		}
	}
	for len(out) > 1 && geom.Snap(out[0].Point()) == geom.Snap(out[len(out)-1].Point()) {
		out = out[:len(out)-1]
	}
	return out
}

// tidyFeet rounds to 0.0001 ft, 2.7e-10 degrees of latitude.
func tidyFeet(v float64) float64 { return math.Round(v*1e4)/1e4 + 0 }
