package plan

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/paulmach/orb"
)

// geoObject is any object of a GeoJSON text (RFC 7946, section 3). Members the
// standard does not know are passed over, as it asks.
type geoObject struct {
	Type        string         `json:"type"`
	ID          any            `json:"id"`
	Features    []*geoObject   `json:"features"`
	Geometry    *geoObject     `json:"geometry"`
	Geometries  []*geoObject   `json:"geometries"`
	Properties  map[string]any `json:"properties"`
	Coordinates jsontext.Value `json:"coordinates"`
	CRS         jsontext.Value `json:"crs"`
}

// geoPolygon is one polygon with what its feature says of it; the first ring is
// the outline, the rest are holes, in longitude and latitude.
type geoPolygon struct {
	name  string
	guess Use
	rings []orb.Ring
}

// geoReader gathers polygons and counts what is passed over.
type geoReader struct {
	polygons []geoPolygon
	corners  int
	points   int
	lines    int
	empty    int
	features int
}

// readGeoJSON reads the polygons of a text.
func readGeoJSON(data []byte) ([]geoPolygon, []string, error) {
	if p := survey(data, true); p != nil {
		return nil, nil, p
	}
	var top geoObject
	if err := json.Unmarshal(data, &top); err != nil {
		if isPicture(data) {
			return nil, nil, refuseImport("This is a picture, not outlines. On the board, use Trace a picture, with a PNG or a JPEG.")
		}
		return nil, nil, notGeoJSON(err)
	}
	if err := checkCRS(top.CRS); err != nil {
		return nil, nil, err
	}
	var r geoReader
	if err := r.object(&top, geoPolygon{}); err != nil {
		return nil, nil, err
	}
	left := r.leftOut()
	if len(r.polygons) == 0 {
		return nil, nil, refuseImport("There is no closed shape in this file. An outline is a Polygon or a MultiPolygon. %s", strings.Join(left, " "))
	}
	return r.polygons, left, nil
}

// isPicture tells a picture by the bytes such files begin with.
func isPicture(data []byte) bool {
	for _, magic := range []string{"\x89PNG", "\xff\xd8\xff", "GIF8", "BM", "RIFF", "II*\x00", "MM\x00*"} {
		if bytes.HasPrefix(data, []byte(magic)) {
			return true
		}
	}
	return len(data) > 12 && string(data[4:8]) == "ftyp" // HEIC, as telephones write
}

// notGeoJSON says in words why the text could not be taken apart.
func notGeoJSON(err error) error {
	var syn *jsontext.SyntacticError
	if errors.As(err, &syn) {
		return problem(string(syn.JSONPointer), "This is not a GeoJSON file: it breaks off being JSON near byte %d. Save it again as GeoJSON.", syn.ByteOffset)
	}
	var sem *json.SemanticError
	if errors.As(err, &sem) {
		at := string(sem.JSONPointer)
		if at == "" {
			at = "its beginning"
		}
		return problem(string(sem.JSONPointer), "This is not GeoJSON as RFC 7946 has it: the value at %s is of the wrong kind. Save it again as GeoJSON.", at)
	}
	return refuseImport("This cannot be read as GeoJSON. Save it again as GeoJSON.")
}

// checkCRS refuses the coordinate systems that older files may name. Since 2016
// a file names none and is in WGS 84; some programs still name that.
func checkCRS(crs jsontext.Value) error {
	var named struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	if len(crs) == 0 || crs.Kind() == 'n' {
		return nil
	}
	if err := json.Unmarshal(crs, &named); err == nil {
		name := strings.ToUpper(named.Properties.Name)
		for _, ok := range []string{"CRS84", "EPSG:4326", "EPSG::4326", "WGS84", "WGS 84"} {
			if strings.HasSuffix(name, ok) {
				return nil
			}
		}
	}
	return problem("/crs", "The file is in the coordinate system %s. Save it as longitude and latitude (WGS 84).", quoted(named.Properties.Name))
}

