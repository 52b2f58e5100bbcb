package plan

import (
	"math"

	"github.com/paulmach/orb"

	"evenfall/internal/units"
)

// Origin is the place on the earth where a plan has its (0, 0), and how the
// plan is turned there.
type Origin struct {
	Latitude  float64 `json:"latitude_deg"`  // WGS 84
	Longitude float64 `json:"longitude_deg"` // WGS 84
	NorthDeg  float64 `json:"north_deg"`     // true north in the plan, anticlockwise from y
}

// The WGS 84 ellipsoid (NIMA TR 8350.2, third edition, table 3.1).
const (
	earthRadius     = 6378137.0         // metres, semi-major axis
	earthFlattening = 1 / 298.257223563 // (a-b)/a
	earthEccSquared = earthFlattening * (2 - earthFlattening)
)

// tangentPlane is the plane that touches the ellipsoid at the origin, with east
// and north as its axes.
//
// A place goes onto it along the vertical of the origin: its geocentric
// coordinates X = N·cosφ·cosλ, Y = N·cosφ·sinλ, Z = N·(1-e²)·sinφ, with
// N = a/√(1-e²·sin²φ) the radius of curvature in the prime vertical, are taken
// relative to the origin's and turned into east and north there (ellipsoid and
// equations: NIMA TR 8350.2, chapters 3 and 4; the local east-north frame is the
// one of every geodesy text).
// Heights are taken as 0: a plan is flat and at sea level.
//
// Seen from above, the plane shortens a distance d from the origin by about
// d³/(6R²): less than 0.0001 ft at 1 mile and 0.02 ft at 10 km, at every
// latitude. A property h above the sea is (1 + h/R) times larger than this
// says: 0.3 in a 100 ft at 5,000 ft.
type tangentPlane struct {
	sinLat, cosLat, lon float64 // of the origin, radians
	east, north         float64 // metres a radian of longitude, N·cosφ, and latitude, M
	z                   float64 // of the origin, metres; its X and Y lie at the distance east from the axis
	sinNorth, cosNorth  float64 // turn of the plan
}

// plane returns the tangent plane of an origin.
func (o Origin) plane() tangentPlane {
	var t tangentPlane
	t.sinLat, t.cosLat = math.Sincos(o.Latitude * math.Pi / 180)
	t.lon = o.Longitude * math.Pi / 180
	w := 1 - earthEccSquared*float64(t.sinLat*t.sinLat)
	prime := earthRadius / math.Sqrt(w)
	t.east = prime * t.cosLat
	t.north = earthRadius * (1 - earthEccSquared) / (w * math.Sqrt(w))
	t.z = prime * (1 - earthEccSquared) * t.sinLat
	t.sinNorth, t.cosNorth = math.Sincos(o.NorthDeg * math.Pi / 180)
	return t
}

// feet puts a longitude and latitude on the plan, in feet.
func (t *tangentPlane) feet(lonLat orb.Point) orb.Point {
	e, n := t.eastNorth(lonLat[0]*math.Pi/180, lonLat[1]*math.Pi/180)
	// The plan's north is turned anticlockwise by NorthDeg from its y.
	x := float64(e*t.cosNorth) - float64(n*t.sinNorth)
	y := float64(e*t.sinNorth) + float64(n*t.cosNorth)
	return orb.Point{x / units.MetresPerFoot, y / units.MetresPerFoot}
}

// eastNorth is where a place stands from the origin, in metres.
func (t *tangentPlane) eastNorth(lon, lat float64) (e, n float64) {
	sin, cos := math.Sincos(lat)
	prime := earthRadius / math.Sqrt(1-earthEccSquared*float64(sin*sin))
	sinD, cosD := math.Sincos(lon - t.lon)
	e = prime * cos * sinD
	out := float64(prime*cos*cosD) - t.east // away from the axis, in the origin's meridian
	up := float64(prime*(1-earthEccSquared)*sin) - t.z
	return e, float64(up*t.cosLat) - float64(out*t.sinLat)
}

// lonLat is the longitude and latitude of a place on the plan: feet undone, by
// correcting a first guess with the origin's radii of curvature. Each round
// gains some three digits on a property and one on the widest plan.
func (t *tangentPlane) lonLat(feet orb.Point) orb.Point {
	x, y := feet[0]*units.MetresPerFoot, feet[1]*units.MetresPerFoot
	e := float64(x*t.cosNorth) + float64(y*t.sinNorth)
	n := float64(y*t.cosNorth) - float64(x*t.sinNorth)
	lon, lat := t.lon, math.Atan2(t.sinLat, t.cosLat)
	for range 12 {
		atE, atN := t.eastNorth(lon, lat)
		lon += (e - atE) / t.east
		lat += (n - atN) / t.north
	}
	return orb.Point{lon * 180 / math.Pi, lat * 180 / math.Pi}
}
