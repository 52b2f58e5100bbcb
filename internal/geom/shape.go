package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	sf "github.com/peterstace/simplefeatures/geom"
)

// toShape gives the library a snapped copy. Rings that snapping leaves without
// area are dropped; a coordinate that is not finite or beyond Limit is refused.
func toShape(mp orb.MultiPolygon) (sf.Geometry, error) {
	polys := make([]sf.Polygon, 0, len(mp))
	for _, poly := range mp {
		var rings []sf.LineString
		for i, r := range poly {
			coords, err := snappedRing(r)
			if err != nil {
				return sf.Geometry{}, err
			}
			if coords == nil {
				if i == 0 {
					break
				}
				continue
			}
			rings = append(rings, sf.NewLineString(sf.NewSequence(coords, sf.DimXY)))
		}
		if len(rings) > 0 {
			polys = append(polys, sf.NewPolygon(rings))
		}
	}
	if len(polys) == 1 {
		return polys[0].AsGeometry(), nil
	}
	return sf.NewMultiPolygon(polys).AsGeometry(), nil
}

// snappedRing returns x, y, x, y … closed, or nil when nothing is left.
func snappedRing(r orb.Ring) ([]float64, error) {
	pts := make([]orb.Point, 0, len(r)+1)
	for _, p := range r {
		if !(math.Abs(p[0]) <= 2*Limit) || !(math.Abs(p[1]) <= 2*Limit) {
			return nil, fmt.Errorf("a corner at %v, %v is not on the plan", p[0], p[1])
		}
		q := Snap(p)
		if len(pts) == 0 || pts[len(pts)-1] != q {
			pts = append(pts, q)
		}
	}
	for len(pts) > 1 && pts[0] == pts[len(pts)-1] {
		pts = pts[:len(pts)-1]
	}
	if len(pts) < 3 {
		return nil, nil
	}
	pts = append(pts, pts[0])
	if signedArea(pts) == 0 {
		return nil, nil
	}
	coords := make([]float64, 0, 2*len(pts))
	for _, p := range pts {
		coords = append(coords, p[0], p[1])
	}
	return coords, nil
}

// fromShape keeps the polygons of a result and leaves out the points and lines
// where shapes only touched. Outlines run anticlockwise, holes clockwise.
func fromShape(g sf.Geometry) orb.MultiPolygon {
	var out orb.MultiPolygon
	switch {
	case g.IsPolygon():
		out = appendPolygon(out, g.MustAsPolygon())
	case g.IsMultiPolygon():
		for _, p := range g.MustAsMultiPolygon().Dump() {
			out = appendPolygon(out, p)
		}
	case g.IsGeometryCollection():
		for _, part := range g.MustAsGeometryCollection().Dump() {
			out = append(out, fromShape(part)...)
		}
	}
	return out
}

func appendPolygon(out orb.MultiPolygon, p sf.Polygon) orb.MultiPolygon {
	if p.IsEmpty() {
		return out
	}
	var poly orb.Polygon
	for i, ls := range p.DumpRings() {
		seq := ls.Coordinates()
		r := make(orb.Ring, seq.Length())
		for k := range r {
			xy := seq.GetXY(k)
			r[k] = orb.Point{xy.X, xy.Y}
		}
		way := orb.Orientation(orb.CCW)
		if i > 0 {
			way = orb.CW
		}
		poly = append(poly, turned(r, way))
	}
	return append(out, poly)
}