// object reads one object; about carries the name and guess of its feature.
func (r *geoReader) object(o *geoObject, about geoPolygon) error {
	if o == nil {
		r.empty++
		return nil
	}
	switch o.Type {
	case "FeatureCollection":
		for _, f := range o.Features {
			if err := r.object(f, about); err != nil {
				return err
			}
		}
		return nil
	case "Feature":
		r.features++
		return r.object(o.Geometry, geoPolygon{name: featureName(o, r.features), guess: guessByWords(o.Properties)})
	case "GeometryCollection":
		for _, g := range o.Geometries {
			if err := r.object(g, about); err != nil {
				return err
			}
		}
		return nil
	case "Point", "MultiPoint":
		r.points++
		return nil
	case "LineString", "MultiLineString":
		r.lines++
		return nil
	case "Polygon", "MultiPolygon":
		return r.shape(o, about)
	case "":
		return refuseImport("This is JSON, but not GeoJSON: something in it has no \"type\". Save it again as GeoJSON.")
	}
	return refuseImport("The file holds something of the type %s, which GeoJSON does not know. Save it again as GeoJSON.", quoted(o.Type))
}

// shape reads a Polygon or each part of a MultiPolygon.
func (r *geoReader) shape(o *geoObject, about geoPolygon) error {
	if about.name == "" {
		r.features++
		about.name = fmt.Sprintf("Shape %d", r.features)
	}
	var parts [][][][]float64
	var err error
	if o.Type == "Polygon" {
		parts = make([][][][]float64, 1)
		err = json.Unmarshal(o.Coordinates, &parts[0])
	} else {
		err = json.Unmarshal(o.Coordinates, &parts)
	}
	if err != nil {
		return refuseImport("%s has coordinates that are no %s: it takes a list of rings, each a list of [longitude, latitude]. Save it again as GeoJSON.", about.name, o.Type)
	}
	for i, part := range parts {
		g := about
		if len(parts) > 1 {
			g.name = fmt.Sprintf("%s (%d)", about.name, i+1)
		}
		if err := r.polygon(part, g); err != nil {
			return err
		}
	}
	return nil
}

// polygon reads the rings of one polygon.
func (r *geoReader) polygon(rings [][][]float64, g geoPolygon) error {
	if len(rings) == 0 || len(rings[0]) == 0 {
		r.empty++
		return nil
	}
	if len(r.polygons) == maxShapes {
		return refuseImport("There are more than %d shapes in this file. Cut it down to the property and what is on it.", maxShapes)
	}
	for _, ring := range rings {
		if r.corners += len(ring); r.corners > MaxVertices {
			return refuseImport("The shapes have more than %d corners together. Cut the file down to the property, or simplify its outlines.", MaxVertices)
		}
		out := make(orb.Ring, len(ring))
		for i, at := range ring {
			if len(at) < 2 || !(math.Abs(at[0]) < math.MaxFloat64 && math.Abs(at[1]) < math.MaxFloat64) {
				return refuseImport("%s has a corner that is not [longitude, latitude]. Save it again as GeoJSON.", g.name)
			}
			out[i] = orb.Point{at[0], at[1]}
		}
		if len(out) == 0 {
			return refuseImport("%s has a hole without corners. Save it again as GeoJSON.", g.name)
		}
		g.rings = append(g.rings, out)
	}
	r.polygons = append(r.polygons, g)
	return nil
}

// leftOut tells what was passed over.
func (r *geoReader) leftOut() []string {
	var out []string
	tell := func(n int, one, many string) {
		if n == 1 {
			out = append(out, "One "+one+" was left out.")
		} else if n > 1 {
			out = append(out, fmt.Sprintf("%d %s were left out.", n, many))
		}
	}
	tell(r.points, "point, which is no outline,", "points, which are no outlines,")
	tell(r.lines, "line, which is not closed,", "lines, which are not closed,")
	tell(r.empty, "feature without a shape", "features without a shape")
	return out
}
